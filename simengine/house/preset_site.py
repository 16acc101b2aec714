"""What a preset house becomes where it stands: over a second space, in the wind."""

from dataclasses import replace

from simengine.house.envelope import LEAK_DIVISOR, air_conductance, effective_air_change
from simengine.house.infiltration import leakage_area
from simengine.house.presets import DATA
from simengine.house.spec import House, Leakage


def floor_conductance(name: str, floor_area: float, storeys: int) -> float:
    """Return what the floor of a preset house conducts into a space below it.

    Parameters
    ----------
    name : of the preset
    floor_area : heated, all storeys [m2]
    storeys : number of storeys [-]

    Returns
    -------
    conductance [W/K], without the factor that stands for ground

    >>> floor_conductance("standard", 140.0, 2)  # 70 m2 x (0.5 + 0.05 of thermal bridges)
    38.5
    """
    data = DATA[name]
    return floor_area / storeys * (data.floor + data.thermal_bridge)


def exposed(house: House, storeys: int, shelter_class: int) -> House:
    """Return a preset house into which wind and stack drive the air, instead of a yearly mean.

    Parameters
    ----------
    house : one of the presets
    storeys : number of storeys [-]
    shelter_class : 1 to 5 [-], see `Leakage`

    Returns
    -------
    the house; its leaks are those of the same fan pressurisation test

    >>> from simengine.house.presets import low_energy
    >>> exposed(low_energy(140.0), 2, 4).ventilation_conductance  # 350 m3, 0.4 (1 - 0.82) 1/h
    8.4
    """
    vent = DATA[house.name].ventilation
    area = leakage_area(vent.infiltration * LEAK_DIVISOR, house.volume)
    steady = effective_air_change(replace(vent, infiltration=0.0))
    return replace(
        house,
        ventilation_conductance=air_conductance(house.volume, steady),
        leakage=Leakage(area, storeys, shelter_class),
    )
