"""The published relations of a collector, coded from their text alone, for `blind_steady`.

Nothing here comes from the package, and its author had not seen the package's own coding. All arrays, SI.
Constants are from memory of the sources named.
"""

import numpy as np

SIGMA, GRAVITY, R_AIR, C_P = 5.670374419e-8, 9.80665, 287.05, 1006.0
FILM_TEMPERATURE = 308.15  # [K] of forced films and holes: the package's documented choice of 35 degC
LAMINAR, TURBULENT = (
    2300.0,
    1.0e4,
)  # Reynolds numbers between which a channel is taken to change, VDI heat atlas


def viscosity(t):
    """Sutherland's law, US Standard Atmosphere 1976 [Pa s]."""
    return 1.458e-6 * t**1.5 / (t + 110.4)


def conductivity(t):
    """US Standard Atmosphere 1976 [W/mK]."""
    return 2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t))


# EN 673:2011 at 10 degC and 1 bar, with slopes per kelvin: density, viscosity, conductivity, specific heat.
FILL_GASES = {
    "argon": (1.699, 2.164e-5, 0.0635e-6, 0.01684, 0.00005, 519.0),
    "krypton": (3.560, 2.400e-5, 0.0700e-6, 0.00900, 0.000028, 245.0),
}


def gas_properties(gas, share, t, pressure):
    """Density, viscosity, conductivity, specific heat of a gas in air: by volume, as EN 673 has it."""
    air = (pressure / (R_AIR * t), viscosity(t), conductivity(t), C_P)
    if gas == "air":
        return air
    rho, mu, mu_slope, k, k_slope, c = FILL_GASES[gas]
    pure = (
        rho * (283.15 / t) * (pressure / 1.0e5),
        mu + mu_slope * (t - 283.15),
        k + k_slope * (t - 283.15),
        c,
    )
    return tuple(share * p + (1.0 - share) * a for p, a in zip(pure, air, strict=True))


def hollands(ra, tilt):
    """Hollands, Unny, Raithby, Konicek 1976: heated from below, 0 to 60 deg."""
    slope = np.cos(np.radians(tilt))
    steep = np.sin(np.radians(1.8 * tilt)) ** 1.6
    rac = np.maximum(ra * slope, 1e-9)
    first = np.maximum(0.0, 1.0 - 1708.0 / rac)
    second = np.maximum(0.0, (rac / 5830.0) ** (1.0 / 3.0) - 1.0)
    return 1.0 + 1.44 * first * (1.0 - 1708.0 * steep / rac) + second


def el_sherbiny_60(ra, aspect):
    """El Sherbiny, Raithby, Hollands 1982 at 60 deg, as ISO 15099 prints it."""
    g = 0.5 / (1.0 + (ra / 3160.0) ** 20.6) ** 0.1
    one = (1.0 + (0.0936 * ra**0.314 / (1.0 + g)) ** 7) ** (1.0 / 7.0)
    return np.maximum(one, (0.104 + 0.175 / aspect) * ra**0.283)


def iso_15099_90(ra, aspect):
    """ISO 15099 for an upright gap."""
    low = 1.0 + 1.7596678e-10 * ra**2.2984755
    middle = 0.028154 * ra**0.4134
    high = 0.0673838 * ra ** (1.0 / 3.0)
    one = np.where(ra <= 1.0e4, low, np.where(ra <= 5.0e4, middle, high))
    return np.maximum(one, 0.242 * (ra / aspect) ** 0.272)


def gap_nusselt(ra, tilt, aspect):
    """Joined: Hollands, into El Sherbiny over 50 to 60 deg, to ISO 15099 at 90, conduction at 180.

    `tilt` is that of the hotter face: above 90 the gap is heated from above.
    """
    tilt = np.broadcast_to(np.asarray(tilt, float), np.shape(ra))
    upright = iso_15099_90(ra, aspect)
    sixty = el_sherbiny_60(ra, aspect)
    blend = np.clip((tilt - 50.0) / 10.0, 0.0, 1.0)
    shallow = (1.0 - blend) * hollands(ra, np.minimum(tilt, 60.0)) + blend * sixty
    rise = np.clip((tilt - 60.0) / 30.0, 0.0, 1.0)
    steep = (1.0 - rise) * sixty + rise * upright
    above = 1.0 + (upright - 1.0) * np.sin(np.radians(np.minimum(tilt, 180.0)))
    return np.where(tilt <= 60.0, shallow, np.where(tilt <= 90.0, steep, above))


def gap_conductance(lower, upper, depth, tilt, length, pressure, gas="air", share=1.0):
    """Conductance of a still gap between its lower (inner) and its upper (outer) face [W/m2K]."""
    mean = 0.5 * (lower + upper)
    rho, mu, k, c = gas_properties(gas, share, mean, pressure)
    difference = np.abs(lower - upper)
    ra = GRAVITY * difference / mean * depth**3 * rho**2 * c / (mu * k)
    seen = np.where(lower >= upper, tilt, 180.0 - tilt)
    return gap_nusselt(np.maximum(ra, 1e-9), seen, length / depth) * k / depth


def plates(t1, t2, e1, e2):
    """Long-wave heat from the first grey parallel face to the second [W/m2]."""
    return SIGMA * (t1**4 - t2**4) / (1.0 / e1 + 1.0 / e2 - 1.0)


def between(re, laminar, turbulent):
    """Nusselt number at any Reynolds number: linear in it from 2300 to 10000, ends taken at those two."""
    share = np.clip((re - LAMINAR) / (TURBULENT - LAMINAR), 0.0, 1.0)
    mixed = (1.0 - share) * laminar(LAMINAR) + share * turbulent(TURBULENT)
    return np.where(re <= LAMINAR, laminar(re), np.where(re >= TURBULENT, turbulent(re), mixed))


def channel_film(mass_flow, width, depth, length):
    """Forced coefficient of one wall of a flat channel, developing laminar to turbulent (Kays) [W/m2K]."""
    mu, k = viscosity(FILM_TEMPERATURE), conductivity(FILM_TEMPERATURE)
    pr, diameter = mu * C_P / k, 2.0 * depth
    re = 2.0 * np.abs(mass_flow) / (width * mu)

    def laminar(r):
        x = r * pr * diameter / length
        return 4.9 + 0.0606 * x**1.2 / (1.0 + 0.0909 * x**0.7 * pr**0.17)

    return between(re, laminar, lambda r: 0.0158 * r**0.8) * k / diameter, re


def forced_share(re):
    """How forced flow fades into still air: the documented choice r^2/(1 + r^2), r = Re/100."""
    r = re / 100.0
    return r * r / (1.0 + r * r)


def joined_film(forced, share, buoyancy, conduction):
    """One wall between still gap and forced flow [W/m2K], by the cubes of both.

    `buoyancy` and `conduction` are of half the gap: with its own Nusselt number, and with one of 1. A flow
    holds the conduction already, so that without buoyancy the forced value is what comes out.
    """
    return np.cbrt(share * (forced**3 - conduction**3) + buoyancy**3)


def tube_film(mass_flow, diameter, length):
    """Round tube: Hausen below the change, Dittus and Boelter above it [W/m2K]."""
    mu, k = viscosity(FILM_TEMPERATURE), conductivity(FILM_TEMPERATURE)
    pr = mu * C_P / k
    re = 4.0 * mass_flow / (np.pi * diameter * mu)

    def laminar(r):
        graetz = r * pr * diameter / length
        return 3.66 + 0.0668 * graetz / (1.0 + 0.04 * graetz ** (2.0 / 3.0))

    return between(re, laminar, lambda r: 0.023 * r**0.8 * pr**0.4) * k / diameter


def kutscher_ntu(suction, cross, hole, pitch, porosity, pressure):
    """Transfer units of a perforated sheet, Kutscher 1994; suction [kg/s m2], cross velocity [m/s]."""
    mu, k = viscosity(FILM_TEMPERATURE), conductivity(FILM_TEMPERATURE)
    rho = pressure / (R_AIR * FILM_TEMPERATURE)
    v_s = suction / rho
    re = v_s / porosity * hole * rho / mu
    nu = 2.75 * ((pitch / hole) ** -1.2 * re**0.43 + 0.011 * porosity * re * (cross / v_s) ** 0.48)
    return nu * k / hole * (1.0 - porosity) / (suction * C_P)


def given_ntu(effectiveness, rated_flow, suction, exponent):
    """Transfer units from a measured effectiveness, NTU ~ flow^-n."""
    return -np.log(1.0 - effectiveness) * (suction / rated_flow) ** -exponent


WIND = {
    "watmuff": lambda v, length: 2.8 + 3.0 * v,
    "mcadams": lambda v, length: 5.7 + 3.8 * v,
    "mitchell": lambda v, length: max(5.0, 8.6 * v**0.6 / length**0.4),
    "iso_6946": lambda v, length: 4.0 + 4.0 * v,
}
