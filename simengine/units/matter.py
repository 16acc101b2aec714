"""Units of mass, density, pressure and flow."""

from typing import Final

from simengine.constants import GRAVITY
from simengine.units.factors import CFM, FOOT, FOOT2, FOOT3, HOUR, INCH, LITRE, POUND, SCFM
from simengine.units.kinds import Kind, Unit

MATTER: Final = (
    Kind(
        "mass",
        "a mass",
        "40 lb",
        (
            Unit("kg", 1.0),
            Unit("g", 1e-3),
            Unit("t", 1e3, "tonne|tonnes|metric ton"),
            Unit("lb", POUND, "lbs|pound|pounds"),
            Unit("short ton", 2000 * POUND, "short tons|US ton"),
        ),
        si=(("kg", 0.0),),
        us=(("lb", 0.0),),
    ),
    Kind(
        "density",
        "a density",
        "30 kg/m3",
        (Unit("kg/m3", 1.0), Unit("lb/ft3", POUND / FOOT3, "pcf")),
        si=(("kg/m3", 0.0),),
        us=(("lb/ft3", 0.0),),
    ),
    Kind(
        "pressure",
        "a pressure",
        "0.25 in.wg",
        (
            Unit("Pa", 1.0, "pascal"),
            Unit("hPa", 100.0),
            Unit("kPa", 1e3),
            Unit("mbar", 100.0),
            Unit("in.wg", INCH * 1000 * GRAVITY, "in.wc|inH2O|in.w.g.|iwg|iwc"),
            Unit("mm.wg", 1e-3 * 1000 * GRAVITY, "mm.wc|mmH2O"),
            Unit("inHg", INCH * 13595.1 * GRAVITY, "in.Hg"),
            Unit("psi", POUND * GRAVITY / INCH**2),
        ),
        si=(("Pa", 0.0), ("hPa", 5e4)),
        us=(("in.wg", 0.0), ("inHg", 5e4)),
    ),
)


FLOW: Final = (
    Kind(
        "volume_flow",
        "a volume flow",
        "110 cfm",
        (
            Unit("m3/s", 1.0),
            Unit("m3/h", 1 / HOUR, "m3/hr|cmh"),
            Unit("L/s", LITRE, "l/s"),
            Unit("cfm", CFM, "ft3/min"),
        ),
        si=(("m3/h", 0.0),),
        us=(("cfm", 0.0),),
    ),
    Kind(
        "mass_flow",
        "a mass flow",
        "0.06 kg/s",
        (
            Unit("kg/s", 1.0),
            Unit("kg/h", 1 / HOUR, "kg/hr"),
            Unit("lb/h", POUND / HOUR, "lb/hr"),
            Unit("scfm", SCFM),
        ),
        si=(("kg/s", 0.0),),
        us=(("scfm", 0.0),),
    ),
    Kind(
        "volume_flux",
        "a volume flow per area",
        "3 cfm/ft2",
        (
            Unit("m3/s.m2", 1.0),
            Unit("m3/h.m2", 1 / HOUR),
            Unit("L/s.m2", LITRE, "l/s.m2"),
            Unit("cfm/ft2", CFM / FOOT2),
        ),
        si=(("m3/h.m2", 0.0),),
        us=(("cfm/ft2", 0.0),),
    ),
    Kind(
        "mass_flux",
        "a mass flow per area",
        "0.02 kg/s.m2",
        (
            Unit("kg/s.m2", 1.0, "kg/m2.s"),
            Unit("kg/h.m2", 1 / HOUR, "kg/m2.h"),
            Unit("scfm/ft2", SCFM / FOOT2),
        ),
        si=(("kg/s.m2", 0.0),),
        us=(("scfm/ft2", 0.0),),
    ),
    Kind(
        "speed",
        "a speed",
        "3 m/s",
        (
            Unit("m/s", 1.0),
            Unit("km/h", 1 / 3.6, "kph"),
            Unit("mph", 5280 * FOOT / HOUR),
            Unit("fpm", FOOT / 60, "ft/min"),
        ),
        si=(("m/s", 0.0),),
        us=(("mph", 0.0),),
    ),
    Kind(
        "air_changes",
        "an air change rate",
        "0.5 1/h",
        (Unit("1/s", 1.0), Unit("1/h", 1 / HOUR, "ach|/h|h-1|1/hr")),
        si=(("1/h", 0.0),),
        us=(("1/h", 0.0),),
    ),
)
