"""What goes with every result besides heat: weather facts and the cautions of this case."""

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from simengine.air.properties import density, dynamic_viscosity
from simengine.collector.flow_table import FILM_TEMPERATURE
from simengine.collector.network import read_air_flow
from simengine.constants import ZERO_CELSIUS
from simengine.heat_transfer.perforated_plate import hole_reynolds, in_kutscher_range
from simengine.scenario.assemble_perforation import MOST_OF_WIRES
from simengine.simulate.condensation import caution, condensation_hours, room_dew_point
from simengine.simulate.cover_label import cover_label
from simengine.simulate.loop_facts import loop_cautions, loop_facts
from simengine.simulate.opening import panel_cautions
from simengine.simulate.resolve import Resolved
from simengine.simulate.unusual import unusual_notes

if TYPE_CHECKING:
    from simengine.weather import WeatherSeries

Array = NDArray[np.float64]

KWH_PER_WATT_YEAR = 8.76

MEASURED = "measured screens and vented sheets in collectors stand around 0.6 to 0.85"
"""What an effectiveness is held against (common practice)."""


def weather_facts(series: "WeatherSeries") -> dict[str, Any]:
    """Return the weather block of the summary (digest and degree days are added there)."""
    step_hours = series.step / 3600.0
    years = len(series.data) * step_hours / 8760.0
    shown = [str(finding) for finding in series.findings if finding.severity != "info"]
    return {
        "station": series.station,
        "latitude": series.latitude,
        "longitude": series.longitude,
        "elevation_m": series.elevation,
        "ghi_kwh_m2": float(series.data["ghi"].sum()) * step_hours / 1000.0 / years,
        "closure_rmse_w_m2": series.closure_rmse,
        "closure_shift_h": series.closure_shift,
        "synthetic": series.synthetic,
        "warmer_k": series.warmer,
        "warnings": shown,
    }


def collector_facts(resolved: Resolved, hourly: Mapping[str, Array]) -> dict[str, Any]:
    """Return the collector's block of the summary: flow, label of the cover, hours of a wet cover.

    Parameters
    ----------
    resolved : scenario with weather and houses
    hourly : columns of the year by name [SI units of the nomenclature]
    """
    wet = _wet_hours(resolved, hourly)
    mark = resolved.parts.tested
    fitted = {} if mark is None else {"fitted_to_test": str(mark.date), "fitted_periods": mark.periods}
    return {
        **fitted,
        "mass_flow_kg_s": resolved.parts.fan.mass_flow,
        "loop": loop_facts(resolved),
        "cover": cover_label(resolved),
        "room_dew_point_c": room_dew_point(resolved.parts.room_humidity) - ZERO_CELSIUS,
        "condensation_hours": {name: hours for name, (hours, _, _) in wet.items()},
        "condensation_hours_with_fan": {name: running for name, (_, running, _) in wet.items()},
        "condensation_hours_with_drift": {name: drifting for name, (_, _, drifting) in wet.items()},
    }


def wet_cover(resolved: Resolved, hourly: Mapping[str, Array]) -> list[str]:
    """Return the caution about water on the cover, for the house where it is most.

    Parameters
    ----------
    resolved : scenario with weather and houses
    hourly : columns of the year by name [SI units of the nomenclature]
    """
    hours, running, drifting = max(_wet_hours(resolved, hourly).values())
    place = "cover" if resolved.parts.collector.panes else "bare absorber"
    return caution(hours, running, resolved.parts.room_humidity, place, drifting)


def _wet_hours(resolved: Resolved, hourly: Mapping[str, Array]) -> dict[str, tuple[float, float, float]]:
    """Return hours with a wet cover by house: all, with the fan on, with air that moves by itself."""
    humidity, step = resolved.parts.room_humidity, float(resolved.series.step)
    found = {}
    for lane, house in enumerate(resolved.houses):
        cover = hourly["cover_temperature"][lane]
        hours, running = condensation_hours(cover, hourly["fan_on"][lane], humidity, step)
        drifting = condensation_hours(cover, hourly["passive_on"][lane], humidity, step)[1]
        found[house.name] = (hours, running, drifting)
    return found


def of_the_air(resolved: Resolved, hourly: Mapping[str, Array]) -> list[str]:
    """Return what to say of a fan on a module, and of air that moves while the fan rests.

    Parameters
    ----------
    resolved : scenario with weather and houses
    hourly : columns of the year by name [SI units of the nomenclature]
    """
    found, parts = [], resolved.parts
    if parts.control.module is not None:
        found.append(
            "The fan runs on its own PV module: its electricity is counted as energy, not as money, and the "
            "module's price belongs to the first cost."
        )
    if parts.passive is None:
        return found
    drifts = hourly["passive_on"] > 0.0
    lost = KWH_PER_WATT_YEAR * float((hourly["night_loss"] * drifts).mean(axis=1).max())
    if lost >= 1.0:
        found.append(
            f"Room air that flows back through the box takes up to {lost:.0f} kWh a year out of the house: a "
            "damper that closes tightly keeps it."
        )
    if math.isfinite(parts.passive.extra_forward):
        found.append(
            "Air that moves by itself does not stop at the room limit: shut the loop by hand in summer."
        )
    return found


def cautions(resolved: Resolved) -> list[str]:
    """Return what this very case asks to be careful about; the usual cautions are added later."""
    found = build_cautions(resolved)
    if resolved.series.synthetic:
        found.append("The weather is synthetic, made from monthly normals: it is no measured year.")
    if resolved.series.warmer != 0.0:
        word = "warmer" if resolved.series.warmer > 0.0 else "colder"
        found.append(
            f"A what-if: the weather is {abs(resolved.series.warmer):g} K {word} than the file; "
            "it is no forecast."
        )
    return found


def tested(resolved: Resolved) -> list[str]:
    """Return which field test the collector is fitted to, nothing where there was none."""
    mark = resolved.parts.tested
    if mark is None:
        return []
    return [f"The collector is fitted to a test of {mark.date}, {mark.periods} periods."]


def build_cautions(resolved: Resolved) -> list[str]:
    """Return those of them that hang on the build alone, for a single operating point."""
    return [
        *tested(resolved),
        *_of_the_sheet(resolved),
        *_of_the_box(resolved),
        *_of_the_air(resolved),
        *loop_cautions(resolved),
        *panel_cautions(resolved),
        *unusual_notes(resolved),
    ]


def _of_the_sheet(resolved: Resolved) -> list[str]:
    """Return what is unsure about air that passes the absorber."""
    collector = resolved.parts.collector
    sheet = collector.absorber.perforation
    if collector.arrangement != "through" or sheet is None:
        return []
    table = resolved.flow_table
    share = f"effectiveness of the absorber: {read_air_flow(table.flow[-1], 0).effectiveness:.2f}"
    given = resolved.scenario.inputs.collector.absorber.perforation
    if sheet.effectiveness is not None:
        if given is not None and given.effectiveness is None:
            return [_of_the_wires(share, sheet.effectiveness)]
        return [] if sheet.porosity <= 0.05 else [f"The {share} at full flow, as it was given; {MEASURED}."]
    air = density(FILM_TEMPERATURE, resolved.pressure)
    flux = resolved.parts.fan.mass_flow / collector.aperture
    viscosity = dynamic_viscosity(FILM_TEMPERATURE) / air
    reynolds = hole_reynolds(flux / air, sheet.hole_diameter or 0.0, sheet.porosity, viscosity)
    if in_kutscher_range(reynolds, sheet.porosity):
        return []
    return [
        "The holes are outside of what the relation for perforated sheets was fitted to (hole Reynolds "
        f"number 100 to 2000, up to 5 % open): here it is {reynolds:.0f} and {100.0 * sheet.porosity:.1f} % "
        f"open. The {share}, is a guess; {MEASURED}. Give a measured effectiveness."
    ]


def _of_the_wires(share: str, one: float) -> str:
    """Return what is unsure about a screen that is known by its wires alone."""
    held = f"no layer counts for more than {one:.2f}" if one >= MOST_OF_WIRES else "it is an upper bound"
    return (
        f"The {share}, worked out from its wires. The relation is for air that meets every wire evenly; "
        f"{held}, for {MEASURED}. Give a measured effectiveness where you have one."
    )


def _of_the_box(resolved: Resolved) -> list[str]:
    collector = resolved.parts.collector
    found = []
    if not collector.panes:
        found.append("There is no cover: wind and cold sky take the heat straight off the bare absorber.")
    if collector.wind_relation == "mcadams":
        found.append(
            "The wind relation 5.7 + 3.8 V is held to contain radiation, which is counted here as well: the "
            "cover loses too much. Use it only to compare with other work."
        )
    leak = collector.leak
    if leak is not None and leak.box_pressure < 0.0:
        found.append(
            "The fan draws outdoor air in through the cracks of the box, with its dust, smoke and damp."
        )
    return found


def _of_the_air(resolved: Resolved) -> list[str]:
    """Return what to know about where the air comes from."""
    ways = resolved.parts.spaces
    found = []
    if ways.intake == "outdoors":
        found.append(
            "Fresh air blown in presses the house a little: moist room air is pushed into walls and roof, "
            "where it can condense. Filter the intake, keep it away from flues, drains and car exhaust, and "
            "fit a damper that closes: with the fan off it is a hole in the house."
        )
    if "second_space" in (ways.intake, ways.supply) and ways.intake != ways.supply:
        found.append(
            "Air that passes between a basement, garage or workshop and the rooms carries dust, mould, "
            "soil gas (radon) and fumes with it: never from where a car, fuel or solvents stand, nor from a "
            "boiler room."
        )
    return found
