"""An invented collector whose every conductance is known, taken at given temperatures and held."""

from dataclasses import dataclass

import numpy as np

from simengine.collector.films import still_conductance
from simengine.collector.network import Array, FlowTable, Network, Weather, read_box
from simengine.constants import SPECIFIC_HEAT_AIR, STEFAN_BOLTZMANN
from tests.collector.by_hand import collector, numbers, thin_glass, turn, with_box, with_films

AMBIENT, SUN, AREA, MASS_FLOW = 278.15, 640.0, 2.88, 0.06
WEATHER = Weather(
    AMBIENT, AMBIENT, 13.0, 800.0
)  # one temperature around the box, as the closed forms have it
GLASS, SHEET, LINING = 300.0, 340.0, 320.0  # [K] where conductances are taken
CAPACITY = MASS_FLOW * SPECIFIC_HEAT_AIR / AREA  # [W/m2K]
FRONT_FILM, REAR_FILM, AREA_RATIO = 9.0, 7.0, 1.3


def radiation(one: float, other: float, exchange: float) -> float:
    return STEFAN_BOLTZMANN * exchange * (one**4 - other**4) / (one - other)


@dataclass(frozen=True)
class Frozen:
    """A network whose every conductance is known, and these conductances [W/m2K]."""

    network: Network
    table: FlowTable
    top: float  # glass to ambient
    front: float  # radiation glass to sheet, and the still gap where no air flows
    rear: float  # the same, sheet to lining
    bottom: float  # lining to ambient

    def run(self, inlet: float) -> tuple[float, Array]:
        """Return outlet and wall temperatures [3, segment] at an inlet temperature [K]."""
        segments = self.network.path.shape[1]
        guess = np.array([GLASS, SHEET, LINING, 300.0, 285.0])[:, None] * np.ones((1, segments))
        found = turn(
            self.network,
            self.table,
            guess,
            weather=WEATHER,
            absorbed=np.array([0.0, SUN]),
            inlet=(inlet, 0.0),
        )
        return found.outlet, found.nodes[:3]


def frozen(arrangement: str, segments: int, **box: float) -> Frozen:
    """Return a collector with given films; the sheet offers more surface, so that the two walls differ."""
    network, table = numbers(collector(arrangement, segments), MASS_FLOW)
    network = thin_glass(network)
    flows = network.path[:, 0, 0]
    in_front, behind = flows[0] > 0.0, flows[4] > 0.0
    network, table = with_films(network, table, FRONT_FILM if in_front else 0.0, REAR_FILM if behind else 0.0)
    tubes = arrangement == "tubes"
    gaps = [0.0, 0.0]
    for space, still in ((0, not in_front), (1, not behind or tubes)):  # round tubes the air stands still
        if still:
            network.nusselt[space] = 2.0
            walls = (GLASS, SHEET) if space == 0 else (SHEET, LINING)
            gaps[space] = still_conductance(network, space, 0, 0, *walls)
    values = {"front_area": AREA_RATIO if in_front else 1.0, **box}
    values["rear_area"] = AREA_RATIO if behind else 1.0
    network = with_box(network, **{**values, "tubes": float(tubes)})
    made = read_box(network.box, 0)
    return Frozen(
        network,
        table,
        WEATHER.wind_coefficient + radiation(GLASS, AMBIENT, made.cover_emittance),
        radiation(GLASS, SHEET, network.exchange[0, 0]) + gaps[0],
        radiation(SHEET, LINING, network.exchange[1, 0]) + gaps[1],
        1.0 / (1.0 / made.face_link + 1.0 / made.box_link + 1.0 / made.outer_link),
    )


def in_series(one: float, other: float) -> float:
    return one * other / (one + other) if one + other > 0.0 else 0.0
