"""The scenario: one checked file, its overrides, and what can be asked of it."""

import copy
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from simengine.constants import STANDARD_PRESSURE
from simengine.errors import ScenarioError
from simengine.scenario import listing
from simengine.scenario.assemble import assembly
from simengine.scenario.assembly import Assembly
from simengine.scenario.locate import locate
from simengine.scenario.overrides import apply
from simengine.scenario.problems import MOST, Problem, key_text, problems_of
from simengine.scenario.reader import decode, parse_toml, read_bytes, shown
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.fuels import own_names
from simengine.scenario.schema.reading import Section
from simengine.scenario.writing import as_toml

KeyPath = tuple[str | int, ...]


@dataclass(frozen=True)
class Scenario:
    """A scenario whose every value has passed the schema; make one with `load` or `from_dict`."""

    inputs: Inputs  # checked values in SI
    data: dict[str, Any] = field(repr=False)  # as written, with the changes
    folder: Path = field(repr=False)  # paths inside are relative to it
    name: str = "scenario"  # stem of the file
    changes: tuple[KeyPath, ...] = field(default=(), repr=False)  # keys that `changed` has set

    @classmethod
    def from_dict(
        cls, data: Mapping[str, Any], folder: Path | str = ".", name: str = "scenario"
    ) -> "Scenario":
        """Return the scenario that plain tables describe.

        Parameters
        ----------
        data
            The same tables, keys and texts as in a file.
        folder
            What paths inside are relative to.
        name
            Stem that results are called by.

        Returns
        -------
        Scenario
            The checked scenario.

        Raises
        ------
        ScenarioError
            Every problem, one line each.
        """
        try:
            copied = copy.deepcopy(dict(data))
        except RecursionError:
            raise ScenarioError(
                "(scenario): tables are nested too deeply; accepted: a plain scenario"
            ) from None
        return cls(_checked(copied, "", "(scenario)"), copied, Path(folder), name)

    def changed(self, changes: Mapping[str, Any]) -> "Scenario":
        """Return a scenario with some keys set anew.

        Parameters
        ----------
        changes
            Dotted key to value, e.g. {"collector.tilt": "45 deg"}; items of lists by name or by number
            from 1; None takes a key away.

        Returns
        -------
        Scenario
            A new one; this one stays as it is.

        Raises
        ------
        ScenarioError
            Every problem, one line each.
        """
        data, paths = apply(self.data, changes)
        every = (*self.changes, *paths)
        inputs = _checked(data, "", "(changed)", self._untouched({str(path[0]) for path in paths}))
        return Scenario(inputs, data, self.folder, self.name, every)

    def _untouched(self, tables: set[str]) -> dict[str, Section]:
        """Return the checked tables but for these; what is checked already is not read again."""
        if "fuels" in tables:  # other tables name them
            return {}
        checked = {name: table for name, table in self.inputs if isinstance(table, Section)}
        return {name: table for name, table in checked.items() if name in self.data and name not in tables}

    def as_toml(self, remarks: tuple[str, ...] = ()) -> str:
        """Return the scenario as the text of a file, with its changes and without the file's own remarks."""
        return as_toml(self.data, remarks)

    def assemble(self, pressure: float = STANDARD_PRESSURE) -> Assembly:
        """Return the parts as plain numbers in SI.

        Parameters
        ----------
        pressure
            Of the site's air [Pa]; a volume flow becomes a mass flow with it.

        Returns
        -------
        Assembly
            Collector, fan, ducts, control, house, money and settings.
        """
        parts = assembly(self.inputs, pressure)
        return replace(parts, site=replace(parts.site, horizon=self.skyline))

    def resolved(self, pressure: float = STANDARD_PRESSURE) -> list[listing.Row]:
        """Return every input as it is used: key, metric, US, and where it is from."""
        return listing.rows(self.inputs, self.data, self.changes, self.assemble(pressure))

    @cached_property
    def sha256(self) -> str:
        """Digest of the resolved inputs: the same for the same meaning, whatever the spelling [hex]."""
        values = _rounded(self.inputs.model_dump(mode="json", by_alias=True))
        values["skyline"] = _rounded([list(point) for point in self.skyline])
        return hashlib.sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()

    @property
    def title(self) -> str:
        """What the result is called."""
        return self.inputs.title

    @property
    def about(self) -> dict[str, str]:
        """For whom, by whom, when and what else was said; only what the file gives."""
        said = {name: getattr(self.inputs, name) for name in ("client", "author", "date", "notes")}
        return {name: str(text) for name, text in said.items() if text}

    @property
    def weather(self) -> str | Path:
        """Name of a built-in year ("greensboro"), or the path of a weather file; the first of several."""
        return self.weathers[0]

    @property
    def weathers(self) -> tuple[str | Path, ...]:
        """Names and paths of all weather that the file lists."""
        listed = self.inputs.site.weather
        return tuple(map(self._place_of, (listed,) if isinstance(listed, str) else listed))

    @cached_property
    def skyline(self) -> tuple[tuple[float, float], ...]:
        """Points of the skyline, bearing from true north and elevation [deg], from the file or from a table.

        Raises
        ------
        InputError
            Naming file and line, if the table of readings cannot be used.
        """
        site = self.inputs.site
        if site.horizon_file is None:
            return site.horizon
        from simengine.sun import read_horizon

        read = read_horizon(Path(self._place_of(site.horizon_file)), site.declination)
        return tuple(zip(read.azimuths, read.elevations, strict=True))

    def _place_of(self, written: str) -> str | Path:
        """Return the name of what is built in, else the path of a file beside the scenario."""
        return written.removeprefix("builtin:") if written.startswith("builtin:") else self.folder / written

    def _repr_html_(self) -> str:
        """Return the resolved inputs as a table for a notebook."""
        return listing.html(self.title, self.resolved())


def load(path: Path | str) -> Scenario:
    """Return the scenario in a file.

    Parameters
    ----------
    path
        A TOML file; see docs/scenario.md.

    Returns
    -------
    Scenario
        The checked scenario.

    Raises
    ------
    ScenarioError
        Every problem at once, each a line "file:line:column: key: what is wrong; what is accepted".
    """
    file = Path(path)
    name = shown(path)
    text = decode(read_bytes(file), name)
    data = parse_toml(text, name)
    return Scenario(_checked(data, text, name), data, file.parent, file.stem)


def _rounded(value: Any) -> Any:
    """Drop the last bits of every number: "5 ft" and "60 in" differ by them."""
    if isinstance(value, float):
        return float(f"{value:.12g}")
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list) else value


def _checked(data: dict[str, Any], text: str, source: str, known: dict[str, Section] | None = None) -> Inputs:
    """Return the checked inputs; tables that are known are taken as they are."""
    try:
        return Inputs.model_validate({**data, **(known or {})}, context={"fuels": own_names(data)})
    except ValidationError as error:
        problems, beyond = problems_of(error, data)
    except RecursionError:
        raise ScenarioError(f"{source}: tables are nested too deeply; accepted: a plain scenario") from None
    places = locate(text) if text else {}
    lines = sorted({_line(problem, places, source) for problem in problems})
    left = max(len(lines) - MOST, 0) + beyond
    more = [("", 0, 0, f"{source}: {left} more problems")] if left else []
    raise ScenarioError(*(line[3] for line in [*lines[:MOST], *more]))


def _line(
    problem: Problem, places: Mapping[KeyPath, tuple[int, int]], source: str
) -> tuple[str, int, int, str]:
    path = problem.path
    while path and path not in places:
        path = path[:-1]
    line, column = places.get(path, (1, 1))
    where = f"{source}:{line}:{column}" if places else source
    key = key_text(problem.path)
    return (
        source,
        line,
        column,
        f"{where}: {key}: {problem.sentence}" if key else f"{where}: {problem.sentence}",
    )
