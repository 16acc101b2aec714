"""The same equations in plain numpy, members side by side: what one would write without a compiler.

For air drawn through a perforated absorber behind one pane, back in the open, a fan that is on or off. The
scheme is that of the march (two implicit stages, a step split where a fan switches); of the ledger only heat
delivered, heating and room temperature are kept, which favours numpy.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.heat_transfer.gap_curve import LARGEST_ROOT
from tests.reference import compiled_equations as eq
from tests.reference.compiled_plant import CompiledPlant, NodeHour

Array = NDArray[np.float64]

GAMMA = 1.0 - np.sqrt(0.5)
RATIO = (1.0 - GAMMA) / GAMMA
MOST_SPLITS = 24
FARTHEST = 20.0  # [K] ahead at which conductances are taken at most
PANE, PLATE, LINING, MASS, SKIN = range(5)
FACE = 5
ROOM, WALLS, SENSOR, ROOM_SENSOR = range(4)


@dataclass
class Members:
    """Numbers of all members, the member last."""

    p: Array  # [scalar, member]
    nodes: Array  # [2, node, member]
    exchange: Array  # [space, member]
    ends: Array  # [4, segment]
    curves: Array  # [space, point]
    gases: Array  # [space, 2, 5]
    depths: Array  # [space, segment]
    table: Array  # [rest or full speed, column, member]

    @classmethod
    def of(cls, plants: list[CompiledPlant]) -> "Members":
        """Return members that share the geometry of their gaps."""
        first = plants[0].numbers
        for plant in plants:
            assert all(np.array_equal(plant.numbers[i], first[i]) for i in (3, 4, 5, 6))
            assert plant.numbers[1].shape[1] == SKIN + 1
            assert plant.numbers[-1].shape[0] == 2
        last = [np.stack([plant.numbers[i] for plant in plants], axis=-1) for i in (0, 1, 2, 7)]
        return cls(last[0], last[1], last[2], first[3], first[4], first[5], first[6], last[3])

    def some(self, which: Array) -> "Members":
        """Return some of the members."""
        return Members(
            self.p[:, which], self.nodes[..., which], self.exchange[:, which], self.ends, self.curves,
            self.gases, self.depths, self.table[..., which],
        )  # fmt: skip


@dataclass
class State:
    """Temperatures and rates at one moment."""

    nodes: Array  # [node, segment, member]; the last is the cover's inner face
    rate: Array
    zone: Array  # [4, member]
    zone_rate: Array

    def some(self, which: Array) -> "State":
        """Return the state of some members."""
        return State(
            self.nodes[..., which], self.rate[..., which], self.zone[:, which], self.zone_rate[:, which]
        )

    def put(self, which: Array, other: "State") -> None:
        """Take over the state of some members."""
        self.nodes[..., which], self.rate[..., which] = other.nodes, other.rate
        self.zone[:, which], self.zone_rate[:, which] = other.zone, other.zone_rate


def still(m: Members, space: int, outer: Array, inner: Array) -> Array:
    """Return the conductance of a still gap [segment, member]."""
    mean, depth = 0.5 * (outer + inner), m.depths[space][:, None]
    x = mean / eq.REFERENCE
    k, rising = (np.polyval(m.gases[space, row, ::-1], x) for row in (0, 1))
    root = np.copysign(rising * np.sqrt(np.sqrt(np.abs(inner - outer) * depth**3)), inner - outer)
    last = m.curves.shape[1] - 1
    place = np.clip((root + LARGEST_ROOT) * (0.5 * last / LARGEST_ROOT), 0.0, last)
    index = np.minimum(place.astype(np.int64), last - 1)
    low = m.curves[space].take(index)
    return (low + (place - index) * (m.curves[space].take(index + 1) - low)) * k / depth


def radiative(one: Array, other: Array, factor: Array) -> Array:
    """Return the exact coefficient of an exchange; the factor holds Stefan and Boltzmann's constant."""
    return factor * (one * one + other * other) * (one + other)


def outwards(
    conductance: Array, source: Array, storage: Array, gain: Array, link: Array
) -> tuple[Array, Array]:
    """Return what the next node inwards sees through one more node."""
    share = link / (link + conductance + storage)
    return share * (conductance + storage), share * (source + gain)


def stage(
    m: Members, hour: Array, gains: Array, run: Array, begin: tuple[Array, Array], guess: Array, d: Array
):
    """Return nodes, zone, heat delivered [W], heating [W], both sensors' places of one implicit stage.

    begin: nodes [node, segment, member] and zone [4, member]; run: row of the table [column, member].
    """
    p, t, zone = m.p, begin[0], begin[1]
    ambient, sky, wind = hour[eq.AMBIENT], hour[eq.SKY], hour[eq.WIND]
    storage = m.nodes[0][:, None, :] / d
    link = m.nodes[1, 0]
    n = t.shape[1]
    # cover, from outside to its inner face
    up = eq.SIGMA * p[eq.EMITTANCE] * p[eq.VIEW]
    down = eq.SIGMA * p[eq.EMITTANCE] * (1.0 - p[eq.VIEW])
    to_sky, to_ground = radiative(guess[PANE], sky, up), radiative(guess[PANE], ambient, down)
    face = (link * guess[PANE] + (wind + to_ground) * ambient + to_sky * sky) / (
        link + wind + to_sky + to_ground
    )
    to_sky, to_ground = radiative(face, sky, up), radiative(face, ambient, down)
    out = outwards(wind + to_sky + to_ground, (wind + to_ground) * ambient + to_sky * sky, 0.0, 0.0, link)
    pane_gain = hour[eq.ABSORBED] + storage[PANE] * t[PANE]
    cover, cover_source = outwards(*out, storage[PANE], pane_gain, link)
    # absorber, and the back from outside to its inner face
    plate = storage[PLATE] + p[eq.EDGE]
    plate_source = hour[eq.ABSORBED + 1] + storage[PLATE] * t[PLATE] + p[eq.EDGE] * ambient
    skin_gain, mass_gain = storage[SKIN] * t[SKIN], storage[MASS] * t[MASS]
    seen, seen_source = outwards(p[eq.OUTSIDE], p[eq.OUTSIDE] * ambient, storage[SKIN], skin_gain, p[eq.HALF])
    back, back_source = outwards(seen, seen_source, storage[MASS], mass_gain, p[eq.HALF])
    back, back_source = back + storage[LINING], back_source + storage[LINING] * t[LINING]
    # the streams
    carried = np.maximum(run[eq.FLOW] * eq.CP / p[eq.AREA], 1.0e-12)
    contact, effect = run[eq.CONTACT], run[eq.EFFECTIVENESS]
    first, last, grown_in, grown_out = (end[:, None] for end in m.ends)
    gap = still(m, 0, guess[FACE], guess[PLATE])
    film = np.cbrt(run[eq.FILMS : eq.FILMS + n] ** 3 + (2.0 * gap * contact) ** 3)
    beside = film * contact * p[eq.FRONT_AREA]
    films, drawn = film + beside, carried * (first - last)
    with np.errstate(under="ignore"):
        kept = np.where(last > 0.0, (last / first) ** np.minimum(films / drawn, 700.0), 0.0)
    mean = carried * (first - last * kept) / (films + drawn)
    wc, wp = film / films, beside / films
    fc, fp = (1.0 - mean) * wc, (1.0 - mean) * wp
    gap = still(m, 1, guess[PLATE], guess[LINING])
    lined = np.cbrt(run[eq.FILMS + n : eq.FILMS + 2 * n] ** 3 + (2.0 * gap * contact) ** 3)
    touched = lined * contact * p[eq.REAR_AREA]
    both = touched + lined
    pull = both / (both + drawn)
    with np.errstate(under="ignore"):
        left = np.where(grown_in > 0.0, (grown_in / grown_out) ** np.minimum(both / drawn + 1.0, 700.0), 0.0)
    rear_mean = carried * (grown_in - grown_out * left) / both
    fed = (1.0 - pull) * (1.0 - effect)
    sc, sf = fed * fc, fed * mean
    sp = pull * touched / both + fed * fp + (1.0 - pull) * effect
    sb, away = pull * lined / both, 1.0 - rear_mean
    # cover's face, absorber and back's face: three rows, solved for what is constant and for either stream
    ahead = radiative(guess[FACE], guess[PLATE], m.exchange[0])
    behind = radiative(guess[PLATE], guess[LINING], m.exchange[1])
    taken = beside + drawn * effect
    a11, a12 = cover + ahead + film * (1.0 - fc), -ahead - film * fp
    a21 = -ahead - taken * fc - touched * away * sc
    a22 = plate + ahead + behind + taken * (1.0 - fp) + touched * (1.0 - away * sp)
    a23 = -behind - touched * away * sb
    a31, a32 = -lined * away * sc, -behind - lined * away * sp
    a33 = back + behind + lined * (1.0 - away * sb)
    f2, f3 = a21 / a11, a31 / a11
    b22 = a22 - f2 * a12
    g3 = (a32 - f3 * a12) / b22
    b33 = a33 - g3 * a23

    def solved(one: Array, two: Array, three: Array) -> tuple[Array, Array, Array]:
        two = two - f2 * one
        third = (three - f3 * one - g3 * two) / b33
        second = (two - a23 * third) / b22
        return (one - a12 * second) / a11, second, third

    constant = solved(cover_source, plate_source, back_source)
    by_front = solved(film * mean, taken * mean + touched * away * sf, lined * away * sf)
    by_rear = solved(np.zeros_like(film), touched * rear_mean, lined * rear_mean)
    lost, grew = 1.0 - kept, 1.0 - left
    front = [lost * (wc * x[0] + wp * x[1]) for x in (constant, by_front, by_rear)]
    front[1] = front[1] + kept
    rear = [grew * (sc * x[0] + sp * x[1] + sb * x[2]) for x in (constant, by_front, by_rear)]
    rear[1], rear[2] = rear[1] + grew * sf, rear[2] + left
    # along the box; everything is a constant and a weight of the room
    kept_back, near = run[eq.KEPT_RETURN], p[eq.NEAR_RETURN]
    inlet = ((1.0 - kept_back) * (1.0 - near) * ambient, kept_back + (1.0 - kept_back) * near)
    entering = np.empty((2, 2, n, d.size))  # stream, constant or weight, segment, member
    f, r = list(inlet), list(inlet)
    for s in range(n):
        for part in range(2):
            entering[0, part, s], entering[1, part, s] = f[part], r[part]
        f, r = (
            [
                (front[0][s] if part == 0 else 0.0) + front[1][s] * f[part] + front[2][s] * r[part]
                for part in (0, 1)
            ],
            [
                (rear[0][s] if part == 0 else 0.0) + rear[1][s] * f[part] + rear[2][s] * r[part]
                for part in (0, 1)
            ],
        )
    kept_out, near = run[eq.KEPT_SUPPLY], p[eq.NEAR_SUPPLY]
    supply = kept_out * r[0] + (1.0 - kept_out) * (1.0 - near) * ambient
    slope = kept_out * r[1] + (1.0 - kept_out) * near
    capacity = run[eq.FLOW] * eq.CP
    heat = (capacity * supply + run[eq.FAN_HEAT], capacity * (slope - 1.0))
    room, walls, heating = _zone(p, hour, gains, zone, d, heat)
    delivered = heat[0] + heat[1] * room
    a, b = (entering[i, 0] + entering[i, 1] * room for i in range(2))
    new = np.empty_like(t)
    new[FACE], new[PLATE], new[LINING] = (
        c + x * a + y * b for c, x, y in zip(constant, by_front, by_rear, strict=True)
    )
    new[PANE] = (link * new[FACE] + out[1] + pane_gain) / (link + out[0] + storage[PANE])
    new[MASS] = (p[eq.HALF] * new[LINING] + seen_source + mass_gain) / (p[eq.HALF] + seen + storage[MASS])
    new[SKIN] = (p[eq.HALF] * new[MASS] + p[eq.OUTSIDE] * ambient + skin_gain) / (
        p[eq.HALF] + p[eq.OUTSIDE] + storage[SKIN]
    )
    outlet = r[0] + r[1] * room
    at = p[eq.AT_ABSORBER] * new[PLATE, -1] + p[eq.AT_BOX] * 0.5 * (b[-1] + outlet) + p[eq.AT_OUTLET] * outlet
    return new, room, walls, delivered, heating, at


def _zone(p: Array, hour: Array, gains: Array, zone: Array, d: Array, heat: tuple[Array, Array]):
    """Return room air, walls and heating at the end of a stage (ISO 13790 annex C, with an air capacity)."""
    ambient, inner, outer = hour[eq.AMBIENT], p[eq.H_MS], p[eq.H_EM]
    to_air, ventilation = p[eq.H_IS], p[eq.VENTILATION] + gains[5]
    walls_storage, air_storage = p[eq.C_MASS] / d, p[eq.C_AIR] / d
    walls_sum = walls_storage + inner + outer
    walls_source = walls_storage * zone[WALLS] + outer * ambient + gains[2]
    surface_sum = to_air + p[eq.H_W] + inner * (1.0 - inner / walls_sum)
    surface_source = p[eq.H_W] * ambient + gains[1] + inner * walls_source / walls_sum
    conductance = air_storage + ventilation + to_air * (1.0 - to_air / surface_sum) - heat[1]
    source = (
        air_storage * zone[ROOM] + ventilation * ambient + gains[0] + to_air * surface_source / surface_sum
    )
    source = source + heat[0]
    heating = np.maximum(conductance * gains[3] - source, 0.0)
    vented = np.maximum(source - conductance * gains[4], 0.0)
    room = (source + heating - vented) / conductance
    surface = (to_air * room + surface_source) / surface_sum
    return room, (inner * surface + walls_source) / walls_sum, heating


def advance(m: Members, hour: Array, gains: Array, running: Array, old: State, length: Array):
    """Return the state after a length [s], heat delivered and heating on the way [J], the room's [K s]."""
    run = np.where(running, m.table[1], m.table[0])
    d, start = GAMMA * length, old.nodes
    ahead = np.clip(d * old.rate, -FARTHEST, FARTHEST)
    n1, room1, walls1, q1, h1, at1 = stage(m, hour, gains, run, (start, old.zone), start + ahead, d)
    zone = old.zone.copy()
    zone[ROOM] += RATIO * (room1 - old.zone[ROOM])
    zone[WALLS] += RATIO * (walls1 - old.zone[WALLS])
    begin = start + RATIO * (n1 - start)
    n2, room2, walls2, q2, h2, at2 = stage(m, hour, gains, run, (begin, zone), n1 + RATIO * ahead, d)
    new = State(n2, (n2 - begin) / d, np.empty_like(old.zone), np.zeros_like(old.zone))
    new.rate[FACE] = new.rate[PANE]
    new.zone[ROOM], new.zone[WALLS] = room2, walls2
    constant = m.p[eq.TAU]
    fading = np.exp(-length / constant)
    for row, first, last in ((SENSOR, at1, at2), (ROOM_SENSOR, room1, room2)):
        slope = (last - first) / ((1.0 - GAMMA) * length)
        behind = last - constant * slope
        new.zone[row] = behind + (old.zone[row] - (behind - slope * length)) * fading
        new.zone_rate[row] = (last - new.zone[row]) / constant
    early, late = (1.0 - GAMMA) * length, GAMMA * length
    brought = early * np.maximum(q1, 0.0) + late * np.maximum(q2, 0.0)
    return new, brought, early * h1 + late * h2, early * room1 + late * room2


def crossing(first: Array, last: Array, change: Array, level: Array) -> Array:
    """Return the fraction of a step at which a parabola through both ends passes a level."""
    rise, gap = last - first, level - first
    curve = change - rise
    slope = rise - curve
    below = slope + np.copysign(np.sqrt(np.maximum(slope * slope + 4.0 * curve * gap, 0.0)), rise)
    with np.errstate(divide="ignore", invalid="ignore"):
        curved, straight = 2.0 * gap / below, gap / rise
    inside = (curved >= 0.0) & (curved <= 1.0)
    return np.clip(np.where(inside, curved, straight), 0.0, 1.0)


def march(
    plants: list[CompiledPlant], hours: list[list[NodeHour]], plan: NDArray[np.int64], temperature: float
) -> tuple[Array, Array, Array]:
    """March all members through some hours from one temperature everywhere.

    Parameters
    ----------
    plants, hours : every member and its hours; sun and outdoors are those of the first
    plan : [hour] number of steps
    temperature : of everything at the start [K]

    Returns
    -------
    heat delivered [kWh], heating [kWh] and mean room temperature [K], each [hour, member]
    """
    m, count, rule = Members.of(plants), len(plants), plants[0].rule
    n = m.ends.shape[1]
    shape = (FACE + 1, n, count)
    m.nodes = np.concatenate([m.nodes, np.zeros((2, 1, count))], axis=1)  # the face stores nothing
    zone = (np.full((4, count), temperature), np.zeros((4, count)))
    state = State(np.full(shape, temperature), np.zeros(shape), *zone)
    warm, blocked, running = (np.zeros(count, dtype=bool) for _ in range(3))
    since = np.full(count, 1.0e9)
    found = np.zeros((3, plan.size, count))
    for i, steps in enumerate(plan):
        outdoors = hours[0][i].numbers
        gains = np.array([one[i].numbers[eq.AIR_GAIN : eq.BLOWN + 1] for one in hours]).T
        allowed = outdoors[eq.DRIVE] > 0.0
        for _ in range(steps):
            left, who = np.full(count, 3600.0 / steps), np.arange(count)
            for split in range(MOST_SPLITS + 1):
                wanted = warm[who] & ~blocked[who] & allowed
                least = np.where(running[who], rule.minimum_on, rule.minimum_off)
                turns = (wanted != running[who]) & (since[who] >= least - 1.0e-9)
                running[who] ^= turns
                since[who[turns]] = 0.0
                some, length, old = m.some(who), left[who], state.some(who)
                new, *sums = advance(some, outdoors, gains[:, who], running[who], old, length)
                at = _event(
                    rule, old, new, length, warm[who], blocked[who], running[who], since[who], allowed
                )
                hit = (at < 1.0) if split < MOST_SPLITS else np.zeros(who.size, dtype=bool)
                if hit.any():
                    fraction = np.where(hit, np.maximum(at * length, 1.0e-6), length)
                    part = advance(
                        some.some(hit),
                        outdoors,
                        gains[:, who[hit]],
                        running[who[hit]],
                        old.some(hit),
                        fraction[hit],
                    )
                    new.put(hit, part[0])
                    for total, piece in zip(sums, part[1:], strict=True):
                        total[hit] = piece
                    length = fraction
                state.put(who, new)
                found[:, i, who] += sums
                since[who] += length
                signal = new.zone[SENSOR] - rule.reference_weight * new.zone[ROOM_SENSOR]
                near = 1.0e-6  # an event stands on its threshold, but for rounding
                warm[who] = (signal >= rule.start - near) | (warm[who] & (signal > rule.stop + near))
                limit = new.zone[ROOM_SENSOR]
                free = rule.room_limit - rule.room_limit_band
                blocked[who] = (limit >= rule.room_limit - near) | (blocked[who] & (limit > free + near))
                left[who] -= length
                who = who[hit & (left[who] > 1.0e-6)]
                if not who.size:
                    break
    return found[0] / eq.KWH, found[1] / eq.KWH, found[2] / 3600.0


def _event(rule, old, new, length, warm, blocked, running, since, allowed) -> Array:
    """Return the fraction of the step at which the fan would switch; 2 where it does not."""
    weight = rule.reference_weight
    first = old.zone[SENSOR] - weight * old.zone[ROOM_SENSOR]
    last = new.zone[SENSOR] - weight * new.zone[ROOM_SENSOR]
    change = (new.zone_rate[SENSOR] - weight * new.zone_rate[ROOM_SENSOR]) * length
    level = np.where(warm, rule.stop, rule.start)
    passes = np.where(warm, last <= level, last >= level)
    at_warm = np.where(passes, crossing(first, last, change, level), 2.0)
    one, other = old.zone[ROOM_SENSOR], new.zone[ROOM_SENSOR]
    level = np.where(blocked, rule.room_limit - rule.room_limit_band, rule.room_limit)
    passes = np.where(blocked, other <= level, other >= level)
    at_limit = np.where(passes, crossing(one, other, new.zone_rate[ROOM_SENSOR] * length, level), 2.0)
    least = np.where(running, rule.minimum_on, rule.minimum_off)
    wait = np.maximum(least - since, 0.0) / length
    due = (warm & ~blocked & allowed) != running  # it waits for the end of its least time
    return np.where(due & (wait < 1.0), wait, np.minimum(at_warm, at_limit))
