"""Random collectors and weather for `blind_steady`, and the package's steady point of the same."""

from dataclasses import dataclass, replace

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.spec import Fan
from simengine.collector import spec
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table, leak_shares
from simengine.collector.network import Weather
from simengine.collector.steady import steady_point
from simengine.heat_transfer.wind import WIND_RELATIONS
from tests.reference.blind_relations import C_P, WIND
from tests.reference.blind_steady import Found, Outdoors

ARRANGEMENTS = ("behind", "in_front", "both_sides", "two_pass", "through", "tubes")
SEGMENTS = 24  # of the package's solution, so that the cut along the flow costs nothing that counts


@dataclass(frozen=True)
class Build:
    """One collector in its weather."""

    collector: spec.Collector
    outdoors: Outdoors
    absorbed: tuple[float, ...]
    inlet: float
    mass_flow: float
    wind_speed: float

    @property
    def sun(self):
        """All that panes and absorber take up [W]."""
        return sum(self.absorbed) * self.collector.aperture


def random_build(number, arrangement, still=False):
    """A build by its number: the same for ever. `still` leaves the fan off."""
    r = np.random.default_rng(7_000_000 + number)
    collector = _collector(r, arrangement)
    speed = r.uniform(0.0, 6.0)
    ambient = r.uniform(258.0, 303.0)
    sun = r.uniform(0.0, 1000.0) if r.random() < 0.85 else 0.0
    absorbed = (*[sun * r.uniform(0.0, 0.12) for _ in collector.panes], sun * r.uniform(0.5, 0.95))
    outdoors = Outdoors(
        ambient=ambient,
        sky=ambient - r.uniform(0.0, 25.0),
        wind=WIND[collector.wind_relation](speed, collector.length),
        pressure=r.uniform(78_000.0, 103_000.0),
    )
    flow = 0.0 if still else collector.aperture * float(np.exp(r.uniform(np.log(0.004), np.log(0.06))))
    return Build(collector, outdoors, absorbed, r.uniform(285.0, 303.0), flow, speed)


def _collector(r, arrangement):
    bare = arrangement in ("behind", "tubes") and r.random() < 0.25
    panes = tuple(_pane(r) for _ in range(0 if bare else r.integers(1, 4)))
    length = r.uniform(0.8, 4.0)
    made = spec.Collector(
        width=r.uniform(0.5, 2.5),
        length=length,
        tilt=r.uniform(0.0, 90.0),
        azimuth=180.0,
        arrangement=arrangement,
        panes=panes,
        pane_gaps=tuple(_gap(r) for _ in panes[1:]),
        front=spec.AirSpace(*_depths(r)),
        absorber=_absorber(r, arrangement),
        rear=spec.AirSpace(*_depths(r)),
        back=_back(r),
        edge_conductance=r.uniform(0.0, 3.0),
        segments=SEGMENTS,
        wind_relation=str(r.choice(list(WIND))),
        leak=_leak(r),
    )
    # air that enters a leaky box is not as warm as the room behind its wall: the steady point has one inlet
    return made if made.back.wall_resistance is None else replace(made, leak=None)


def _depths(r):
    one = r.uniform(0.012, 0.09)
    return (one, one) if r.random() < 0.6 else (one, r.uniform(0.012, 0.09))


def _pane(r):
    plastic = r.random() < 0.25
    return spec.Pane(
        name="pane",
        thickness=r.uniform(0.002, 0.010),
        conductivity=r.uniform(0.05, 0.3) if plastic else 1.0,
        emittance_outside=0.84 if r.random() < 0.7 else r.uniform(0.1, 0.95),
        emittance_inside=0.84 if r.random() < 0.7 else r.uniform(0.03, 0.95),
    )


def _gap(r):
    gas = str(r.choice(["air", "air", "argon", "krypton"]))
    return spec.SealedGap(depth=r.uniform(0.006, 0.04), gas=gas, fill_share=r.uniform(0.7, 1.0))


def _absorber(r, arrangement):
    ribbed = r.random() < 0.3
    return spec.Absorber(
        name="absorber",
        emittance_front=r.uniform(0.05, 0.95),
        emittance_back=r.uniform(0.05, 0.95),
        front_area=r.uniform(1.0, 2.0) if ribbed else 1.0,
        rear_area=r.uniform(1.0, 2.0) if ribbed else 1.0,
        perforation=_perforation(r) if arrangement == "through" else None,
        tubes=_tubes(r) if arrangement == "tubes" else None,
    )


def _perforation(r):
    if r.random() < 0.5:
        return spec.Perforation(
            porosity=r.uniform(0.1, 0.6),
            effectiveness=r.uniform(0.4, 0.9),
            rated_flow=r.uniform(0.01, 0.04),
            exponent=r.uniform(0.2, 0.7),
            layers=int(r.integers(1, 4)),
        )
    hole, pitch = r.uniform(0.0008, 0.003), r.uniform(0.010, 0.025)
    return spec.Perforation(
        porosity=np.pi * hole**2 / (2.0 * np.sqrt(3.0) * pitch**2), hole_diameter=hole, pitch=pitch
    )


def _tubes(r):
    diameter = r.uniform(0.03, 0.09)
    return spec.Tubes(diameter=diameter, pitch=diameter * r.uniform(1.02, 1.3))


def _back(r):
    layers = tuple(
        spec.Layer("layer", r.uniform(0.005, 0.08), r.uniform(0.03, 0.2), 30.0, 1000.0, "mineral_wool")
        for _ in range(r.integers(1, 3))
    )
    wall = r.uniform(0.3, 4.0) if r.random() < 0.3 else None
    return spec.Back(layers, emittance=r.uniform(0.05, 0.95), wall_resistance=wall)


def _leak(r):
    if r.random() < 0.7:
        return None
    return spec.Leak(
        coefficient=r.uniform(0.0, 4e-4),
        exponent=0.65,
        box_pressure=float(r.choice([-1.0, 1.0])) * r.uniform(1, 40),
    )


def of_the_package(build):
    """The package's steady point of the same, leaks and all."""
    collector, out = build.collector, build.outdoors
    loop = given_flow_loop(Fan(mass_flow=build.mass_flow or 0.05, electric_power=0.0))
    wind = WIND_RELATIONS[collector.wind_relation](build.wind_speed, collector.length)
    drawn_in, lost = leak_shares(collector.leak, loop, build.mass_flow)
    point = steady_point(
        build_network(collector, out.pressure),
        build_flow_table(collector, loop, out.pressure),
        Weather(out.ambient, out.sky, wind, 0.0),
        np.array(
            build.absorbed if collector.panes else (0.0, *build.absorbed)
        ),  # an idle face stands for a pane
        build.inlet + drawn_in * (out.ambient - build.inlet),
        1.0 if build.mass_flow else 0.0,
    )
    brought = (point.outlet - build.inlet) - lost * (point.outlet - out.ambient)
    absorber = point.nodes[max(len(collector.panes), 1)]
    return Found(point.mass_flow * C_P * brought, float(absorber.mean()), point.outlet, 0.0)
