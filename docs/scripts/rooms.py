"""Makes docs/rooms.svg and the table of rooms in docs/architecture.md from the package's own imports."""

import ast
import sys
import tomllib
from html import escape
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from pages import markdown, put

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "simengine"
PICTURE = ROOT / "docs" / "rooms.svg"

CELL = 24
LEFT, TOP = 150, 118
"""Room for the names of rows and columns [px]."""
BANDS = ("#eef2f5", "#ffffff")
"""Rooms of one layer share a band."""
INK, USED, UPWARD = "#24313a", "#2f6f8f", "#b5482f"


def layers() -> list[list[str]]:
    """Return the rooms from the top down; those of one layer do not use each other."""
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    contracts = tomllib.loads(text)["tool"]["importlinter"]["contracts"]
    order = next(contract["layers"] for contract in contracts if contract["type"] == "layers")
    return [[room.strip() for room in layer.split("|")] for layer in order if layer != "__main__"]


def uses() -> set[tuple[str, str]]:
    """Return every pair of rooms of which the first uses the second."""
    found = set()
    known = {room for layer in layers() for room in layer}
    for path in sorted(PACKAGE.rglob("*.py")):
        room = path.relative_to(PACKAGE).with_suffix("").parts[0]
        if room in known:
            found |= {(room, other) for other in used_by(path) & known - {room}}
    return found


def used_by(path: Path) -> set[str]:
    """Return the rooms that a module imports from, wherever in it the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            home = (node.module or "").split(".")
            if home[0] == "simengine":
                found |= {home[1]} if len(home) > 1 else {name.name for name in node.names}
    return found


def purpose(room: str) -> str:
    """Return the sentence that a room opens with."""
    home = PACKAGE / room / "__init__.py"
    path = home if home.is_file() else PACKAGE / f"{room}.py"
    return (
        (ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or "")
        .split("\n\n")[0]
        .replace("\n", " ")
    )


def picture() -> str:
    """Return the drawing: a row for each room, a filled cell for each room that it uses."""
    order = layers()
    rooms = [room for layer in order for room in layer]
    side = CELL * len(rooms)
    drawn = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {LEFT + side + 48} {TOP + side + 8}" '
        f'font-family="sans-serif" font-size="13" fill="{INK}" role="img">',
        "<title>Which room of the package uses which: each row a room, each filled cell one it uses</title>",
    ]
    first = 0
    for number, layer in enumerate(order):
        y, height = TOP + CELL * first, CELL * len(layer)
        drawn.append(
            f'<rect x="0" y="{y}" width="{LEFT + side}" height="{height}" fill="{BANDS[number % 2]}"/>'
        )
        first += len(layer)
    for place, room in enumerate(rooms):
        middle = CELL * place + CELL // 2
        drawn.append(f'<text x="{LEFT - 8}" y="{TOP + middle + 4}" text-anchor="end">{room}</text>')
        drawn.append(f'<text transform="translate({LEFT + middle + 4} {TOP - 8}) rotate(-60)">{room}</text>')
        drawn.append(
            f'<rect x="{LEFT + CELL * place + 3}" y="{TOP + CELL * place + 3}" width="{CELL - 6}" '
            f'height="{CELL - 6}" rx="3" fill="none" stroke="#c3ced6"/>'
        )
    for user, used in sorted(uses()):
        row, column = rooms.index(user), rooms.index(used)
        drawn.append(
            f'<g><title>{user} uses {used}</title><rect x="{LEFT + CELL * column + 3}" '
            f'y="{TOP + CELL * row + 3}" width="{CELL - 6}" height="{CELL - 6}" rx="3" '
            f'fill="{USED if row < column else UPWARD}"/></g>'
        )
    return "\n".join([*drawn, "</svg>", ""])


def table() -> str:
    """Return the rooms with what each is for, from the top down."""
    rooms = [room for layer in layers() for room in layer]
    return markdown(
        [["room", "what it is for"], *([f"`{room}`", escape(purpose(room), quote=False)] for room in rooms)]
    )


def main() -> None:
    """Write the picture and the table."""
    PICTURE.write_text(picture(), encoding="utf-8")
    put("architecture.md", "rooms", table())


if __name__ == "__main__":
    main()
