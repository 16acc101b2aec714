"""What a log cannot tell, and what it cannot tell apart, in plain sentences."""

from itertools import combinations

from simengine.fieldtest.calibrate import Fit
from simengine.fieldtest.unknowns import ASSUMED

CLOSE = 0.85
"""Correlation from which two figures are hardly told apart [-]."""
FOLLOWS = 1.0
"""Scatter of the outlet about the fit beyond which the model does not follow the log [K]."""

WORDS = {
    "cover_transmittance": "the sun that the cover lets in",
    "back_loss": "the loss through back and edges",
    "effectiveness": "the exchange between absorber and air",
    "leakage": "the leak",
    "duct_loss": "the loss of the supply duct",
    "irradiance": "what the sun meter is off by",
    "flow": "what the flow meter is off by",
    "second_flow": "what the second flow meter is off by",
    "wind": "the wind at the cover",
    "sky": "the sky's temperature",
    "ambient": "what the outdoor thermometer is off by",
    "inlet": "what the inlet thermometer is off by",
    "outlet": "what the outlet thermometer is off by",
    "supply": "what the supply thermometer is off by",
    "absorber": "what the absorber thermometer is off by",
}


def sentences(fit: Fit) -> list[str]:
    """Return what the fit cannot tell, one sentence each.

    Parameters
    ----------
    fit : of a scenario to a log
    """
    found = []
    for name, reason in fit.held.items():
        band = 2.0 * ASSUMED[name]
        found.append(
            f"{_begin(WORDS[name])} is not told by this log ({reason}); the scenario's figure is kept, with "
            f"±{band:.2g} (k = 2) assumed for it."
        )
    names = [unknown.name for unknown in fit.unknowns]
    for first, second in combinations(names, 2):
        if first in fit.told and second not in fit.held and abs(fit.correlation(first, second)) > CLOSE:
            found.append(
                f"{_begin(WORDS[first])} can hardly be told from {WORDS[second]}: their correlation is "
                f"{fit.correlation(first, second):+.2f}; trust the two together more than each alone."
            )
    for name in fit.told:
        unknown = fit.unknowns[names.index(name)]
        if min(fit.values[name] - unknown.low, unknown.high - fit.values[name]) < 1.0e-3:
            found.append(
                f"{_begin(WORDS[name])} ran into the bound of the search ({fit.values[name]:.2f}): the "
                f"scenario "
                "describes another collector, or the log has a fault that was not found."
            )
    if fit.scatter.get("outlet", 0.0) > FOLLOWS:
        found.append(
            f"The fitted model still strays by {fit.scatter['outlet']:.1f} K from the outlet: it does not "
            "follow this log, and the bands above are too narrow."
        )
    return found


def _begin(text: str) -> str:
    return text[0].upper() + text[1:]
