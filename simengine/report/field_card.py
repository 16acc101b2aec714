"""The field check card: one page to print, as text or as a page."""

from collections.abc import Mapping
from pathlib import Path
from textwrap import wrap
from typing import Any

import jinja2

from simengine.report.shown import Shown
from simengine.report.tables import WIDTH, columns, wrapped

Card = Mapping[str, Any]

HOW = (
    "Wait for 15 minutes of steady sun with the fan running. Hold a sun meter in the plane of the "
    "glass. Read both "
    "air temperatures in the stream: where air enters the collector and where it leaves it, shaded from "
    "the sun."
)
CAUTION = (
    "A check, not an approval. Hot sheets and glass hurt, and so do ladders and mains voltage: keep "
    "hands out of the "
    "running fan; local code and licensed people decide."
)


def text(card: Card, units: Shown) -> str:
    """Return the card for a screen or a printer.

    Parameters
    ----------
    card : what `CheckCard.as_dict` returns
    units : the unit system to write in
    """
    lines = [f"Field check card: {card['title']}", *_heads(card, units), "", *wrap(HOW, WIDTH), ""]
    lines += ["Rise from inlet to outlet to expect, with a fair band:", *columns(_rows(card, units)), ""]
    lines += ["A low reading usually means", *wrapped("-", card["low_reading"]), ""]
    lines += [
        "A high reading usually means",
        *wrapped("-", card["high_reading"]),
        "",
        *wrap(CAUTION, WIDTH),
    ]
    return "\n".join(line.rstrip() for line in lines)


def page(card: Card, units: Shown) -> str:
    """Return the card as one page of HTML that needs no network; see `text`."""
    folder = Path(__file__).parent / "templates"
    templates = jinja2.Environment(loader=jinja2.FileSystemLoader(folder), autoescape=True)
    head, *body = _rows(card, units)
    return templates.get_template("field_card.html").render(
        title=card["title"],
        facts=_heads(card, units),
        how=HOW,
        head=head,
        body=body,
        low=card["low_reading"],
        high=card["high_reading"],
        caution=CAUTION,
    )


def _heads(card: Card, units: Shown) -> list[str]:
    flow = units.quantity(card["volume_flow_m3_s"], "volume_flow")
    room = units.temperature(card["inlet_c"])
    found = [
        f"Design flow {flow} at the fan; air enters at {room}; the sun within 45 deg of square on the glass."
    ]
    return [*found, f"The model is {card['tested']}."] if card["tested"] else found


def _rows(card: Card, units: Shown) -> list[list[str]]:
    suns = [f"{sun:.0f} W/m²" for sun in card["irradiance_w_m2"]]  # what sun meters show everywhere
    rows = [["outdoors", *suns]]
    for outside, rises, bands in zip(card["outside_c"], card["rise_k"], card["band_k"], strict=True):
        cells = [_span(rise, band, units) for rise, band in zip(rises, bands, strict=True)]
        rows.append([units.temperature(outside), *cells])
    return rows


def _span(rise: float, band: float, units: Shown) -> str:
    """Return "14 to 20 K" for a rise [K] and its band [K]."""
    factor, unit = (1.8, "°F") if units.system == "us" else (1.0, "K")
    low, high = max(rise - band, 0.0) * factor, max(rise + band, 0.0) * factor
    return f"{low:.0f} to {high:.0f} {unit}" if high > 0.5 else "no heat"
