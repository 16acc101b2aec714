"""The heat balance of one segment: three walls and two air streams, solved exactly.

The walls are the innermost pane (c), the absorber (p) and the inner face of the back (b); what lies
outside of them is seen as one conductance and one source. The answer is affine in
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
    per_film: float  # [m2K/W] one over both films together


class Walls(NamedTuple):
    """The three walls with their balances eliminated, and their weights in the air that leaves."""

    cover: float  # [m2K/W] one over each pivot
    absorber: float
    back: float
    cover_absorber: float  # [W/m2K] what is left above the pivots
    absorber_back: float
    absorber_cover: float  # [-] factors of the elimination
    back_cover: float
    back_absorber: float
    front_cover: float  # [-] in the air that leaves in front
    front_absorber: float
    rear_cover: float  # [-] in the air that leaves behind
    rear_absorber: float
    rear_back: float


class Answer(NamedTuple):
    """Walls and stream outlets of one segment: temperatures [K], or their weights [-]."""

    cover: float
    absorber: float
    back: float
    front_out: float
    rear_out: float


@kernel
def eliminate(
    outside: tuple[float, float, float], front: Space, rear: Space, through: tuple[float, float]
) -> tuple[Walls, Answer, Answer]:
    """Return the walls of one segment, eliminated, and how they answer to the air that enters.

    Parameters
    ----------
    outside : conductance that cover, absorber and back see away from the air, storage included [W/m2K]
    front, rear : the air spaces before and behind the absorber
    through : (capacity flow drawn through the absorber [W/m2K], its effectiveness [-])

    Returns
    -------
    (walls, by_front, by_rear) : for `answer`; the weights of the two inlets [-]

    Source: heat balance of each wall, with the streams eliminated by their exact profiles. Air that
    passes the absorber leaves it at  T_f + effectiveness (T_p - T_f)  with T_f the local front air.
    """
    drawn, effectiveness = through
    # mean front air = fc Tc + fp Tp + front.mean T_f,in
    front_c = front.outer_film * front.per_film
    front_p = front.inner_film * front.per_film
    fc = (1.0 - front.mean) * front_c
    fp = (1.0 - front.mean) * front_p
    # the rear stream tends to  sc Tc + sp Tp + sb Tb + sf T_f,in
    pulled = rear.pull * rear.per_film
    fed = (1.0 - rear.pull) * (1.0 - effectiveness)
    sc = fed * fc
    sp = pulled * rear.outer_film + fed * fp + (1.0 - rear.pull) * effectiveness
    sb = pulled * rear.inner_film
    sf = fed * front.mean
    kept = 1.0 - rear.mean

    to_front = front.inner_film + drawn * effectiveness
    behind_p, behind_b = rear.outer_film * kept, rear.inner_film * kept
    a11 = outside[0] + front.radiation + front.outer_film * (1.0 - fc)
    a12 = -front.radiation - front.outer_film * fp
    a21 = -front.radiation - to_front * fc - behind_p * sc
    to_rear = rear.outer_film - behind_p * sp
    a22 = outside[1] + front.radiation + rear.radiation + to_front * (1.0 - fp) + to_rear
    a23 = -rear.radiation - behind_p * sb
    a31 = -behind_b * sc
    a32 = -rear.radiation - behind_b * sp
    a33 = outside[2] + rear.radiation + rear.inner_film - behind_b * sb

    # elimination without pivoting: the matrix is diagonally dominant; its three pivots by one division
    minor = a11 * a22 - a21 * a12
    below = a11 * a32 - a31 * a12
    whole = a33 * minor - below * a23
    inverse = 1.0 / (a11 * minor * whole)
    pivot_c = minor * whole * inverse
    per_minor = a11 * whole * inverse
    f2 = a21 * pivot_c
    f3 = a31 * pivot_c
    pivot_p = a11 * per_minor
    g3 = below * per_minor
    pivot_b = minor * (a11 * minor * inverse)
    lost_front, lost_rear = 1.0 - front.end, 1.0 - rear.end
    walls = Walls(
        pivot_c,
        pivot_p,
        pivot_b,
        a12,
        a23,
        f2,
        f3,
        g3,
        lost_front * front_c,
        lost_front * front_p,
        lost_rear * sc,
        lost_rear * sp,
        lost_rear * sb,
    )
    to_cover = front.outer_film * front.mean
    by_front = answer(walls, to_cover, to_front * front.mean + behind_p * sf, behind_b * sf)
    by_rear = answer(walls, 0.0, rear.outer_film * rear.mean, rear.inner_film * rear.mean)
    return (
        walls,
        Answer(
            by_front.cover,
            by_front.absorber,
            by_front.back,
            by_front.front_out + front.end,
            by_front.rear_out + lost_rear * sf,
        ),
        Answer(by_rear.cover, by_rear.absorber, by_rear.back, by_rear.front_out, by_rear.rear_out + rear.end),
    )


@kernel
def answer(walls: Walls, cover: float, absorber: float, back: float) -> Answer:
    """Return walls and air at the outlets for given sources at the walls.

    Parameters
    ----------
    walls : of the segment
    cover, absorber, back : source at each wall [W/m2], or its change with one temperature [W/m2K]

    Returns
    -------
    Answer [K] or [-]; the air that enters counts zero

    Source: forward and back substitution.
    """
    absorber = absorber - walls.absorber_cover * cover
    back = back - walls.back_cover * cover - walls.back_absorber * absorber
    b = back * walls.back
    p = (absorber - walls.absorber_back * b) * walls.absorber
    c = (cover - walls.cover_absorber * p) * walls.cover
    front = walls.front_cover * c + walls.front_absorber * p
    return Answer(c, p, b, front, walls.rear_cover * c + walls.rear_absorber * p + walls.rear_back * b)
