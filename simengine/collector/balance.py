"""The heat balance of one segment: three walls and two air streams, solved exactly.

The walls are the innermost pane (c), the absorber (p) and the inner face of the back (b); what lies
outside of them is seen as one conductance and one source (`look_outwards`). The answer is affine in
what enters the segment: every temperature is  constant + room T_room + front T_f,in + rear T_r,in.
"""

from typing import NamedTuple

from simengine.compiled import kernel


class Space(NamedTuple):
    """The air space between two walls, with the numbers of `airstream` for what flows in it."""

    outer_film: float  # [W/m2K] air to the wall nearer to the sun
    inner_film: float  # [W/m2K] air to the other wall
    radiation: float  # [W/m2K] wall to wall, past the stream
    pull: float  # [-] weight of the walls in what the stream tends to
    end: float  # [-] share of its inlet excess that the stream keeps at the end
    mean: float  # [-] the same, on average


class Side(NamedTuple):
    """What a wall sees away from the air: storage, outside conductance and all sources."""

    conductance: float  # [W/m2K] storage and outside together
    source: float  # [W/m2] absorbed sun, outside and stored heat
    room_source: float  # [W/m2K] source per kelvin of room temperature


class Affine(NamedTuple):
    """A temperature as constant + room T_room + front T_f,in + rear T_r,in."""

    constant: float  # [K]
    room: float  # [-]
    front: float  # [-]
    rear: float  # [-]


class Response(NamedTuple):
    """Walls and stream outlets of one segment."""

    cover: Affine
    absorber: Affine
    back: Affine
    front_out: Affine
    rear_out: Affine


@kernel
def look_outwards(
    conductance: float, source: float, storage: float, gain: float, link: float
) -> tuple[float, float]:
    """Return what the next node inwards sees through one more node: conductance and source.

    A node that sees the outside as  flux = conductance * T - source  stores heat and takes up a
    gain; the next node is joined to it by a link.

    Parameters
    ----------
    conductance : seen outwards from the node [W/m2K]
    source : seen outwards from the node [W/m2]
    storage : heat capacity over step length [W/m2K]
    gain : absorbed heat plus storage times the earlier temperature [W/m2]
    link : conductance between the node and the next one inwards [W/m2K]

    Returns
    -------
    (conductance, source) seen from the next node [W/m2K], [W/m2]

    Source: elimination of one row of the heat balance.

    >>> look_outwards(10.0, 0.0, 0.0, 0.0, 10.0)
    (5.0, 0.0)
    """
    share = link / (link + conductance + storage)
    return share * (conductance + storage), share * (source + gain)


@kernel
def segment_response(
    cover: Side, absorber: Side, back: Side, front: Space, rear: Space, through: tuple[float, float]
) -> Response:
    """Return wall temperatures and stream outlets of one segment, affine in what enters it.

    Parameters
    ----------
    cover, absorber, back : what each wall sees away from the air
    front, rear : the air spaces before and behind the absorber
    through : (capacity flow drawn through the absorber [W/m2K], its effectiveness [-])

    Returns
    -------
    Response of the segment [K] and [-]

    Source: heat balance of each wall, with the streams eliminated by their exact profiles. Air that
    passes the absorber leaves it at  T_f + effectiveness (T_p - T_f)  with T_f the local front air.
    """
    drawn, effectiveness = through
    # mean front air = fc Tc + fp Tp + front.mean T_f,in
    front_film = front.outer_film + front.inner_film
    front_c = front.outer_film / front_film
    front_p = front.inner_film / front_film
    fc = (1.0 - front.mean) * front_c
    fp = (1.0 - front.mean) * front_p
    # the rear stream tends to  sc Tc + sp Tp + sb Tb + sf T_f,in
    rear_film = rear.outer_film + rear.inner_film
    fed = (1.0 - rear.pull) * (1.0 - effectiveness)
    sc = fed * fc
    sp = rear.pull * rear.outer_film / rear_film + fed * fp + (1.0 - rear.pull) * effectiveness
    sb = rear.pull * rear.inner_film / rear_film
    sf = fed * front.mean
    kept = 1.0 - rear.mean

    to_front = front.inner_film + drawn * effectiveness
    a11 = cover.conductance + front.radiation + front.outer_film * (1.0 - fc)
    a12 = -front.radiation - front.outer_film * fp
    a21 = -front.radiation - to_front * fc - rear.outer_film * kept * sc
    a22 = (
        absorber.conductance
        + front.radiation
        + rear.radiation
        + to_front * (1.0 - fp)
        + rear.outer_film * (1.0 - kept * sp)
    )
    a23 = -rear.radiation - rear.outer_film * kept * sb
    a31 = -rear.inner_film * kept * sc
    a32 = -rear.radiation - rear.inner_film * kept * sp
    a33 = back.conductance + rear.radiation + rear.inner_film * (1.0 - kept * sb)

    # elimination without pivoting: the matrix is diagonally dominant
    f2 = a21 / a11
    f3 = a31 / a11
    b22 = a22 - f2 * a12
    b32 = a32 - f3 * a12
    g3 = b32 / b22
    b33 = a33 - g3 * a23
    elimination = (a11, a12, a23, b22, b33, f2, f3, g3)

    constant = _solve(elimination, cover.source, absorber.source, back.source)
    room = _solve(elimination, cover.room_source, absorber.room_source, back.room_source)
    by_front = _solve(
        elimination,
        front.outer_film * front.mean,
        to_front * front.mean + rear.outer_film * kept * sf,
        rear.inner_film * kept * sf,
    )
    by_rear = _solve(elimination, 0.0, rear.outer_film * rear.mean, rear.inner_film * rear.mean)

    lost_front = 1.0 - front.end
    lost_rear = 1.0 - rear.end
    front_out = Affine(
        lost_front * (front_c * constant[0] + front_p * constant[1]),
        lost_front * (front_c * room[0] + front_p * room[1]),
        lost_front * (front_c * by_front[0] + front_p * by_front[1]) + front.end,
        lost_front * (front_c * by_rear[0] + front_p * by_rear[1]),
    )
    rear_out = Affine(
        lost_rear * (sc * constant[0] + sp * constant[1] + sb * constant[2]),
        lost_rear * (sc * room[0] + sp * room[1] + sb * room[2]),
        lost_rear * (sc * by_front[0] + sp * by_front[1] + sb * by_front[2] + sf),
        lost_rear * (sc * by_rear[0] + sp * by_rear[1] + sb * by_rear[2]) + rear.end,
    )
    return Response(
        Affine(constant[0], room[0], by_front[0], by_rear[0]),
        Affine(constant[1], room[1], by_front[1], by_rear[1]),
        Affine(constant[2], room[2], by_front[2], by_rear[2]),
        front_out,
        rear_out,
    )


@kernel
def _solve(
    elimination: tuple[float, float, float, float, float, float, float, float],
    cover: float,
    absorber: float,
    back: float,
) -> tuple[float, float, float]:
    a11, a12, a23, b22, b33, f2, f3, g3 = elimination
    absorber = absorber - f2 * cover
    back = back - f3 * cover - g3 * absorber
    third = back / b33
    second = (absorber - a23 * third) / b22
    return (cover - a12 * second) / a11, second, third


@kernel
def evaluate(value: Affine, room: float, front: float, rear: float) -> float:
    """Return an affine temperature at given room and inlet temperatures [K].

    >>> evaluate(Affine(1.0, 2.0, 3.0, 4.0), 1.0, 1.0, 1.0)
    10.0
    """
    return value.constant + value.room * room + value.front * front + value.rear * rear
