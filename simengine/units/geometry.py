"""Units of length, area, volume, angle and per length."""

from typing import Final

from simengine.units.factors import FOOT, FOOT2, FOOT3, GALLON, INCH, LITRE
from simengine.units.kinds import Kind, Unit

GEOMETRY: Final = (
    Kind(
        "length",
        "a length",
        "6 in",
        (
            Unit("m", 1.0, "metre|metres|meter|meters"),
            Unit("cm", 1e-2),
            Unit("mm", 1e-3),
            Unit("in", INCH, 'inch|inches|"'),
            Unit("ft", FOOT, "foot|feet|'"),
        ),
        si=(("mm", 0.0), ("m", 0.5)),
        us=(("in", 0.0), ("ft", 10 * FOOT)),
    ),
    Kind(
        "area",
        "an area",
        "42 ft2",
        (
            Unit("m2", 1.0, "sq m"),
            Unit("cm2", 1e-4, "sq cm"),
            Unit("mm2", 1e-6, "sq mm"),
            Unit("in2", 0.00064516, "sq in"),
            Unit("ft2", FOOT2, "sq ft|sqft"),
        ),
        si=(("m2", 0.0),),
        us=(("in2", 0.0), ("ft2", 0.1 * FOOT2)),
    ),
    Kind(
        "volume",
        "a volume",
        "12000 ft3",
        (
            Unit("m3", 1.0, "cu m"),
            Unit("L", LITRE, "l|litre|litres|liter|liters"),
            Unit("ft3", FOOT3, "cu ft|cuft|cf"),
            Unit("ccf", 100 * FOOT3, "CCF"),
            Unit("kcf", 1000 * FOOT3),
            Unit("gal", GALLON, "gallon|gallons|US gal"),
            Unit("cord", 128 * FOOT3, "cords"),
            Unit("stere", 1.0, "steres"),
        ),
        si=(("L", 0.0), ("m3", 1.0)),
        us=(("gal", 0.0), ("ft3", 4.0)),
    ),
    Kind(
        "angle",
        "an angle",
        "60 deg",
        (
            Unit("deg", 1.0, "degree|degrees"),
            Unit("rad", 57.29577951308232, "radian|radians"),
        ),
        si=(("deg", 0.0),),
        us=(("deg", 0.0),),
    ),
    Kind(
        "per_length",
        "an extinction coefficient",
        "25 1/m",
        (Unit("1/m", 1.0, "m-1|/m"), Unit("1/mm", 1e3, "mm-1|/mm"), Unit("1/in", 1 / INCH, "in-1|/in")),
        si=(("1/m", 0.0),),
        us=(("1/in", 0.0),),
    ),
)
