"""Three reference collectors with frozen relations, and a constant day for the march of the year."""

import numpy as np

from simengine.airflow.passive import Passive
from simengine.collector.network import Array, FlowTable, Forcing, Network, Weather
from simengine.collector.spec import Absorber, AirSpace, Back, Collector, Pane
from simengine.control.rule import Rule
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march
from simengine.engine.state import RUNNING, WARM, Member, Scratch, State, new_scratch, new_state
from simengine.heat_transfer.gap_curve import gap_table
from simengine.heat_transfer.inclined_gap import hollands
from tests.collector.by_hand import BOARD, SCREEN, numbers, thin_glass, with_box, with_films, with_flow

AREA, WIDTH = 2.88, 1.2
INLET = 293.15
SUNNY = Weather(ambient=273.15, sky=273.15, wind_coefficient=11.8, incident=800.0)
ABSORBED = np.array([0.0, 0.8461 * 800.0])  # nothing in the glass: that is how the references were computed
CONDUCTIVITY, VISCOSITY = 0.0270, 1.90e-5
BACK_LOSS = 1.0  # [W/m2K]


def reference(arrangement: str, segments: int, depth: float = 0.025) -> Collector:
    """Return the collector that all three share: 1.2 x 2.4 m at 60 deg, one glass."""
    through = arrangement == "through"
    absorber = Absorber(
        "plate", emittance_front=0.95, emittance_back=0.95, perforation=SCREEN if through else None
    )
    return Collector(
        width=WIDTH,
        length=AREA / WIDTH,
        tilt=60.0,
        azimuth=180.0,
        arrangement=arrangement,
        panes=(Pane("glass", 0.004, emittance_outside=0.88, emittance_inside=0.88),),
        pane_gaps=(),
        front=AirSpace(depth, depth),
        absorber=absorber,
        rear=AirSpace(depth, depth),
        back=Back((BOARD,), emittance=0.90),
        segments=segments,
    )


def back_lost(network: Network) -> Network:
    """Return the network with the references' loss from the inner face of the back to ambient.

    Their glass has one temperature.
    """
    link = 3.0 * BACK_LOSS
    return with_box(thin_glass(network), face_link=link, box_link=link, outer_link=link)


def channel_film(mass_flow: float, depth: float) -> float:
    """Return the references' film [W/m2K]: max(5.385, 0.0158 Re^0.8) k / D_h."""
    reynolds = 2.0 * mass_flow / (WIDTH * VISCOSITY)
    return max(5.385, 0.0158 * reynolds**0.8) * CONDUCTIVITY / (2.0 * depth)


def back_pass(flux: float, segments: int = 200) -> tuple[Network, FlowTable]:
    """R1: still gap by Hollands' relation, air in a 25 mm channel under the plate; flux in kg/s m2."""
    network, table = numbers(reference("behind", segments), flux * AREA)
    network, table = with_films(network, table, 0.0, channel_film(flux * AREA, 0.025))
    network.nusselt[0, 0] = gap_table(hollands, 60.0, AREA / WIDTH / 0.025)
    return back_lost(network), table


def two_pass(flux: float, segments: int = 40) -> tuple[Network, FlowTable]:
    """R3: down a 25 mm channel above the plate, back through one under it."""
    network, table = numbers(reference("two_pass", segments), flux * AREA)
    film = channel_film(flux * AREA, 0.025)
    network, table = with_films(network, table, film, film)
    return back_lost(network), table


def through_flow(flux: float) -> tuple[Network, FlowTable]:
    """R2: well-mixed front air, a sheet of effectiveness 0.80, a well-mixed plenum; films given."""
    network, table = numbers(reference("through", 1), flux * AREA)
    network, table = with_films(network, table, 3.0, 4.0)
    return back_lost(network), with_flow(table, effectiveness=0.80, contact=0.0)


def member(network: Network, table: FlowTable, weather: Weather, absorbed: Array, room: float) -> Member:
    """Return a march of one interval over and over: fan always on, room held exactly at a temperature."""
    rule = Rule(1.0, 0.0, 0.0, 60.0, 1.0e4, 0.5, 0.0, 0.0, 1.0, 1.0e9, 1.0e9, 0.0, 1.0)
    zone = [50.0, 2000.0, 30.0, 3000.0, 100.0, 1.0e6, 5.0e7, 1.0e12]
    return Member(
        network,
        table,
        Forcing(np.array([weather]), np.atleast_2d(absorbed)),
        np.array(rule[:-1])[:, None],
        np.ones((1, 1)),
        np.zeros((len(Passive._fields), 1)),
        np.array(zone)[:, None],
        np.array([0.0, 0.0, 0.0, room, room])[None, :, None],
    )


def march_on(
    member: Member, state: State, steps: int, length: float, work: Scratch | None = None
) -> tuple[State, Array]:
    """March so many steps of a length [s] in the one interval; return the state and the ledger [column]."""
    panes, segments = member.network.panes, member.network.path.shape[1]
    work = new_scratch(panes, segments, 1) if work is None else work
    hours, plan = np.zeros((1, COLUMNS, 1)), np.array([steps], dtype=np.int64)
    march(member, plan, steps * length, state, work, hours)
    return state, hours[0, :, 0]


def started(member: Member, temperature: float) -> State:
    """Return a state at one temperature with the fan running."""
    state = new_state(member.network.panes, member.network.path.shape[1], 1, temperature)
    state.control[WARM] = 1.0
    state.control[RUNNING] = 1.0
    return state
