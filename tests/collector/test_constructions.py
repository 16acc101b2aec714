"""Every typical part passes the same battery."""

import numpy as np
import pytest

from simengine.collector import constructions as library
from simengine.collector.angular import FALL_OFFS, beam_shares
from simengine.collector.constructions import ABSORBERS, LAYERS, LININGS, PANES
from simengine.collector.limits import LIMITS
from simengine.collector.optics import cover_transmittance
from simengine.errors import InputError, RangeError

TABLES = (PANES, ABSORBERS, LAYERS, LININGS)
ALL = [(key, entry) for table in TABLES for key, entry in table.items()]
KEYS = [key for key, _ in ALL]


@pytest.mark.parametrize(("key", "entry"), ALL, ids=KEYS)
def test_every_part_has_its_key_a_source_and_a_known_material(key: str, entry: library.Entry) -> None:
    assert entry.part.name == key
    assert entry.source
    assert entry.part.material in LIMITS


def test_no_key_is_used_twice() -> None:
    assert len(set(KEYS)) == len(KEYS)


@pytest.mark.parametrize("key", PANES)
def test_every_pane_has_plausible_figures(key: str) -> None:
    sheet = library.pane(key)
    passed = cover_transmittance([sheet], np.array([0.0, 60.0, 90.0]))
    assert 0.4 < passed[0] < 0.97 and passed[1] < passed[0] and passed[2] == 0.0
    assert 0.0 < sheet.thickness < 0.02
    assert 100.0 < sheet.density < 2600.0 and 500.0 < sheet.specific_heat < 1800.0
    assert 0.03 < sheet.conductivity <= 1.1
    assert 0.0 < sheet.emittance_outside <= 1.0 and 0.0 < sheet.emittance_inside <= 1.0


@pytest.mark.parametrize("key", PANES)
@pytest.mark.parametrize("black", ABSORBERS)
def test_every_pane_closes_over_every_absorber(key: str, black: str) -> None:
    shares = beam_shares([library.pane(key)], library.absorber(black), np.linspace(0.0, 180.0, 61))
    total = shares.pane.sum(axis=0) + shares.absorber + shares.reflected
    assert total == pytest.approx(np.ones(61), abs=1e-12)


@pytest.mark.parametrize("key", ABSORBERS)
def test_every_absorber_has_plausible_figures(key: str) -> None:
    sheet = library.absorber(key)
    assert 0.85 <= sheet.absorptance <= 0.97
    assert 0.0 < sheet.emittance_front <= 1.0 and 0.0 < sheet.emittance_back <= 1.0
    assert 100.0 < sheet.heat_capacity < 6000.0
    assert sheet.fall_off in FALL_OFFS
    if sheet.perforation is not None:
        assert 0.0 < sheet.perforation.porosity < 1.0
        assert (sheet.perforation.effectiveness is None) == (sheet.perforation.hole_diameter is not None)


@pytest.mark.parametrize("key", LAYERS)
def test_every_layer_has_plausible_figures(key: str) -> None:
    board = library.layer(key)
    assert 0.005 <= board.thickness <= 0.1
    assert 0.02 <= board.conductivity <= 0.5
    assert 10.0 < board.density < 2000.0 and 800.0 < board.specific_heat < 2500.0


@pytest.mark.parametrize(
    ("key", "low", "high"),
    [
        # Common practice: usual solar transmittances at normal incidence.
        ("clear_float_3mm", 0.84, 0.88),  # from memory, makers' range
        ("clear_float_4mm", 0.82, 0.86),  # from memory, makers' range
        ("low_iron_4mm", 0.89, 0.915),  # from memory, makers' range
        ("twin_wall_polycarbonate_10mm", 0.75, 0.83),
        ("fep_film", 0.94, 0.97),
    ],
)
def test_usual_transmittances(key: str, low: float, high: float) -> None:
    assert low <= cover_transmittance([library.pane(key)], np.zeros(1))[0] <= high


def test_perforated_sheet_has_the_porosity_of_its_holes() -> None:
    # Mathematics: pi D^2 / (2 sqrt(3) P^2) for holes in a triangular pattern.
    holes = library.absorber("perforated_steel_sheet").perforation
    assert holes is not None and holes.hole_diameter is not None and holes.pitch is not None
    share = np.pi * holes.hole_diameter**2 / (2 * np.sqrt(3) * holes.pitch**2)
    assert holes.porosity == pytest.approx(share, rel=1e-3)


def test_foam_board_of_one_inch_is_r_6() -> None:
    # Unit identity: R-6 h ft2 degF/Btu is 1.057 m2K/W.
    board = library.layer("polyiso_foil_faced", 0.0254)
    assert board.thickness / board.conductivity == pytest.approx(1.057, rel=0.002)


def test_thickness_can_be_chosen_where_it_makes_sense() -> None:
    assert library.pane("clear_float_4mm", 0.005).thickness == 0.005
    assert library.layer("plywood").thickness == LAYERS["plywood"].part.thickness
    for key in ("low_e_hard_coat_4mm", "twin_wall_polycarbonate_10mm"):
        with pytest.raises(InputError, match="leave the thickness out"):
            library.pane(key, 0.005)
    for thickness in (0.0, -0.01, float("nan")):
        with pytest.raises(RangeError, match="above 0"):
            library.layer("plywood", thickness)


@pytest.mark.parametrize("find", [library.pane, library.absorber, library.layer, library.lining])
def test_unknown_key_names_the_known_ones(find: object) -> None:
    assert callable(find)
    with pytest.raises(InputError, match="'glas' is not known; accepted: "):
        find("glas")


def test_lining_is_found() -> None:
    assert library.lining("bare_aluminium_foil") is LININGS["bare_aluminium_foil"].part
