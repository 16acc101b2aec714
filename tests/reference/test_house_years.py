"""The heated space over a real year against two independent codings of the hourly method of ISO 13790.

Rows H33 to H35 and W: own reference solutions (derived; conventions in `house_year`), not published figures.
"""

import numpy as np
import pytest

from tests.reference.house_year import built_in_year, house, run_year, south_wall_year

# opaque, window and ventilation conductance [W/K], solar aperture [m2], internal gain [W]
HOUSES = {"A": ((133.0, 70.0, 70.0), 3.4, 420.0), "B": ((29.4, 20.0, 15.17), 4.5, 294.0)}


WEATHERS = {"from the file": south_wall_year, "built in": built_in_year}


@pytest.fixture(scope="module", params=WEATHERS)
def weather(request):
    return WEATHERS[request.param]()


@pytest.fixture(scope="module")
def years(weather):
    return {
        name: tuple(run_year(house(*parts), weather, aperture, internal, on) for on in (False, True))
        for name, (parts, aperture, internal) in HOUSES.items()
    }


def test_sun_and_cold_are_those_of_the_reference(weather) -> None:
    # recomputed from the file: 1085.2 kWh/m2 and 2081.5 K d below 18 degC from daily means, 0.5 %
    assert weather.south.sum() / 1000.0 == pytest.approx(1085.2, rel=0.005)
    daily = weather.dry_bulb.reshape(-1, 24).mean(axis=1)
    assert np.maximum(18.0 - daily, 0.0).sum() == pytest.approx(2081.5, rel=0.005)


@pytest.mark.parametrize(
    ("name", "bare", "helped", "delivered", "share"),
    [
        pytest.param("A", 11570.9, 10738.0, 1304.83, 0.638317, id="H33 house A"),
        pytest.param("B", 725.459, 559.049, 354.399, 0.469555, id="H33 house B"),
    ],
)
def test_year_of_a_reference_house(years, name, bare, helped, delivered, share) -> None:
    # two independent own codings; tolerance 1 % on heat, 2 % on the useful share
    without, with_it = years[name]
    assert without.heating == pytest.approx(bare, rel=0.01)
    assert with_it.heating == pytest.approx(helped, rel=0.01)
    assert with_it.delivered == pytest.approx(delivered, rel=0.01)
    assert (without.heating - with_it.heating) / with_it.delivered == pytest.approx(share, rel=0.02)


def test_the_well_insulated_house_uses_a_smaller_share(years) -> None:
    # H34: qualitative invariant
    share = {name: (a.heating - b.heating) / b.delivered for name, (a, b) in years.items()}
    assert 0.0 < share["B"] < share["A"] < 1.0


def test_the_year_closes(years) -> None:
    # H35: heat in less heat out less heat stored, kWh
    for pair in years.values():
        for year in pair:
            assert year.balance == pytest.approx(0.0, abs=1e-6)
