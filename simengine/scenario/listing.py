"""Lists every input as it is used, in both unit systems, with where it is from."""

import html as escaping
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from pydantic import BaseModel

from simengine.scenario.assembly import Assembly
from simengine.scenario.problems import key_text
from simengine.scenario.schema import Inputs
from simengine.scenario.wording import both
from simengine.units import format_si

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One resolved input."""

    key: str
    si: str
    us: str
    origin: str  # "file", "changed", "default" or "construction NAME"
    description: str = ""

    @property
    def group(self) -> str:
        """Section of the key, "scenario" for the head of the file."""
        return self.key.partition(".")[0] if "." in self.key else "scenario"

    def as_dict(self) -> dict[str, str]:
        """Return key, group, name, si, us and origin as text."""
        name = self.key.removeprefix(f"{self.group}.")
        texts = {"si": self.si, "us": self.us, "origin": self.origin}
        return {"key": self.key, "group": self.group, "name": name, **texts}


def rows(inputs: Inputs, data: Mapping[str, Any], changes: tuple[Path, ...], parts: Assembly) -> list[Row]:
    """Return one row for every input that has a value.

    Parameters
    ----------
    inputs
        Checked scenario.
    data
        Raw tables, which tell what was written.
    changes
        Paths set after the file was read.
    parts
        What the inputs became; gives the figures of the typical constructions.

    Returns
    -------
    list of Row
        In the order of the schema.
    """
    listed = list(_section(inputs, data, (), changes, parts))
    return [*listed, *_worked_out(parts)]


def html(title: str, table: list[Row]) -> str:
    """Return the rows as an HTML table."""
    cells = "".join(
        "<tr>"
        + "".join(f"<td>{escaping.escape(text)}</td>" for text in (r.key, r.si, r.us, r.origin))
        + "</tr>"
        for r in table
    )
    head = "<tr><th>input</th><th>SI</th><th>US</th><th>from</th></tr>"
    return f"<table><caption>{escaping.escape(title)}</caption>{head}{cells}</table>"


def _section(
    section: BaseModel, data: Any, path: Path, changes: tuple[Path, ...], parts: Assembly
) -> Iterator[Row]:
    for name, info in type(section).model_fields.items():
        key = info.alias or name
        here = (*path, key)
        value = getattr(section, name)
        raw = data.get(key) if isinstance(data, Mapping) else None
        if isinstance(value, BaseModel):
            yield from _section(value, raw, here, changes, parts)
        elif isinstance(value, tuple) and value and isinstance(value[0], BaseModel):
            if isinstance(raw, Mapping):  # one table in the place of a list
                yield from _section(value[0], raw, here, changes, parts)
                continue
            for number, item in enumerate(value):
                inner = raw[number] if isinstance(raw, list) else None
                yield from _section(item, inner, (*here, number), changes, parts)
        else:
            origin = "default" if raw is None else "changed" if _touched(here, changes) else "file"
            if value is None:
                value, origin = _typical(section, here, parts)
            if value is not None and value not in ("", (), {}):
                yield Row(key_text(here), *both(value, info), origin, info.description or "")


def _worked_out(parts: Assembly) -> Iterator[Row]:
    """What follows from several inputs together."""
    box, house = parts.collector, parts.house
    found: list[tuple[str, float, str, str]] = [
        ("collector.aperture", box.aperture, "area", "glazed area"),
        ("collector.edge.loss", box.edge_conductance, "conductance", "of all edges"),
        ("fan.mass_flow", parts.fan.mass_flow, "mass_flow", "air through the collector"),
        ("fan.volume_flow", parts.fan_volume_flow, "volume_flow", "at the density of the air at the fan"),
    ]
    if box.absorber.perforation is not None:
        found.append(
            ("collector.absorber.open_share", box.absorber.perforation.porosity, "fraction", "of the sheet")
        )
    if box.leak is not None:
        found.append(
            (
                "collector.leak.pressure_in_box",
                box.leak.box_pressure,
                "pressure",
                "at full speed, over outdoors",
            )
        )
    if parts.window_panel is not None:
        found.append(
            ("window_panel.u_value", parts.window_panel.u_value, "u_value", "of the panel with its air films")
        )
    if house is not None:
        found += [
            (
                "house.opaque_loss",
                house.opaque_conductance,
                "conductance",
                "walls, roof, floor, thermal bridges",
            ),
            ("house.window_loss", house.window_conductance, "conductance", "windows"),
            ("house.air_loss", house.ventilation_conductance, "conductance", "air change"),
        ]
        if house.leakage is not None:
            found.append(("house.leakage", house.leakage.area, "area", "effective leakage area at 4 Pa"))
    for key, value, kind, words in found:
        yield Row(key, format_si(value, kind, "si"), format_si(value, kind, "us"), "worked out", words)


def _touched(path: Path, changes: tuple[Path, ...]) -> bool:
    return any(path[: len(change)] == change for change in changes)


def _typical(section: BaseModel, path: Path, parts: Assembly) -> tuple[Any, str]:
    """Value that a typical construction or a rule has put where the file says nothing."""
    box = parts.collector
    owners: dict[str, Any] = {"absorber": box.absorber, "back": box.back}
    part: Any = owners.get(str(path[1])) if len(path) == 3 and path[0] == "collector" else None
    if path[:2] == ("collector", "cover") and len(path) == 4:
        part = box.panes[int(path[2])]
    if path[:3] == ("collector", "back", "layers") and len(path) == 5:
        part = box.back.layers[int(path[3])]
    if path == ("fan", "inlet_temperature"):
        return parts.fan_inlet_temperature, "default"
    name = str(path[-1])
    if part is None or name not in {f.name for f in fields(part)}:
        return None, ""
    key = getattr(section, "construction", None) or getattr(section, "lining", None)
    value = getattr(part, name)
    return (None if is_dataclass(value) else value), f"construction {key}" if key else "default"
