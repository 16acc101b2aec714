"""Makes the built-in weather years from the two TMY3 files that the pvlib package carries.

Run from the top of a checkout: `python weather/make.py`. The same source gives the same bytes.
"""

import hashlib
from pathlib import Path

import pvlib

from simengine.weather import read_weather
from simengine.weather.library import BUILTIN
from simengine.weather.writer import packed, plain_text

SOURCES = {"greensboro": "723170TYA.CSV", "sand_point": "703165TY.csv"}
FOLDER = Path(__file__).parent


def source_path(name: str) -> Path:
    """Return the file of the installed pvlib package that a built-in year is made from."""
    return Path(pvlib.__file__).parent / "data" / SOURCES[name]


def built(name: str) -> str:
    """Return the text of a built-in year."""
    return plain_text(read_weather(source_path(name)))


def digest(data: bytes) -> str:
    """Return the hash that the manifest names."""
    return hashlib.sha256(data).hexdigest()


def main() -> None:
    """Write every built-in year and print the hashes for the manifest."""
    for name, target in BUILTIN.items():
        text = built(name)
        data = packed(text)
        (FOLDER / target).write_bytes(data)
        print(f"[{name}]  {len(data)} bytes")
        print(f'source_sha256 = "{digest(source_path(name).read_bytes())}"')
        print(f'content_sha256 = "{digest(text.encode())}"')
        print(f'sha256 = "{digest(data)}"')


if __name__ == "__main__":
    main()
