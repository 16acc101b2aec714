"""The cautions that go with every result: what can hurt people, and who decides about it."""

from collections.abc import Iterable

USUAL = (
    "This is an estimate from a model. It certifies nothing and approves nothing: local code, the product's "
    "own instructions and licensed practitioners decide.",
    "Heat: with the fan off and the sun out, every part of a glazed box gets far hotter than in use, and "
    "metal burns skin. Each material must stand what is listed for it; shade the glass while working.",
    "Fire: keep hot air away from untreated wood, foam boards and plastic ducts that are not rated for it. "
    "Ducts through fire-rated walls or floors need what the fire code asks for.",
    "Glass: use tempered or laminated glass where it can fall or be fallen into; large panes are heavy and "
    "crack when one edge stays in shade and cold.",
    "Height, weight and wind: work at height needs fall protection; the structure must carry the dead load, "
    "snow and wind suction of the box, checked by somebody who is qualified to.",
    "Wiring: fan, thermostat and any solar module follow the electrical code; let a licensed electrician "
    "connect what is on mains voltage, and protect it against overcurrent and ground fault.",
    "Fumes: a fan must never pull a room with a fire, boiler, water heater or other combustion appliance "
    "below outdoor pressure. Have the draught tested, and fit carbon monoxide alarms.",
    "Air quality: paints, sealants, treated wood and foams may give off fumes when hot; let a new box cook "
    "out in the sun before its air goes into rooms, and filter the air.",
    "Moisture: room air that reaches cold glass or ducts at night condenses and grows mould; fit a damper "
    "that closes tightly, drain the box, and keep the house's own vapour and rain barriers whole.",
    "Permits: building, electrical and mechanical permits, the insurer and, in rented or listed houses, "
    "others have a say before work begins.",
)
"""What holds for every glazed air collector."""


def with_usual(special: Iterable[str]) -> list[str]:
    """Return the cautions of one result, followed by those that hold for every result.

    >>> with_usual([])[0][:20]
    'This is an estimate '
    """
    return list(dict.fromkeys([*special, *USUAL]))
