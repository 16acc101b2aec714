"""What fills a sealed gap."""

import pytest
from CoolProp.CoolProp import PropsSI

from simengine.air.gases import DryAir, Gas
from simengine.collector.gap_filling import STANDARD_AIR, filling
from simengine.collector.spec import SealedGap
from simengine.errors import InputError, RangeError


@pytest.mark.parametrize("temperature", [263.15, 283.15, 293.15])
def test_standard_air_against_an_equation_of_state(temperature: float) -> None:
    # Reference library CoolProp at 1 bar; the standard's table is rounded and old: 1 %.
    assert STANDARD_AIR.density(temperature, 1e5) == pytest.approx(
        PropsSI("D", "T", temperature, "P", 1e5, "Air"), rel=0.01
    )
    assert STANDARD_AIR.dynamic_viscosity(temperature) == pytest.approx(
        PropsSI("V", "T", temperature, "P", 1e5, "Air"), rel=0.01
    )
    assert STANDARD_AIR.thermal_conductivity(temperature) == pytest.approx(
        PropsSI("L", "T", temperature, "P", 1e5, "Air"), rel=0.01
    )


def test_a_full_gap_holds_the_pure_gas() -> None:
    full, pure = filling(SealedGap(0.016, "argon")), filling(SealedGap(0.012, "argon", 1.0))
    assert isinstance(full, Gas) and full == pure
    assert isinstance(filling(SealedGap(0.016)), DryAir)


def test_a_gap_without_its_gas_holds_standard_air() -> None:
    empty = filling(SealedGap(0.016, "krypton", 0.0))
    assert empty.thermal_conductivity(283.15) == pytest.approx(STANDARD_AIR.thermal_conductivity(283.15))
    assert empty.density(283.15, 1e5) == pytest.approx(STANDARD_AIR.density(283.15, 1e5))


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_impossible_share_is_refused(share: float) -> None:
    with pytest.raises(RangeError, match="0 to 1"):
        filling(SealedGap(0.016, "argon", share))


def test_unknown_gas_is_refused() -> None:
    with pytest.raises(InputError, match="accepted"):
        filling(SealedGap(0.016, "steam"))
