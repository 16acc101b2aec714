"""Published relations for air, gaps, channels, tubes and sheets, coded a second time in plain numpy.

Nothing here comes from the package's own relations; only the plain description of a collector is shared.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.collector.spec import AirSpace, Collector, Perforation, SealedGap

Array = NDArray[np.float64]

SIGMA = 5.670374419e-8  # [W/m2K4] CODATA 2018
CP = 1006.0  # [J/kgK] of air
GRAVITY = 9.80665  # [m/s2]
GAS = 287.05  # [J/kgK] dry air


@dataclass(frozen=True)
class Case:
    """One collector in one weather."""

    collector: Collector
    mass_flow: float  # [kg/s]
    inlet: float  # [K], also the room behind a wall
    ambient: float  # [K]
    sky: float  # [K]
    wind: float  # [W/m2K] coefficient
    absorbed: tuple[float, ...]  # [W/m2] each pane, then the absorber
    pressure: float = 101325.0  # [Pa]


def conductivity(t: Array) -> Array:
    """Return that of air [W/mK] (US Standard Atmosphere 1976, from memory)."""
    return np.asarray(2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t)))


def viscosity(t: Array) -> Array:
    """Return that of air [Pa s] (Sutherland)."""
    return np.asarray(1.458e-6 * t**1.5 / (t + 110.4))


def fill(gap: SealedGap, t: Array, pressure: float) -> tuple[Array, Array, Array, float]:
    """Return conductivity, viscosity, density, specific heat of a fill (EN 673 table, from memory)."""
    table = {  # at 10 degC and 1 bar: lambda, slope, mu, slope, rho, c
        "argon": (1.684e-2, 5.0e-5, 2.164e-5, 6.33e-8, 1.699, 519.0),
        "krypton": (0.900e-2, 2.8e-5, 2.400e-5, 7.0e-8, 3.560, 245.0),
    }
    thin = 1.0 - gap.fill_share if gap.gas != "air" else 1.0
    k, mu, rho, c = thin * conductivity(t), thin * viscosity(t), thin * pressure / (GAS * t), thin * CP
    if gap.gas != "air":
        k0, k1, mu0, mu1, rho0, c0 = table[gap.gas]
        full, above = gap.fill_share, t - 283.15
        k, mu = k + full * (k0 + k1 * above), mu + full * (mu0 + mu1 * above)
        rho, c = rho + full * rho0 * 283.15 / t * pressure / 1.0e5, c + full * c0
    return k, mu, rho, c


def nusselt(ra: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a still gap, tilt [deg] counted at the hotter face.

    Hollands et al. 1976; El Sherbiny, Raithby and Hollands 1982; ISO 15099:2003 (all from memory).
    """
    if ra < 1.0e-6:
        return 1.0

    def flat() -> float:
        slope = math.radians(min(tilt, 60.0))
        along = ra * math.cos(slope)
        lifted = max(0.0, 1.0 - 1708.0 / along)
        rough = 1.0 - 1708.0 * math.sin(1.8 * slope) ** 1.6 / along
        return 1.0 + 1.44 * lifted * rough + max(0.0, (along / 5830.0) ** (1.0 / 3.0) - 1.0)

    def sixty() -> float:
        g = 0.5 / (1.0 + (ra / 3160.0) ** 20.6) ** 0.1
        first = (1.0 + (0.0936 * ra**0.314 / (1.0 + g)) ** 7) ** (1.0 / 7.0)
        return max(first, (0.104 + 0.175 / aspect) * ra**0.283)

    def upright() -> float:
        first = 1.0 + 1.7596678e-10 * ra**2.2984755
        if ra > 5.0e4:
            first = 0.0673838 * ra ** (1.0 / 3.0)
        elif ra > 1.0e4:
            first = 0.028154 * ra**0.4134
        return max(first, 0.242 * (ra / aspect) ** 0.272)

    if tilt <= 50.0:
        return flat()
    if tilt <= 60.0:
        return flat() + (tilt - 50.0) / 10.0 * (sixty() - flat())
    if tilt <= 90.0:
        return sixty() + (tilt - 60.0) / 30.0 * (upright() - sixty())
    return 1.0 + (upright() - 1.0) * math.sin(math.radians(tilt))


def still(gap: SealedGap, outer: Array, inner: Array, case: Case) -> Array:
    """Return conduction and convection across still gas from wall to wall [W/m2K], segment by segment."""
    tilt, length, pressure = case.collector.tilt, case.collector.length, case.pressure
    mean = 0.5 * (outer + inner)
    k, mu, rho, c = fill(gap, mean, pressure)
    ra = GRAVITY * np.abs(inner - outer) / mean * gap.depth**3 * rho**2 * c / (mu * k)
    slope = np.where(inner >= outer, tilt, 180.0 - tilt)
    nu = [nusselt(float(r), float(s), length / gap.depth) for r, s in zip(ra, slope, strict=True)]
    return np.array(nu) * k / gap.depth


def radiation(first: Array, second: Array, e1: float, e2: float) -> Array:
    """Return the net radiation from the first of two wide parallel plates to the second [W/m2]."""
    return SIGMA * (first**4 - second**4) / (1.0 / e1 + 1.0 / e2 - 1.0)


def channel(flow: float, depth: float, film_temperature: float, case: Case) -> float:
    """Return the film on one wall of a flat channel that is heated from one side [W/m2K].

    Developing laminar flow and 0.0158 Re^0.8 (Kays), linear in Re from 2300 to 10000 (from memory).
    """
    t = np.array(film_temperature)
    mu, k = float(viscosity(t)), float(conductivity(t))
    prandtl, hydraulic = CP * mu / k, 2.0 * depth
    re = flow * hydraulic / (case.collector.width * depth * mu)

    def laminar(r: float) -> float:
        x = r * prandtl * hydraulic / case.collector.length
        return 4.9 + 0.0606 * x**1.2 / (1.0 + 0.0909 * x**0.7 * prandtl**0.17)

    def turbulent(r: float) -> float:
        return 0.0158 * r**0.8

    if re <= 2300.0:
        nu = laminar(re)
    elif re >= 10000.0:
        nu = turbulent(re)
    else:
        nu = laminar(2300.0) + (re - 2300.0) / 7700.0 * (turbulent(10000.0) - laminar(2300.0))
    return nu * k / hydraulic


def tube(flow: float, case: Case, film_temperature: float) -> float:
    """Return the film in a round tube [W/m2K]: Hausen, Dittus-Boelter, linear in Re between (from memory)."""
    bank = case.collector.absorber.tubes
    assert bank is not None
    t = np.array(film_temperature)
    mu, k = float(viscosity(t)), float(conductivity(t))
    prandtl = CP * mu / k
    re = 4.0 * flow * bank.pitch / case.collector.width / (math.pi * bank.diameter * mu)
    x = min(re, 2300.0) * prandtl * bank.diameter / case.collector.length
    laminar = 3.66 + 0.0668 * x / (1.0 + 0.04 * x ** (2.0 / 3.0))
    share = min(max((re - 2300.0) / 7700.0, 0.0), 1.0)
    return (laminar + share * (0.023 * max(re, 1.0e4) ** 0.8 * prandtl**0.4 - laminar)) * k / bank.diameter


def moving_share(reynolds: float) -> float:
    """Return the share of forced convection that a small flow keeps: r^2 / (1 + r^2), r = Re / 100.

    A bridge of this project's own between still air and a flow; it is a choice, not a published relation.
    """
    return (reynolds / 100.0) ** 2 / (1.0 + (reynolds / 100.0) ** 2)


def with_buoyancy(forced: float, depth: float, gap: float, kept: tuple[float, float], k: float) -> float:
    """Return the film where forced flow and buoyancy meet: cubes add up (Churchill 1977, from memory).

    The still gap has twice its conductance on each wall; the developed flow already holds the conduction that
    the still part brings, so that this is taken out of it first. kept: shares of the forced and of the still
    part that count.
    """
    conduction = 2.0 * k / depth * kept[1]
    own = kept[0] * max(forced**3 - conduction**3, 0.0)
    return float(np.cbrt(own + (2.0 * gap * kept[1]) ** 3))


def effectiveness(sheet: Perforation, case: Case) -> float:
    """Return that of a screen or a perforated sheet: given at a flow, or Kutscher 1994 (from memory)."""
    box = case.collector
    flux = case.mass_flow / (box.width * box.length)
    if sheet.effectiveness is not None:
        rated = flux if sheet.rated_flow is None else sheet.rated_flow
        units = -math.log(1.0 - sheet.effectiveness) * (flux / rated) ** -sheet.exponent
        return 1.0 - math.exp(-sheet.layers * units)
    assert sheet.hole_diameter is not None and sheet.pitch is not None
    t = 308.15
    rho, mu, k = case.pressure / (GAS * t), float(viscosity(np.array(t))), float(conductivity(np.array(t)))
    suction = flux / rho
    depth = 0.5 * (box.front.depth_inlet + box.front.depth_outlet)
    along = 0.5 * case.mass_flow / (rho * box.width * depth)
    re = suction / sheet.porosity * sheet.hole_diameter * rho / mu
    wind = 0.011 * sheet.porosity * re * (along / suction) ** 0.48
    nu = 2.75 * ((sheet.pitch / sheet.hole_diameter) ** -1.2 * re**0.43 + wind)
    h = nu * k / sheet.hole_diameter
    return 1.0 - math.exp(-sheet.layers * h * (1.0 - sheet.porosity) / (rho * CP * suction))


def depth_at(space: AirSpace, segment: int, segments: int) -> float:
    """Return the depth of an air space at the middle of a segment [m]."""
    share = (segment + 0.5) / segments
    return space.depth_inlet * (1.0 - share) + space.depth_outlet * share
