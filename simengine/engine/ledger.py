"""The columns of the ledger: what the march adds up for every step, and how a column is read."""

from enum import IntEnum


class Column(IntEnum):
    """One column of the ledger: an energy [J], a mean power [W] in the hours, unless said otherwise."""

    COVER_CONVECTION = 0
    COVER_LONGWAVE = 1
    BACK_LOSS = 2
    EDGE_LOSS = 3
    WALL_HEAT = 4  # through the house wall behind the collector into the room
    INCIDENT = 5
    ABSORBED = 6
    DUCT_LOSS = 7
    COLLECTED = 8  # into the air between collector inlet and outlet
    FAN_HEAT = 9
    FAN_POWER = 10  # electric
    DELIVERED = 11  # by the air into the space that it is given to, where positive
    NIGHT_LOSS = 12  # by the air out of that space
    STORED = 13  # in the collector
    HEATING = 14
    VENTED = 15
    HOUSE_GAIN = 16  # sun and people
    HOUSE_LOSS = 17  # to outdoors and ground
    HOUSE_STORED = 18
    FAN_ON = 19  # [s], a share in the hours
    FAN_STARTS = 20  # count, not divided by time
    AIR_MASS = 21  # [kg], kg/s in the hours
    ROOM = 22  # [K s], a mean temperature in the hours; so are the next four
    ABSORBER = 23
    COVER = 24
    OUTLET = 25
    SUPPLY = 26
    LEAK_LOSS = 27  # with air that leaks in or out of the box
    CARRIED = 28  # by air from the space that it is given to into the space that it is taken from
    FRESH_AIR = 29  # that lifts outdoor air to the temperature of the space that it is given to
    VENTILATION_REPLACED = 30  # loss of the house's own ventilation that fresh air makes needless
    SECOND_SPACE = 31  # [K s], a mean temperature in the hours
    DRIFT_ON = 32  # [s] air moves while the fan rests, a share in the hours
    PEAK_SUPPLY = 33  # [K] highest while air moves, not divided by time
    RESIDUAL = 34  # [-] worst residual of a step over max(terms, 1 W/m2 A), not divided by time
    HOUSE_RESIDUAL = 35  # [-] the same for the house


COLUMNS = len(Column)

EXTREME_FROM = int(Column.PEAK_SUPPLY)
"""Columns from here on keep the largest value instead of a sum."""

BOX_TERMS = (
    (int(Column.ABSORBED), 1.0),
    (int(Column.FAN_HEAT), 1.0),
    (int(Column.NIGHT_LOSS), 1.0),
    (int(Column.COVER_CONVECTION), -1.0),
    (int(Column.COVER_LONGWAVE), -1.0),
    (int(Column.BACK_LOSS), -1.0),
    (int(Column.EDGE_LOSS), -1.0),
    (int(Column.WALL_HEAT), -1.0),
    (int(Column.DUCT_LOSS), -1.0),
    (int(Column.LEAK_LOSS), -1.0),
    (int(Column.DELIVERED), -1.0),
    (int(Column.CARRIED), -1.0),
    (int(Column.FRESH_AIR), -1.0),
    (int(Column.STORED), -1.0),
)
"""Column and sign of every term in the balance of the collector and its air loop."""

HOUSE_TERMS = (
    (int(Column.HOUSE_GAIN), 1.0),
    (int(Column.HEATING), 1.0),
    (int(Column.DELIVERED), 1.0),
    (int(Column.CARRIED), 1.0),
    (int(Column.VENTILATION_REPLACED), 1.0),
    (int(Column.WALL_HEAT), 1.0),
    (int(Column.NIGHT_LOSS), -1.0),
    (int(Column.VENTED), -1.0),
    (int(Column.HOUSE_LOSS), -1.0),
    (int(Column.HOUSE_STORED), -1.0),
)
"""The same for the house: heated space and second space together."""
