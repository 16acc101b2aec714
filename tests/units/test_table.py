"""Every unit against pint, an independent unit library, and against published conversions."""

import importlib.util
from pathlib import Path

import pint
import pytest

from simengine.units import KINDS, parse, to_unit

_SPEC = importlib.util.spec_from_file_location("pint_names", Path(__file__).with_name("pint_names.py"))
assert _SPEC is not None and _SPEC.loader is not None
_NAMES = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(_NAMES)
PINT: dict[str, dict[str, str]] = _NAMES.PINT

UNITS = [(kind, unit) for kind, units in PINT.items() for unit in units]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


def test_the_reference_knows_every_unit_of_the_table() -> None:
    table = {(name, unit.name) for name, kind in KINDS.items() for unit in kind.units}
    assert table - set(UNITS) == {("temperature", unit) for unit in ("K", "degC", "degF")}
    assert set(UNITS) <= table


@pytest.mark.parametrize(("kind", "unit"), UNITS)
def test_each_unit_agrees_with_pint(registry: pint.UnitRegistry, kind: str, unit: str) -> None:
    inside = KINDS[kind].inside.name
    reference = registry.parse_expression(PINT[kind][unit]) / registry.parse_expression(PINT[kind][inside])
    expected = reference.to("dimensionless").magnitude
    assert parse(f"7.25 {unit}", kind) == pytest.approx(7.25 * expected, rel=1e-9)  # definitions of the units


@pytest.mark.parametrize("unit", ["K", "degC", "degF"])
@pytest.mark.parametrize("number", [-40.0, 0.0, 20.0, 110.0, 451.0])
def test_each_temperature_level_agrees_with_pint(
    registry: pint.UnitRegistry, unit: str, number: float
) -> None:
    expected = registry.Quantity(number, unit).to("K").magnitude
    assert parse(f"{number} {unit}", "temperature") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("kind", "unit"), UNITS)
def test_every_unit_goes_both_ways(kind: str, unit: str) -> None:
    assert to_unit(parse(f"3.7 {unit}", kind), kind, unit) == pytest.approx(3.7, rel=1e-12)  # mathematics


@pytest.mark.parametrize(
    ("text", "kind", "unit", "expected", "relative"),
    [
        # unit identities; the figures as printed by the sources named
        ("R-4.2", "thermal_resistance", "m2K/W", 0.740, 1e-3),  # duct insulation, unit identity
        ("R-6", "thermal_resistance", "m2K/W", 1.057, 1e-3),  # duct insulation, unit identity
        ("1 kWh", "energy", "Btu", 3412.0, 2e-4),  # US Energy Information Administration, published
        ("137381 Btu/gal", "heat_content_volume", "Btu/gal", 5.77e6 / 42, 1e-5),  # 5.77 MMBtu a barrel, EIA
        ("138500 Btu/gal", "heat_content_volume", "MJ/L", 38.6, 1e-3),  # heating oil, EIA value
        ("91452 Btu/gal", "heat_content_volume", "MJ/L", 25.49, 1e-3),  # propane, EIA value
        ("1039 Btu/ft3", "heat_content_volume", "MJ/m3", 38.71, 1e-3),  # natural gas, EIA value
        (
            "16.5 MMBtu/short ton",
            "heat_content_mass",
            "MJ/kg",
            19.19,
            1e-3,
        ),  # pellets, Oregon State University
        ("20 MMBtu", "energy", "kWh", 5861.0, 1e-3),  # a cord of wood, EIA round value
        ("53.06 kg/MMBtu", "emission_factor", "kg/kWh", 0.18105, 1e-3),  # gas, 40 CFR 98 table C-1
        ("73.96 kg/MMBtu", "emission_factor", "kg/kWh", 0.25236, 1e-3),  # oil, 40 CFR 98 table C-1
        ("3 scfm/ft2", "mass_flux", "kg/s.m2", 0.0183, 3e-3),  # standard air, unit identity
        ("2 cfm/ft2", "volume_flux", "L/s.m2", 10.16, 1e-3),  # unit identity
        ("4 cfm/ft2", "volume_flux", "L/s.m2", 20.32, 1e-3),  # unit identity
        ("165 degF", "temperature", "degC", 73.9, 0.8 / 73.9),  # ASTM C578 scope
        ("300 degF", "temperature", "degC", 149.0, 0.8 / 149.0),  # ASTM C591 scope
        ("212 degF", "temperature", "degC", 100.0, 1e-9),  # boiling water, definition
        ("140 degF", "temperature", "degC", 60.0, 1e-9),  # ASTM E2188 test
        ("110 scfm", "mass_flow", "kg/s", 0.062, 1e-2),  # standard air, unit identity
    ],
)
def test_published_conversions(text: str, kind: str, unit: str, expected: float, relative: float) -> None:
    assert to_unit(parse(text, kind), kind, unit) == pytest.approx(expected, rel=relative)


def test_air_power_of_one_cfm_at_one_inch_of_water() -> None:
    # unit identity: 1 cfm x 1 in.wg = 0.1175 W within 0.2 %
    power = parse("1 cfm", "volume_flow") * parse("1 in.wg", "pressure")
    assert power == pytest.approx(0.1175, rel=2e-3)
