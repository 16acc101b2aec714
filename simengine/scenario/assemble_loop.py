"""Turns the loop of a scenario into what the air passes, and the ducts that lose its heat."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from simengine.airflow.parts import (
    Bend,
    Filter,
    Fitting,
    FlexibleDuct,
    Grille,
    Part,
    RectangularDuct,
    Reducer,
    RoundDuct,
    inlet_port,
    outlet_port,
)
from simengine.airflow.spec import Duct
from simengine.collector.spec import Collector
from simengine.scenario.air_path import HOT, ROOM, AirPath, air_path, box_parts
from simengine.scenario.schema import air, loop


@dataclass(frozen=True, slots=True)
class Loop:
    """The way of the air and what lies along it."""

    path: AirPath
    supply: tuple[Duct, ...]  # collector to room
    back: tuple[Duct, ...]  # room to collector
    fan_place: str | None  # "room_side" or "hot_side"; None where the loop does not say


def short_loop(box: Collector, ducts: tuple[air.Duct, ...]) -> Loop:
    """Return the loop of straight ducts: the short form of a scenario.

    Parameters
    ----------
    box
        The collector, whose spaces the air passes.
    ducts
        As the scenario describes them.

    Returns
    -------
    Loop
        Ducts with a sharp entry and a free exit each way.
    """
    supply = tuple(_short(duct) for duct in ducts if duct.name == "supply")
    back = tuple(_short(duct) for duct in ducts if duct.name == "return")
    return Loop(air_path(box, supply, back), supply, back, None)


def full_loop(box: Collector, parts: tuple[loop.LoopPart, ...]) -> Loop:
    """Return the loop that a scenario lists part by part.

    Parameters
    ----------
    box
        The collector, whose spaces the air passes.
    parts
        Checked parts in the order of the flow.

    Returns
    -------
    Loop
        With the parts before the collector at room temperature and those behind it warm.
    """
    here = next(number for number, part in enumerate(parts) if isinstance(part, loop.LoopCollector))
    before, after = _made(parts, range(here), ROOM), _made(parts, range(here + 1, len(parts)), HOT)
    fans = [number for number, part in enumerate(parts) if isinstance(part, loop.LoopFan)]
    place = None if not fans else "room_side" if fans[0] < here else "hot_side"
    return Loop(
        AirPath(before, box_parts(box), after),
        _losing(parts[here + 1 :]),
        _losing(parts[:here]),
        place,
    )


def _short(duct: air.Duct) -> Duct:
    return Duct(duct.length, duct.diameter, duct.insulation, duct.runs)


def _made(parts: tuple[loop.LoopPart, ...], numbers: range, temperature: float) -> tuple[Part, ...]:
    made: list[Part] = []
    for number in numbers:
        part = parts[number]
        name = part.name or part.part.replace("_", " ")
        if isinstance(part, loop.LoopDamper):
            area = math.pi / 4.0 * (loop.damper_bore(parts, number) or 0.0) ** 2
            made.append(Fitting(name, area, part.loss_coefficient, temperature))
        elif not isinstance(part, loop.LoopFan):
            usual = MAKERS[part.part](name, part, temperature)
            told = part.loss_coefficient if isinstance(part, loop.OWN_LOSS) else None
            made.append(usual if told is None else Fitting(name, usual.area, told, temperature))
    return tuple(made)


def _losing(parts: tuple[loop.LoopPart, ...]) -> tuple[Duct, ...]:
    """Return the runs along which heat is lost; a flat one as a round one of the same wall."""
    ducts = []
    for part in parts:
        if isinstance(part, loop.LoopDuct | loop.LoopFlexible):
            ducts.append(Duct(part.length, part.diameter, part.insulation, part.runs))
        elif isinstance(part, loop.LoopRectangular):
            rim = 2.0 * (part.width + part.height)
            ducts.append(Duct(part.length, rim / math.pi, part.insulation, part.runs))
    return tuple(ducts)


def _duct(name: str, part: loop.LoopDuct, temperature: float) -> Part:
    return RoundDuct(name, part.length, part.diameter, part.roughness, temperature)


def _flexible_duct(name: str, part: loop.LoopFlexible, temperature: float) -> Part:
    return FlexibleDuct(name, part.length, part.diameter, part.stretch, part.roughness, temperature)


def _rectangular_duct(name: str, part: loop.LoopRectangular, temperature: float) -> Part:
    return RectangularDuct(name, part.length, part.width, part.height, part.roughness, temperature)


def _bend(name: str, part: loop.LoopBend, temperature: float) -> Part:
    return Bend(name, part.diameter, part.angle, part.radius, temperature=temperature)


def _reducer(name: str, part: loop.LoopReducer, temperature: float) -> Part:
    return Reducer(name, part.before, part.after, temperature)


def _grille(name: str, part: loop.LoopGrille, temperature: float) -> Part:
    return Grille(name, part.area, part.free_share, temperature)


def _filter(name: str, part: loop.LoopFilter, temperature: float) -> Part:
    return Filter(
        name, part.area, part.rated_velocity, part.rated_pressure, part.exponent, temperature=temperature
    )


def _entry(name: str, part: loop.LoopOpening, temperature: float) -> Part:
    return inlet_port(name, part.diameter, temperature)


def _exit(name: str, part: loop.LoopOpening, temperature: float) -> Part:
    return outlet_port(name, part.diameter, temperature)


def _fitting(name: str, part: loop.LoopFitting, temperature: float) -> Part:
    return Fitting(name, math.pi / 4.0 * part.diameter**2, part.loss_coefficient, temperature)


_MAKERS: tuple[Callable[..., Part], ...] = (
    _duct,
    _flexible_duct,
    _rectangular_duct,
    _bend,
    _reducer,
    _grille,
    _filter,
    _entry,
    _exit,
    _fitting,
)
MAKERS = {maker.__name__.removeprefix("_"): maker for maker in _MAKERS}
"""How each kind of part is made, by its key."""
