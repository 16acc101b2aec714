"""How sure the usual inputs are, where a scenario does not say so itself."""

from collections.abc import Callable
from dataclasses import dataclass

from simengine.errors import InputError
from simengine.scenario.schema.at_key import at_key
from simengine.scenario.schema.drawn import Drawn
from simengine.scenario.schema.root import Inputs


@dataclass(frozen=True, slots=True)
class Usual:
    """A usual spread of one key, with where it is from."""

    drawn: Drawn
    source: str
    fits: Callable[[Inputs], bool] = lambda inputs: True


def _factor(kind: str, **terms: float) -> Drawn:
    ends = tuple((name.rstrip("_"), value) for name, value in terms.items())
    return Drawn(kind, "factor", ends)


def _measured_weather(inputs: Inputs) -> bool:
    """Whether the scenario leaves the weather year open: it names no list of years itself."""
    return inputs.spread is None or inputs.spread.vary.get("site.weather") is None


USUAL = {
    "collector.absorber.perforation.effectiveness": Usual(
        _factor("triangular", from_=0.9, most=1.0, to=1.05),
        "common practice: a measured effectiveness is rather missed by a tenth than beaten",
        lambda inputs: inputs.collector.arrangement == "through",
    ),
    "collector.dirt_factor": Usual(
        _factor("normal", mean=1.0, deviation=0.01),
        "common practice: dirt, frame and the transmittance of the cover to 2 % at two deviations",
    ),
    "collector.leak.flow": Usual(
        _factor("lognormal", median=1.0, factor=1.5, from_=0.5, to=2.0),
        "common practice: tightness of a hand-built box is known to a factor of two",
    ),
    "site.wind_shelter": Usual(
        _factor("uniform", from_=0.7, to=1.3),
        "common practice: wind at a collector is known to a third at best; never above open ground",
    ),
    "builtin_houses.heat_loss_factor": Usual(
        _factor("normal", mean=1.0, deviation=0.075),
        "common practice: heat loss of a house by its parts to 15 % at two deviations",
    ),
    "house.heat_loss_factor": Usual(
        _factor("normal", mean=1.0, deviation=0.075),
        "common practice: heat loss of a house by its parts to 15 % at two deviations",
    ),
    "heating.price": Usual(
        _factor("triangular", from_=0.75, most=1.0, to=1.25),
        "common practice: prices of a season within a quarter of today's",
    ),
    "site.warmer": Usual(
        Drawn("normal", "shift", (("mean", "0 K"), ("deviation", "0.7 K"))),
        "common practice: mean of a heating season from year to year, 0.5 to 1 K",
        _measured_weather,
    ),
    "site.sun_factor": Usual(
        _factor("normal", mean=1.0, deviation=0.04),
        "Gueymard and Wilcox 2011, Solar Energy 85: yearly sun varies by some 4 % (from memory)",
        _measured_weather,
    ),
}
"""Usual spreads by key."""


def spreads_of(inputs: Inputs) -> dict[str, Drawn]:
    """Return the spread of every key that is unsure: the scenario's own, and the usual ones besides.

    Parameters
    ----------
    inputs : the checked scenario

    Returns
    -------
    dict of key and spread; usual ones only for keys that this scenario has a value for

    >>> "site.sun_factor" in USUAL
    True
    """
    own = {} if inputs.spread is None else inputs.spread.vary
    usual = {
        key: usual.drawn
        for key, usual in USUAL.items()
        if key not in own and usual.fits(inputs) and _has_value(inputs, key)
    }
    return {**{key: drawn for key, drawn in own.items() if drawn is not None}, **usual}


def _has_value(inputs: Inputs, key: str) -> bool:
    try:
        at_key(inputs, key).levels()
    except InputError:
        return False
    return True
