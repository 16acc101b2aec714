"""Collector, air loop, control and house as differential equations, compiled: all arrangements, any speed.

Written from the physics, apart from the march: nothing is linearised, no step is taken here. Gap curves, gas
properties, and what hangs on the fan's speed alone (films, ducts, leaks) come as tables from the package.
"""

import math

import numba
import numpy as np

from simengine.heat_transfer.gap_curve import LARGEST_ROOT

SIGMA = 5.670374419e-8  # [W/m2K4] CODATA 2018
CP = 1006.0  # [J/kgK]
KWH = 3.6e6
REFERENCE = 300.0  # [K] at which the gas polynomials have their argument 1
STILL = 1.0e-9  # [W/m2K] a stream that carries less than this stands

FREE, HELD, VENTED = 0, 1, 2
"""How the room's air is: as it comes, at its setpoint, at its limit."""

(
    AREA, VIEW, EMITTANCE, HALF, OUTSIDE, WALLED, EDGE, REAR_SHARE, AT_ABSORBER, AT_BOX, AT_OUTLET,
    FRONT_AREA, REAR_AREA, TUBES, COUNTER, VENTILATION, H_IS, H_W, H_MS, H_EM, C_AIR, C_MASS, TAU, WEIGHT,
    STOP, LOW, SLOPE, NEAR_SUPPLY, NEAR_RETURN,
) = range(29)  # fmt: skip
"""Scalars of a plant."""
SCALARS = 29

FLOW, FAN_HEAT, EFFECTIVENESS, CONTACT, KEPT_SUPPLY, KEPT_RETURN, LEAK_IN, LEAK_OUT = range(8)
"""Columns of the table by fan speed; behind them the forced films, front then rear, segment by segment."""
FILMS = 8

AMBIENT, SKY, WIND, AIR_GAIN, SURFACE_GAIN, MASS_GAIN, SETPOINT, VENT, BLOWN, DRIVE = range(10)
"""Numbers of an hour; behind them the sun absorbed by panes and absorber."""
ABSORBED = 10

compiled = numba.njit(error_model="numpy", nogil=True)


@compiled
def _horner(row, x):
    value = 0.0
    for i in range(row.size - 1, -1, -1):
        value = row[i] + x * value
    return value


@compiled
def _still(curves, gases, depths, space, s, outer, inner):
    """Return the conductance of a still gap [W/m2K]."""
    mean, depth = 0.5 * (outer + inner), depths[space, s]
    k = _horner(gases[space, 0], mean / REFERENCE)
    rising = _horner(gases[space, 1], mean / REFERENCE) * (abs(inner - outer) * depth**3) ** 0.25
    root = math.copysign(rising, inner - outer)
    last = curves.shape[1] - 1
    place = min(max((root + LARGEST_ROOT) * 0.5 * last / LARGEST_ROOT, 0.0), float(last))
    index = min(int(place), last - 1)
    low, high = curves[space, index], curves[space, index + 1]
    return (low + (place - index) * (high - low)) * k / depth


@compiled
def _mixed(forced, still):
    return (forced**3 + (2.0 * still) ** 3) ** (1.0 / 3.0)


@compiled
def _from_outside(middle, link, p, hour):
    """Return the heat that comes in at the outermost face [W/m2]; Newton finds that face."""
    emittance, view, wind = p[EMITTANCE], p[VIEW], hour[WIND]
    face = middle
    for _ in range(5):
        up = view * (hour[SKY] ** 4 - face**4) + (1.0 - view) * (hour[AMBIENT] ** 4 - face**4)
        comes = wind * (hour[AMBIENT] - face) + emittance * SIGMA * up
        steep = wind + 4.0 * emittance * SIGMA * face**3 + link
        face += (comes + link * (middle - face)) / steep
    return link * (face - middle)


@compiled
def _between(outer, inner, links, exchange, curves, gases, depths, space, s):
    """Return the heat that passes outwards from the middle of a pane to that of the next [W/m2]."""
    behind, before = 1.0 / links[space], 1.0 / links[space + 1]
    one, other, flow = outer, inner, 0.0
    for _ in range(8):
        film = _still(curves, gases, depths, space, s, one, other)
        film += exchange[space] * (one + other) * (one**2 + other**2)
        flow = (inner - outer) / (behind + 1.0 / film + before)
        one, other = outer + behind * flow, inner - before * flow
    return flow


@compiled
def _stream(entering, wall, films, carried, first, last):
    """Return end and mean of a stream that is constant or thins between two walls [K].

    wall: the mean of the walls by their films [K]; films: their sum [W/m2K]; carried: capacity flow per area
    at the relative flow 1 [W/m2K]; first, last: relative flow at both ends.
    """
    if carried * first < STILL:
        return wall, wall
    drawn = carried * (first - last)
    if drawn <= 0.0:
        units = films / (carried * first)
        left = math.exp(-units)
        return wall + (entering - wall) * left, wall + (entering - wall) * (1.0 - left) / units
    left = (last / first) ** (films / drawn) if last > 1.0e-12 else 0.0
    mean = carried * (first - last * left) / (films + drawn)
    return wall + (entering - wall) * left, wall + (entering - wall) * mean


@compiled
def _front(face, plate, entering, s, p, at, ends, n, curves, gases, depths, space):
    """Return heat into face and plate from the air between them [W/m2], its end and its mean [K]."""
    still = _still(curves, gases, depths, space, s, face, plate)
    film = _mixed(at[FILMS + s], still * at[CONTACT])
    beside = film * at[CONTACT] * p[FRONT_AREA]
    wall = (film * face + beside * plate) / (film + beside)
    carried = at[FLOW] * CP / p[AREA]
    end, mean = _stream(entering, wall, film + beside, carried, ends[0, s], ends[1, s])
    return film * (mean - face), beside * (mean - plate), end, mean


@compiled
def _rear(plate, lining, entering, fed, s, p, at, ends, n, curves, gases, depths, space):
    """Return heat into plate and lining from the air between them [W/m2], and its end [K]."""
    still = _still(curves, gases, depths, space, s, plate, lining)
    film = _mixed(at[FILMS + n + s], still * at[CONTACT] * (1.0 - p[TUBES]))
    beside = film * at[CONTACT] * p[REAR_AREA]
    free = film * (1.0 - p[TUBES])
    films = beside + free
    wall = (beside * plate + free * lining) / films
    carried = at[FLOW] * CP / p[AREA]
    first, last = ends[2, s], ends[3, s]
    grown = carried * (last - first)
    if grown > STILL:
        aim = (films * wall + grown * fed) / (films + grown)
        left = (first / last) ** (films / grown + 1.0) if first > 1.0e-12 else 0.0
        mean = aim + (entering - aim) * carried * (first - last * left) / films
        end = aim + (entering - aim) * left
    else:
        end, mean = _stream(entering, wall, films, carried, first, first)
    across = p[TUBES] * still * (lining - plate)
    return beside * (mean - plate) + across, free * (mean - lining) - across, end


@compiled
def _face(middle, link, plate, entering, s, p, at, ends, n, exchange, curves, gases, depths, space):
    """Return the temperature of the cover's inner face, which stores nothing [K]: the secant rule."""
    old, face, before = middle, middle, 0.0
    for turn in range(40):
        warmed, _, _, _ = _front(face, plate, entering, s, p, at, ends, n, curves, gases, depths, space)
        rest = warmed + exchange * (plate**4 - face**4) + link * (middle - face)
        if abs(rest) < 1.0e-11 * link:
            break
        ahead = rest / link if turn == 0 else -rest * (face - old) / (rest - before)
        old, before, face = face, rest, face + ahead
        if face == old:
            break
    return face


@compiled
def read_speed(table, share, at):
    """Read the table by fan speed at a share of full speed, in straight lines between its rows."""
    last = table.shape[0] - 1
    place = min(max(share, 0.0), 1.0) * last
    row = min(int(place), last - 1)
    weight = place - row
    for i in range(at.size):
        at[i] = (1.0 - weight) * table[row, i] + weight * table[row + 1, i]


@compiled
def flows(y, p, nodes, exchange, ends, curves, gases, depths, table, hour, running, high, rates, at, mean):
    """Fill the nodes' rates [K/s]; return heat brought to the room, its other heat [W], outlet and place [K].

    Parameters
    ----------
    y : nodes segment by segment, room, mass, both sensors [K], then two sums [kWh]
    p, nodes, exchange, ends, curves, gases, depths, table, hour : see `compiled_plant`
    running, high : of the fan and of its second speed
    rates, at, mean : work space, and the answer for the nodes
    """
    n, panes = ends.shape[1], nodes.shape[1] - 4
    rows, space = panes + 4, panes - 1
    base = rows * n
    room, ambient = y[base], hour[AMBIENT]
    drive = hour[DRIVE] if hour[DRIVE] > 0.0 else 1.0
    signal = y[base + 2] - p[WEIGHT] * y[base + 3]
    risen = min(p[LOW] + p[SLOPE] * max(signal - p[STOP], 0.0), 1.0)
    read_speed(table, (drive * (1.0 if high else risen)) if running else 0.0, at)
    kept, near = at[KEPT_RETURN], p[NEAR_RETURN]
    inlet = kept * room + (1.0 - kept) * (near * room + (1.0 - near) * ambient)
    inlet += at[LEAK_IN] * (ambient - inlet)
    carried = at[FLOW] * CP / p[AREA]
    behind = room if p[WALLED] > 0.5 else ambient
    into_wall, front = 0.0, inlet
    for s in range(n):  # along the front stream: everything but the air behind the absorber
        t, heat = y[rows * s : rows * (s + 1)], rates[rows * s : rows * (s + 1)]
        plate, lining, mass, skin = t[panes], t[panes + 1], t[panes + 2], t[panes + 3]
        heat[:] = 0.0
        for i in range(panes + 1):
            heat[i] = hour[ABSORBED + i]
        heat[0] += _from_outside(t[0], nodes[1, 0], p, hour)
        for i in range(panes - 1):
            out = _between(t[i], t[i + 1], nodes[1], exchange, curves, gases, depths, i, s)
            heat[i] += out
            heat[i + 1] -= out
        link = nodes[1, panes - 1]
        face = _face(
            t[space], link, plate, front, s, p, at, ends, n, exchange[space], curves, gases, depths, space
        )
        heat[space] += link * (face - t[space])
        heat[panes] -= exchange[space] * (plate**4 - face**4)
        _, warmed, front, mean[s] = _front(
            face, plate, front, s, p, at, ends, n, curves, gases, depths, space
        )
        heat[panes] += warmed + p[EDGE] * (ambient - plate)
        across = exchange[panes] * (lining**4 - plate**4)
        heat[panes] += across
        heat[panes + 1] += p[HALF] * (mass - lining) - across
        heat[panes + 2] += p[HALF] * (lining - mass) + p[HALF] * (skin - mass)
        heat[panes + 3] += p[HALF] * (mass - skin) + p[OUTSIDE] * (behind - skin)
        into_wall += p[AREA] * p[OUTSIDE] * (skin - behind)
        mean[n + s] = front  # where the front stream leaves this segment
    rear = mean[2 * n - 1] if p[COUNTER] > 0.5 else inlet
    for step in range(n):  # along the rear stream, which may return against the front stream
        s = n - 1 - step if p[COUNTER] > 0.5 else step
        t, heat = y[rows * s : rows * (s + 1)], rates[rows * s : rows * (s + 1)]
        plate, lining = t[panes], t[panes + 1]
        drawn = carried * (ends[0, s] - ends[1, s])
        fed = mean[s] + at[EFFECTIVENESS] * (plate - mean[s])
        heat[panes] += drawn * at[EFFECTIVENESS] * (mean[s] - plate)
        before = rear
        warmed, lined, rear = _rear(
            plate, lining, before, fed, s, p, at, ends, n, curves, gases, depths, panes
        )
        heat[panes] += warmed
        heat[panes + 1] += lined
        mean[2 * n] = before  # where the rear stream enters its last segment
        for i in range(rows):
            heat[i] /= nodes[0, i]
    share = p[REAR_SHARE]
    outlet = (1.0 - share) * mean[2 * n - 1] + share * rear
    end = 0 if p[COUNTER] > 0.5 else n - 1
    entering = share * mean[2 * n] + (1.0 - share) * (mean[2 * n - 2] if n > 1 else inlet)
    box_air = 0.5 * (entering + outlet) if n > 1 else outlet
    place = p[AT_ABSORBER] * y[rows * end + panes] + p[AT_BOX] * box_air + p[AT_OUTLET] * outlet
    kept, near = at[KEPT_SUPPLY], p[NEAR_SUPPLY]
    supplied = kept * outlet + (1.0 - kept) * (near * room + (1.0 - near) * ambient)
    supplied += at[LEAK_OUT] * (ambient - supplied)
    brought = at[FLOW] * CP * (supplied - room) + at[FAN_HEAT]
    other = (p[VENTILATION] + hour[BLOWN]) * (ambient - room) + hour[AIR_GAIN]
    other += p[H_IS] * (_surface(room, y[base + 1], p, hour) - room)
    other += into_wall if p[WALLED] > 0.5 else 0.0
    return brought, other, place


@compiled
def _surface(room, mass, p, hour):
    """Return the temperature of the room's surfaces [K] (ISO 13790 annex C)."""
    total = p[H_IS] + p[H_W] + p[H_MS]
    return (p[H_IS] * room + p[H_W] * hour[AMBIENT] + p[H_MS] * mass + hour[SURFACE_GAIN]) / total


@compiled
def right_hand_side(
    y, p, nodes, exchange, ends, curves, gases, depths, table, hour, running, high, air, rates, at, mean
):
    """Fill the rate of every unknown; parameters as `flows`, `air` is how the room's air is."""
    brought, other, place = flows(
        y, p, nodes, exchange, ends, curves, gases, depths, table, hour, running, high, rates, at, mean
    )
    base = nodes.shape[1] * ends.shape[1]
    room, mass = y[base], y[base + 1]
    rates[base] = (brought + other) / p[C_AIR] if air == FREE else 0.0
    to_mass = p[H_MS] * (_surface(room, mass, p, hour) - mass) + p[H_EM] * (hour[AMBIENT] - mass)
    rates[base + 1] = (to_mass + hour[MASS_GAIN]) / p[C_MASS]
    rates[base + 2] = (place - y[base + 2]) / p[TAU]
    rates[base + 3] = (room - y[base + 3]) / p[TAU]
    rates[base + 4] = max(brought, 0.0) / KWH
    rates[base + 5] = -(brought + other) / KWH if air == HELD else 0.0


def new_work(rows: int, n: int, columns: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return rates, table row and stream means to work in."""
    return np.zeros(rows * n + 6), np.zeros(columns), np.zeros(2 * n + 1)
