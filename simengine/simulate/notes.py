"""What goes with every result besides heat: weather facts, hottest parts, cautions of this case."""

from typing import TYPE_CHECKING, Any

import numpy as np

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.limits import check_limits
from simengine.collector.network import Array, Forcing, Weather
from simengine.collector.steady import steady_point
from simengine.constants import ZERO_CELSIUS
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.lanes import air_loop
from simengine.simulate.resolve import Resolved

if TYPE_CHECKING:
    from simengine.weather import WeatherSeries

DESIGN_SUN = 1000.0
"""Sun at normal incidence at the design point of the temperature check [W/m2]."""
DESIGN_AMBIENT = ZERO_CELSIUS + 30.0
DESIGN_SKY = ZERO_CELSIUS + 20.0
"""A humid summer sky, 10 K below the air [K] (common practice)."""
DESIGN_WIND = 0.5
"""[m/s]"""
WORST_HOURS = 12
"""How many of the sunniest and of the hottest hours are tried with the fan off."""


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
        "warnings": shown,
    }


def limits(resolved: Resolved, forcing: Forcing) -> list[dict[str, Any]]:
    """Return every part at its hottest with the fan off: the year's worst hour and a design point.

    Parameters
    ----------
    resolved : the scenario
    forcing : what the year's weather does to the collector

    Returns
    -------
    rows of part, hottest_c, limit_c, exceeded, hour ("design point" or the interval's number), sentence

    Source: steady state of the march's own equations without flow; it errs on the hot side for a
    heavy box.
    """
    collector = resolved.parts.collector
    network = build_network(collector, resolved.pressure)
    table = build_flow_table(collector, air_loop(resolved), resolved.pressure)
    cases: list[tuple[str, Weather, Array]] = [("design point", *_design(resolved, forcing))]
    sun = forcing.absorbed.sum(axis=1)
    hottest = sun + 8.0 * (forcing.weather[:, 0] - ZERO_CELSIUS)  # about 8 W/m2 a kelvin
    tried = {int(i) for score in (sun, hottest) for i in np.argsort(score)[-WORST_HOURS:]}
    for i in sorted(tried):
        cases.append((str(i), Weather(*(float(v) for v in forcing.weather[i])), forcing.absorbed[i]))
    found = [
        steady_point(network, table, weather, absorbed, weather.ambient, speed=0.0).nodes.max(axis=1)
        for _, weather, absorbed in cases
    ]
    temperatures, materials = _parts(resolved, np.array(found))
    return [
        {
            "part": check.part,
            "hottest_c": check.hottest_c,
            "limit_c": check.limit_c,
            "exceeded": check.exceeded,
            "hour": cases[check.index][0],
            "sentence": check.sentence,
        }
        for check in check_limits(temperatures, materials)
    ]


def _design(resolved: Resolved, forcing: Forcing) -> tuple[Weather, Array]:
    collector = resolved.parts.collector
    sun = max(DESIGN_SUN, float(forcing.weather[:, 3].max()))
    one, none = np.array([sun]), np.zeros(1)
    absorbed = absorbed_sun(collector, none, one, none, none)
    film = WIND_RELATIONS[collector.wind_relation](DESIGN_WIND, collector.length)
    weather = Weather(DESIGN_AMBIENT, DESIGN_SKY, film, sun)
    return weather, absorbed_rows(absorbed)[0]


def _parts(resolved: Resolved, nodes: Array) -> tuple[dict[str, Any], dict[str, str]]:
    """Return temperature [case] and material of every part; `nodes` is [case, node] in K."""
    collector = resolved.parts.collector
    temperatures: dict[str, Any] = {}
    materials: dict[str, str] = {}

    def add(part: str, values: Array, material: str) -> None:
        temperatures[part], materials[part] = values, material

    panes = max(len(collector.panes), 1)
    for number, pane in enumerate(collector.panes):
        add(f"pane {number + 1}: {pane.name}", nodes[:, number], pane.material)
    add(f"absorber: {collector.absorber.name}", nodes[:, panes], collector.absorber.material)
    face, box = nodes[:, panes + 1], nodes[:, panes + 3]
    resistances = [layer.thickness / layer.conductivity for layer in collector.back.layers]
    whole, inside = sum(resistances), 0.0
    for layer, resistance in zip(collector.back.layers, resistances, strict=True):
        add(f"back: {layer.name}", face + (box - face) * (inside / whole), layer.material)
        inside += resistance
    return temperatures, materials


def cautions(resolved: Resolved) -> list[str]:
    """Return what this very case asks to be careful about; the usual cautions are added later."""
    found = []
    sheet = resolved.parts.collector.absorber.perforation
    if resolved.parts.collector.arrangement == "through" and sheet is not None and sheet.porosity > 0.05:
        found.append(
            "The open share of the absorber is outside what perforated-sheet relations were fitted to "
            "(up to 5 %); its effectiveness is the one that was given, or that of a screen."
        )
    if resolved.series.synthetic:
        found.append("The weather is synthetic, made from monthly normals: it is no measured year.")
    return found
