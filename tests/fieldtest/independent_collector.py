"""A collector with air behind its absorber as differential equations, many tests side by side.

Coded from published relations alone (see independent_relations.py) and from the plain
figures of
the scenario; nothing of the package's engine, collector network or optics is called. Explicit Runge-Kutta of
fourth order at `STEP` seconds; radiation to the fourth power; `SEGMENTS` along the flow.
"""

import math

import numpy as np

from simengine.collector.spec import Collector
from tests.fieldtest.bench import Day, Truth
from tests.fieldtest.independent_relations import (
    CP,
    GAS,
    GRAVITY,
    SIGMA,
    Array,
    conductivity,
    moving_share,
    nusselt,
    viscosity,
)

STEP = 10.0  # [s]
SEGMENTS = 6
LAST = 2  # segments of the last third, where the absorber's thermometer sits
FILM = 308.15  # [K] at which the documented model takes its forced film


def glass_alone(box: Collector, angle: Array) -> tuple[Array, Array]:
    """Return what one pane lets through and throws back of unpolarised light at an angle [deg].

    Fresnel and Snell, extinction by the way in the glass.
    """
    glass = box.panes[0]
    first = np.radians(np.clip(angle, 0.01, 89.99))
    second = np.arcsin(np.sin(first) / glass.refractive_index)
    passed = np.exp(-glass.extinction * glass.thickness / np.cos(second))
    through, thrown = np.zeros_like(first), np.zeros_like(first)
    for r in (
        (np.sin(second - first) / np.sin(second + first)) ** 2,
        (np.tan(second - first) / np.tan(second + first)) ** 2,
    ):
        one = passed * (1.0 - r) ** 2 / (1.0 - (r * passed) ** 2)
        through, thrown = through + 0.5 * one, thrown + 0.5 * r * (1.0 + passed * one)
    return through, thrown


def pane_and_absorber(box: Collector, angle: Array) -> tuple[Array, Array]:
    """Return the shares of light at an angle [deg] that the one pane and the absorber take up.

    The sheet throws light back diffusely: the pane meets it as light at 60 deg (Duffie and Beckman;
    from memory).
    """
    alpha = box.absorber.absorptance
    through, thrown = glass_alone(box, angle)
    through_back, thrown_back = glass_alone(box, np.array(60.0))
    met = through / (1.0 - (1.0 - alpha) * thrown_back)
    kept_back = 1.0 - through_back - thrown_back
    return 1.0 - through - thrown + met * (1.0 - alpha) * kept_back, alpha * met


def absorbed(box: Collector, beam: Array, sky: Array, ground: Array, incidence: Array) -> tuple[Array, Array]:
    """Return what pane and absorber take up [W/m2]; diffuse light at the angles of Brandemuehl and
    Beckman."""
    b = box.tilt
    angles = (
        np.asarray(incidence),
        np.array(59.7 - 0.1388 * b + 0.001497 * b * b),
        np.array(90.0 - 0.5788 * b + 0.002693 * b * b),
    )
    pane, sheet = np.zeros_like(beam), np.zeros_like(beam)
    for light, angle in zip((beam, sky, ground), angles, strict=True):
        of_pane, of_sheet = pane_and_absorber(box, angle)
        pane, sheet = pane + of_pane * light * box.dirt_factor, sheet + of_sheet * light * box.dirt_factor
    return pane, sheet


class StillAir:
    """Conductance of a still gap, its Nusselt number read off a table of the independent relation."""

    def __init__(self, box: Collector, depth: float, pressure: float) -> None:
        self.depth, self.pressure = depth, pressure
        self.logs = np.linspace(math.log(1e2), math.log(1e7), 600)
        aspect = box.length / depth
        self.up, self.down = (
            np.array([nusselt(math.exp(v), tilt, aspect) for v in self.logs])
            for tilt in (box.tilt, 180.0 - box.tilt)
        )

    def __call__(self, outer: Array, inner: Array) -> Array:
        mean = 0.5 * (outer + inner)
        k, mu = conductivity(mean), viscosity(mean)
        rho = self.pressure / (GAS * mean)
        ra = GRAVITY * np.abs(inner - outer) / mean * self.depth**3 * rho**2 * CP / (mu * k)
        at = np.log(np.maximum(ra, 1e2))
        nu = np.where(inner >= outer, np.interp(at, self.logs, self.up), np.interp(at, self.logs, self.down))
        return nu * k / self.depth


class Bench:
    """The equations of several tests at once; arrays are [test] or [test, segment]."""

    def __init__(
        self, box: Collector, duct: tuple[float, float, float], pressure: float, truths: list[Truth]
    ) -> None:
        self.box = box
        self.gap = StillAir(box, box.front.depth_inlet, pressure)
        self.rear = StillAir(box, box.rear.depth_inlet, pressure)
        self.true = {
            name: np.array([getattr(t, name) for t in truths]) for name in Truth.__dataclass_fields__
        }
        back = self.true["back_loss"][:, None]
        layers = sum(la.thickness / la.conductivity for la in box.back.layers)
        self.half = 2.0 / layers * back
        self.outside = 1.0 / box.back.outside_film
        self.edge = box.edge_conductance / box.aperture * back
        glass = box.panes[0]
        self.capacity = [
            glass.thickness * glass.density * glass.specific_heat,
            box.absorber.heat_capacity,
            box.back.lining_heat_capacity,
            sum(la.thickness * la.density * la.specific_heat for la in box.back.layers),
            box.box_heat_capacity,
        ]
        self.front = SIGMA / (1.0 / glass.emittance_inside + 1.0 / box.absorber.emittance_front - 1.0)
        self.behind = SIGMA / (1.0 / box.absorber.emittance_back + 1.0 / box.back.emittance - 1.0)
        self.view = 0.5 * (1.0 + math.cos(math.radians(box.tilt)))
        length, diameter, resistance = duct
        per_metre = math.pi * diameter / (1.0 / 8.0 + resistance + 1.0 / 10.0)  # films: common practice
        self.duct = per_metre * length * self.true["duct_loss"]

    def forced(self, flow: Array) -> Array:
        """Return the film on a wall of the channel [W/m2K]: laminar, turbulent, linear between (from
        memory)."""
        hydraulic = 2.0 * self.box.rear.depth_inlet
        mu, k = float(viscosity(np.array(FILM))), float(conductivity(np.array(FILM)))
        pr, ratio = CP * mu / k, hydraulic / self.box.length
        re = 2.0 * flow / (self.box.width * mu)
        x = np.minimum(re, 2300.0) * pr * ratio
        laminar = 4.9 + 0.0606 * x**1.2 / (1.0 + 0.0909 * x**0.7 * pr**0.17)
        share = np.clip((re - 2300.0) / 7700.0, 0.0, 1.0)
        nu = laminar + share * (0.0158 * np.maximum(re, 1e4) ** 0.8 - laminar)
        film = nu * k / hydraulic
        still = 2.0 * k / self.box.rear.depth_inlet
        moving = np.array([moving_share(float(r)) for r in re])
        return np.cbrt(moving * np.maximum(film**3 - (0.5 * still * 2.0) ** 3, 0.0))[:, None]

    def rates(self, y: list[Array], now: dict[str, Array]) -> tuple[list[Array], Array]:
        """Return the rates of the five nodes [K/s] and the outlet [K]."""
        glass, plate, lining, mass, skin = y
        ambient = now["ambient"][:, None]
        lost, across = self.cover(glass, plate, now)
        radiated = self.behind * (plate**4 - lining**4)
        film = np.cbrt(now["forced"] ** 3 + (2.0 * self.rear(plate, lining)) ** 3)
        heat_plate, heat_lining, outlet = self.stream(plate, lining, film, now)
        into_mass, into_skin = self.half * (lining - mass), self.half * (mass - skin)
        return [
            (now["pane"][:, None] - lost + across) / self.capacity[0],
            (now["sheet"][:, None] - across - radiated - heat_plate - self.edge * (plate - ambient))
            / self.capacity[1],
            (radiated - heat_lining - into_mass) / self.capacity[2],
            (into_mass - into_skin) / self.capacity[3],
            (into_skin - self.outside * (skin - ambient)) / self.capacity[4],
        ], outlet

    def cover(self, glass: Array, plate: Array, now: dict[str, Array]) -> tuple[Array, Array]:
        """Return what the pane's outer face loses and its inner face takes up [W/m2].

        The node is the middle of the pane; half of its resistance lies before either face.
        """
        ambient, sky, wind = (now[name][:, None] for name in ("ambient", "sky", "wind"))
        pane = self.box.panes[0]
        half = 0.5 * pane.thickness / pane.conductivity
        sheet = pane.emittance_outside * SIGMA
        outer, inner = glass, glass
        for _ in range(3):
            to_sky, to_ground = outer**4 - sky**4, outer**4 - ambient**4
            lost = wind * (outer - ambient)
            lost = lost + sheet * (self.view * to_sky + (1.0 - self.view) * to_ground)
            across = self.gap(inner, plate) * (plate - inner) + self.front * (plate**4 - inner**4)
            outer, inner = glass - half * lost, glass + half * across
        return lost, across

    def stream(
        self, plate: Array, lining: Array, film: Array, now: dict[str, Array]
    ) -> tuple[Array, Array, Array]:
        """Let the air pass the segments, each by its exact exponential."""
        area = self.box.aperture / SEGMENTS
        carried = now["flow"] * CP
        share = self.true["leakage"]
        air = (1.0 - share) * now["inlet"] + share * now["ambient"]
        plates, linings = np.empty_like(plate), np.empty_like(plate)
        for s in range(SEGMENTS):
            h = film[:, s]
            to_plate = h * self.true["effectiveness"]
            wall = (to_plate * plate[:, s] + h * lining[:, s]) / (to_plate + h)
            ntu = (to_plate + h) * area / carried
            left = np.exp(-ntu)
            mean = wall + (air - wall) * (1.0 - left) / ntu
            plates[:, s], linings[:, s] = to_plate * (plate[:, s] - mean), h * (lining[:, s] - mean)
            air = wall + (air - wall) * left
        return plates, linings, air


def run(box: Collector, duct: tuple[float, float, float], pressure: float, days: list[Day], truths:
list[Truth],
        light: list[tuple[Array, Array, Array, Array]]) -> list[dict[str, Array]]:  # fmt: skip
    """Return outlet, absorber and supply of every test [row], as means over each row.

    light: beam, sky, ground [W/m2] and incidence [deg] of every test.
    """
    bench = Bench(box, duct, pressure, truths)
    course = {n: np.stack([getattr(d, n) for d in days], axis=1) for n in ("ambient", "sky", "inlet", "flow")}
    course["wind"] = 2.8 + 3.0 * np.stack([d.wind for d in days], axis=1)
    parts = [absorbed(box, *each) for each in light]
    for number, name in enumerate(("pane", "sheet")):
        taken = np.stack([part[number] for part in parts], axis=1)
        course[name] = taken * bench.true["cover_transmittance"]
    rows, tests = course["inlet"].shape
    y = [np.repeat(course["inlet"][0][:, None], SEGMENTS, axis=1) for _ in range(5)]
    found = {name: np.empty((rows, tests)) for name in ("outlet", "absorber", "supply")}
    count = round(60.0 / STEP)
    for row in range(-60, rows):  # an hour of the first row beforehand
        now = {name: values[max(row, 0)] for name, values in course.items()}
        now["forced"] = bench.forced(now["flow"])
        means = np.zeros((2, tests))
        for _ in range(count):
            before = y[1]
            y, outlet = _step(bench, y, now)
            plate = 0.5 * (before + y[1])[:, -LAST:].mean(axis=1)
            means += np.stack([outlet, plate]) / count
        if row >= 0:
            found["outlet"][row], found["absorber"][row] = means
            kept = np.exp(-bench.duct / (now["flow"] * CP))
            found["supply"][row] = now["ambient"] + kept * (means[0] - now["ambient"])
    return [{name: values[:, test] for name, values in found.items()} for test in range(tests)]


def _step(bench: Bench, y: list[Array], now: dict[str, Array]) -> tuple[list[Array], Array]:
    k1, _ = bench.rates(y, now)
    k2, outlet = bench.rates([a + 0.5 * STEP * k for a, k in zip(y, k1, strict=True)], now)
    k3, _ = bench.rates([a + 0.5 * STEP * k for a, k in zip(y, k2, strict=True)], now)
    k4, _ = bench.rates([a + STEP * k for a, k in zip(y, k3, strict=True)], now)
    new = [
        a + STEP / 6.0 * (p + 2.0 * q + 2.0 * r + s) for a, p, q, r, s in zip(y, k1, k2, k3, k4, strict=True)
    ]
    return new, outlet
