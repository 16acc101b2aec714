"""The ledger's own order: every flow of heat in its place, and what leaves the box enters the house."""

from simengine.engine.ledger import BOX_TERMS, COLUMNS, EXTREME_FROM, HOUSE_TERMS, Column

BOX, HOUSE = (dict(terms) for terms in (BOX_TERMS, HOUSE_TERMS))
NOT_A_TERM = {
    Column.INCIDENT,  # absorbed and reflected
    Column.COLLECTED,  # delivered, ducts and leaks, before they are told apart
    Column.FAN_POWER,  # electric
    Column.FAN_ON,
    Column.FAN_STARTS,
    Column.DRIFT_ON,
    Column.AIR_MASS,
    Column.ROOM,
    Column.ABSORBER,
    Column.COVER,
    Column.OUTLET,
    Column.SUPPLY,
    Column.SECOND_SPACE,
}


def test_columns_are_counted_from_zero_without_a_hole() -> None:
    assert sorted(int(column) for column in Column) == list(range(COLUMNS))


def test_largest_values_come_after_the_sums() -> None:
    assert {column for column in Column if column >= EXTREME_FROM} == {
        Column.PEAK_SUPPLY,
        Column.RESIDUAL,
        Column.HOUSE_RESIDUAL,
    }


def test_every_flow_of_heat_is_in_a_balance_once() -> None:
    assert len(BOX) == len(BOX_TERMS)
    assert len(HOUSE) == len(HOUSE_TERMS)
    sums = {int(column) for column in Column if column < EXTREME_FROM}
    assert set(BOX) | set(HOUSE) == sums - {int(column) for column in NOT_A_TERM}


def test_what_one_balance_gives_the_other_takes() -> None:
    shared = set(BOX) & set(HOUSE)
    assert shared == {Column.DELIVERED, Column.NIGHT_LOSS, Column.WALL_HEAT, Column.CARRIED}
    for column in shared:
        assert BOX[column] == -HOUSE[column]


def test_sun_fan_and_heater_bring_heat_and_losses_take_it() -> None:
    assert [BOX[c] for c in (Column.ABSORBED, Column.FAN_HEAT)] == [1.0, 1.0]
    assert [HOUSE[c] for c in (Column.HEATING, Column.HOUSE_GAIN)] == [1.0, 1.0]
    losses = (Column.COVER_CONVECTION, Column.COVER_LONGWAVE, Column.BACK_LOSS, Column.EDGE_LOSS)
    assert {BOX[c] for c in (*losses, Column.DUCT_LOSS, Column.LEAK_LOSS, Column.STORED)} == {-1.0}
    assert {HOUSE[c] for c in (Column.HOUSE_LOSS, Column.VENTED, Column.HOUSE_STORED)} == {-1.0}
