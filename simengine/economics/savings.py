"""What saved heat means in fuel, money and CO2: by the year, or hour by hour where the hour counts."""

from dataclasses import dataclass

import numpy as np

from simengine.economics.fuels import Fuel, heat_per_unit
from simengine.economics.spec import Array, FuelUse, HeatSaved, HourlyHeat
from simengine.errors import InputError


@dataclass(frozen=True, slots=True)
class FuelSaved:
    """What one heater no longer burns in a year; all signed."""

    use: FuelUse
    fuel: Fuel
    unit: str
    heat_kwh: float  # [kWh] useful heat not made
    fuel_kwh: float  # [kWh] heat content on the basis of the efficiency
    amount: float  # [unit]
    money: float | None  # [currency]; None where there is no price
    price_per_unit: float | None  # [currency/unit] mean over what was saved
    co2_kg: float | None  # [kg]; None where no emission factor is known


def fuel_saved(heat: HeatSaved, use: FuelUse) -> FuelSaved:
    """Return what one heater saves when `heat` need not be made.

    Parameters
    ----------
    heat : the year's offset heat; with hours where efficiency or price hang on them
    use : the heater, its fuel and its price

    Returns
    -------
    fuel, money and CO2 saved

    Raises
    ------
    InputError
        Unknown fuel or unit, or the hours are needed and missing.

    Source: definition, useful heat / efficiency = heat content of the fuel.

    >>> saved = fuel_saved(HeatSaved(1050.0, 0.0), FuelUse("heating_oil", 0.80, price=3.63))
    >>> round(saved.amount, 2), round(saved.money, 2)
    (32.34, 117.38)
    """
    fuel = use.sold
    unit = use.unit or fuel.unit
    per_unit = heat_per_unit(fuel, unit, use.basis)
    heats, fuels = _heat_and_fuel(heat, use)
    fuel_kwh = float(fuels.sum())
    amount = fuel_kwh / per_unit
    money = _money(fuels / per_unit, use, heat.hours)
    price = use.price if use.price_by_hour is None else _mean_price(money, amount)
    factor = fuel.emission_factor if use.emission_factor is None else use.emission_factor
    higher_kwh = amount * heat_per_unit(fuel, unit)
    return FuelSaved(
        use=use,
        fuel=fuel,
        unit=unit,
        heat_kwh=float(heats.sum()),
        fuel_kwh=fuel_kwh,
        amount=amount,
        money=money,
        price_per_unit=price,
        co2_kg=None if factor is None else higher_kwh * factor,
    )


def useful_heat_cost(price: float, heat_content: float, efficiency: float) -> float:
    """Return what a kWh of useful heat costs in fuel.

    Parameters
    ----------
    price : of the fuel [currency/unit]
    heat_content : of the fuel, on the basis of the efficiency [kWh/unit]
    efficiency : seasonal [-]

    Returns
    -------
    cost [currency/kWh]

    Raises
    ------
    InputError
        Heat content or efficiency not above zero.

    Source: definition.

    >>> round(useful_heat_cost(3.63, 40.59, 0.80), 4)
    0.1118
    """
    if heat_content <= 0.0 or efficiency <= 0.0:
        raise InputError("useful heat: heat content and efficiency must be above zero")
    return price / (heat_content * efficiency)


def fan_running_cost(heat: HeatSaved, electricity: FuelUse) -> tuple[float | None, float | None]:
    """Return what the fan's electricity costs and emits in a year.

    Parameters
    ----------
    heat : the year, for its fan electricity
    electricity : fuel use with fuel "electricity"; its efficiency plays no part

    Returns
    -------
    cost [currency] and CO2 [kg]; each None where price or emission factor is missing

    Raises
    ------
    InputError
        A tariff by the hour without the hours, or an unknown unit.

    >>> cost, _ = fan_running_cost(HeatSaved(0.0, 32.5), FuelUse("electricity", 1.0, price=0.12))
    >>> round(cost, 2)
    3.9
    """
    fuel = electricity.sold
    per_unit = heat_per_unit(fuel, electricity.unit)
    by_hour = electricity.price_by_hour is not None
    fan = _hours(heat, electricity).fan / heat.years if by_hour else np.array([heat.fan_kwh])
    cost = 0.0 if not fan.any() else _money(fan / per_unit, electricity, heat.hours)
    factor = fuel.emission_factor if electricity.emission_factor is None else electricity.emission_factor
    return cost, None if factor is None else heat.fan_kwh * factor


def part_load_fuel(load: Array, full_load: float, use: FuelUse) -> Array:
    """Return the fuel that a heater burns at each load by its part-load efficiency.

    Parameters
    ----------
    load : mean useful output in each interval [W], array [interval]
    full_load : useful output at full load [W]
    use : heater with `efficiency_by_load`

    Returns
    -------
    heat content burnt per time [W], array [interval]; zero where there is no load

    Raises
    ------
    InputError
        The heater has no part-load line.

    Source: definition; the line itself is the user's (a rating at full and at 30 % load).

    >>> from simengine.economics.spec import Line
    >>> boiler = FuelUse("natural_gas", 0.9, efficiency_by_load=Line((0.0, 1.0), (0.5, 0.9)), full_load=1e4)
    >>> part_load_fuel(np.array([0.0, 1e4]), 1e4, boiler).round(1).tolist()
    [0.0, 11111.1]
    """
    if use.efficiency_by_load is None:
        raise InputError(f"fuel use '{use.fuel}': no efficiency by load is given")
    burnt: Array = load / use.efficiency_by_load.at(load / full_load)
    return burnt


def _heat_and_fuel(heat: HeatSaved, use: FuelUse) -> tuple[Array, Array]:
    """Useful heat and fuel saved in a year [kWh], array [interval] or of one element."""
    busy = 1.0 - use.idle_share  # what burns idle burns with and without the collector
    if use.steady:
        heats = np.array([heat.offset_kwh * use.share])
        return heats, heats * busy / use.efficiency
    hours = _hours(heat, use)
    saved = (hours.heating_without - hours.heating_with) * use.share / heat.years
    if use.efficiency_by_load is not None:
        return saved, _part_load_saved(hours, use) / heat.years
    line = use.cop_by_outdoor_temperature
    return saved, saved * busy / (use.efficiency if line is None else line.at(hours.outdoor_temperature))


def _part_load_saved(hours: HourlyHeat, use: FuelUse) -> Array:
    to_watt = use.share * 3.6e6 / hours.interval
    before, after = hours.heating_without * to_watt, hours.heating_with * to_watt
    full = use.full_load or float(max(before.max(initial=0.0), after.max(initial=0.0), 1.0))
    burnt: Array = part_load_fuel(before, full, use) - part_load_fuel(after, full, use)
    return burnt * hours.interval / 3.6e6


def _hours(heat: HeatSaved, use: FuelUse) -> HourlyHeat:
    if heat.hours is None:
        raise InputError(f"fuel use '{use.fuel}': a tariff or efficiency by the hour needs the hourly heat")
    return heat.hours


def _money(amounts: Array, use: FuelUse, hours: HourlyHeat | None) -> float | None:
    if use.price_by_hour is not None and hours is not None:
        slot = hours.hour_of_day if len(use.price_by_hour) == 24 else hours.price_slot
        return float((amounts * np.asarray(use.price_by_hour)[slot]).sum())
    return None if use.price is None else float(amounts.sum()) * use.price


def _mean_price(money: float | None, amount: float) -> float | None:
    return None if money is None or abs(amount) < 1e-12 else money / amount
