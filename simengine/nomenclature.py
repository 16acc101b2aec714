"""The nomenclature: every quantity that the program shows, with its unit, sign, limits and meaning.

Names without a unit in them are hourly variables in SI; names that end in a unit are keys of the summary.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity that the program shows."""

    name: str
    symbol: str
    unit: str  # udunits spelling; "1" for a share or a count
    low: float  # [unit] plausible limits; a value outside is a defect or a fault of the input
    high: float
    sign: str  # what a positive value means; "" where it cannot be negative
    meaning: str
    cell_methods: str = "time: mean"
    kind: str = ""  # key of simengine.units.KINDS, for showing it in other units

    @property
    def long_name(self) -> str:
        """Meaning with the sign, as a dataset attribute."""
        return f"{self.meaning} ({self.sign})" if self.sign else self.meaning

    def attributes(self) -> dict[str, str]:
        """Return the attributes that a dataset variable of this quantity carries."""
        return {"units": self.unit, "long_name": self.long_name, "cell_methods": self.cell_methods}

    def plausible(self, value: float) -> bool:
        """Whether a value lies within the limits; NaN does not."""
        return self.low <= value <= self.high


def _maker(unit: str, low: float, high: float, kind: str) -> Callable[..., Quantity]:
    def make(name: str, symbol: str, meaning: str, sign: str = "", signed: bool = False) -> Quantity:
        return Quantity(name, symbol, unit, -high if signed else low, high, sign, meaning, kind=kind)

    return make


_heat = _maker("W", -1e-6, 1e6, "power")
_solar = _maker("W/m2", 0.0, 1600.0, "irradiance")
_level = _maker("K", 173.15, 523.15, "temperature")
_share = _maker("1", 0.0, 1.0, "fraction")
_year = _maker("kWh", -1e-6, 1e6, "energy")
_hours = _maker("h", 0.0, 8784.0, "")
_celsius = _maker("degC", -100.0, 250.0, "")
_money = _maker("currency", 0.0, 1e9, "")
_span = _maker("year", 0.0, 1e4, "")

_DUCT = "positive: leaves the duct"
_OUTWARD = "positive: leaves the collector"
_INWARD = "positive: into the room"
_WARMER = "positive: it is warmer"
WHERE: Final = (
    "(hours of a year: in the last segment from the inlet; an operating point: mean along the flow)"
)
"""Where the temperatures of the collector's faces are taken."""

_HOURLY = (
    _heat("incident", "G A", "sun on the aperture"),
    _heat("reflected", "Q_r", "sun that the cover and absorber throw back, with dirt and frame"),
    _heat("absorbed", "Q_a", "sun taken up in panes and absorber"),
    _heat("cover_convection_loss", "Q_wind", "heat from the cover to the outside air", _OUTWARD, True),
    _heat("cover_longwave_loss", "Q_sky", "net long-wave heat from cover to sky and ground", _OUTWARD, True),
    _heat("back_loss", "Q_b", "heat through the back", _OUTWARD, True),
    _heat("wall_heat", "Q_w", "heat from the collector through the house wall behind it", _INWARD, True),
    _heat("edge_loss", "Q_e", "heat through the edges", _OUTWARD, True),
    _heat("leak_loss", "Q_leak", "heat lost with air that leaks", _OUTWARD, True),
    _heat("duct_loss", "Q_d", "heat from the ducts to where they run", _DUCT, True),
    _heat("opening_loss", "Q_o", "change of loss and gain at the opening", "positive: a loss", True),
    _heat("collected", "Q_u", "heat into the air at the collector outlet", "positive: air is warmed", True),
    _heat("useful_gain", "Q_u", "heat into the air of one steady point", "positive: air is warmed", True),
    _heat("fan_heat", "Q_f", "fan power that ends in the air"),
    _heat("delivered", "Q_del", "heat brought into the space that the air goes to while it is positive"),
    _heat("night_loss", "Q_n", "heat taken out of that space through the loop"),
    _heat("held_back", "Q_h", "estimate of the heat that room limit and season kept out"),
    _heat("carried", "Q_c", "heat that air carries from the space it goes to into the space it is from",
          "positive: the space it goes to is warmer", True),
    _heat("fresh_air", "Q_fa", "heat that lifts outdoor air to the temperature of the space it goes to",
          "positive: outdoors is colder", True),
    _heat("ventilation_replaced", "Q_vr", "loss of the house's own ventilation that fresh air replaces",
          "positive: a loss saved", True),
    _heat("stored", "dE/dt", "change of heat stored in the collector", "positive: it warms up", True),
    _heat("closure_residual", "r", "what the energy balance leaves over", "positive: gains exceed", True),
    _heat("heating_without", "Q_H0", "useful heating of the same house without the collector"),
    _heat("heating_with", "Q_H1", "useful heating of the house with the collector"),
    _heat("vented", "Q_v", "heat that open windows carry off, house with the collector"),
    _heat("vented_without", "Q_v0", "heat that open windows carry off, house without it"),
    _heat("window_gain", "Q_sol", "sun through the windows of the house"),
    _heat("internal_gain", "Q_int", "heat of people, light and appliances"),
    _heat("house_gain", "Q_g", "heat of sun, people, light and appliances in the house with the collector"),
    _heat("house_loss", "Q_tr", "heat through envelope and air change", "positive: the house loses", True),
    _heat("house_stored", "dE_m/dt", "change of heat stored in the house", "positive: it warms up", True),
    replace(_heat("fan_power", "P_f", "electric power of the fan"), kind="electric_power"),
    _share("fan_on", "z", "share of the interval in which the fan runs"),
    _share("passive_on", "z_p", "share of the interval in which air moves through the loop by itself"),
    _solar("plane_irradiance", "G", "sun on the collector plane"),
    _solar("beam", "G_b", "beam on the collector plane"),
    _solar("circumsolar", "G_c", "circumsolar part on the collector plane"),
    _solar("sky_diffuse", "G_d", "diffuse sky on the collector plane"),
    _solar("ground_reflected", "G_g", "sun from the ground on the collector plane"),
    _solar("ghi", "GHI", "global horizontal irradiance"),
    _solar("dni", "DNI", "direct normal irradiance"),
    _solar("dhi", "DHI", "diffuse horizontal irradiance"),
    _solar("longwave_down", "IR", "long-wave irradiance from the sky on a horizontal plane"),
    _level("ambient_temperature", "T_a", "outdoor air"),
    _level("sky_temperature", "T_s", "black-body temperature of the sky"),
    _level("dew_temperature", "T_d", "dew point of the outdoor air"),
    _level("cover_temperature", "T_c", f"inner face of the innermost pane {WHERE}"),
    _level("outer_cover_temperature", "T_c1", "outermost pane, mean along the flow"),
    _level("absorber_temperature", "T_p", f"absorber {WHERE}"),
    _level("hottest_absorber_temperature", "T_p,max", "absorber at its hottest place along the flow"),
    _level("back_temperature", "T_b", "inner face of the back, mean along the flow"),
    _level("box_temperature", "T_x", "frame and outer skin"),
    _level("inlet_temperature", "T_i", "air that enters the collector"),
    _level("outlet_temperature", "T_o", "air that leaves the collector"),
    _level("sensor_temperature", "T_sen", "what the control's sensor shows"),
    _level("supply_temperature", "T_sup", "air that enters the room"),
    replace(
        _level("peak_supply_temperature", "T_sup,max", "hottest air that enters the room"),
        cell_methods="time: maximum",
    ),
    _level("room_temperature", "T_r", "room air of the house with the collector"),
    _level("room_temperature_without", "T_r0", "room air of the house without it"),
    _level("second_space_temperature", "T_2", "air of the second space, house with the collector"),
    _level("second_space_temperature_without", "T_20", "air of the second space, house without it"),
    _level("mass_temperature", "T_m", "heavy parts of the house with the collector"),
    Quantity("mass_flow", "m'", "kg/s", -2.0, 2.0, "positive: to the room", "air through the collector",
             kind="mass_flow"),
    Quantity("standard_flow", "V_std", "m3/s", -2.0, 2.0, "positive: to the room",
             "air flow as standard air of 1.2014 kg/m3", kind="volume_flow"),
    Quantity("wind_speed", "V", "m/s", 0.0, 90.0, "", "wind at the collector", kind="speed"),
    Quantity("incidence_angle", "theta", "degree", 0.0, 180.0, "", "angle of incidence", kind="angle"),
    Quantity("zenith", "z", "degree", 0.0, 180.0, "", "zenith angle of the sun", kind="angle"),
    Quantity("azimuth", "gamma", "degree", 0.0, 360.0, "", "sun, clockwise from north", kind="angle"),
    Quantity("relative_humidity", "phi", "1", 0.0, 1.1, "", "relative humidity outdoors", kind="fraction"),
    Quantity("pressure", "p", "Pa", 4e4, 1.1e5, "", "air pressure at the site", kind="pressure"),
    Quantity("fan_starts", "n", "1", 0.0, 3600.0, "", "fan starts in the interval", "time: sum"),
)  # fmt: skip

_SUMMARY = (
    _year("incident_kwh", "H A", "sun on the aperture in a year"),
    _year("reflected_kwh", "E_r", "of it thrown back by cover and absorber"),
    _year("cover_loss_kwh", "E_c", "lost through the cover", _OUTWARD, True),
    _year("back_loss_kwh", "E_b", "lost through the back", _OUTWARD, True),
    _year("edge_loss_kwh", "E_e", "lost through the edges", _OUTWARD, True),
    _year("leak_loss_kwh", "E_leak", "lost with air that leaks", _OUTWARD, True),
    _year("duct_loss_kwh", "E_d", "lost from the ducts", _DUCT, True),
    _year("wall_heat_kwh", "E_w", "from the collector through the house wall behind it", _INWARD, True),
    _year("absorbed_kwh", "E_a", "taken up in panes and absorber"),
    _year("collected_kwh", "E_u", "into the air at the collector outlet", "positive: air is warmed", True),
    _year("stored_kwh", "dE", "change of heat stored in the collector", _WARMER, True),
    _year("fan_heat_kwh", "E_f", "fan power that ends in the air; inside delivered"),
    _year("delivered_kwh", "E_del", "heat the air brings into the heated space: the sum of what is positive"),
    _year("night_loss_kwh", "E_n", "heat taken out of the heated space through the loop"),
    _year("opening_loss_kwh", "E_o", "change of loss and gain at the opening", "positive: a loss", True),
    _year("net_kwh", "E_net", "delivered less night loss and opening loss", "positive: a gain", True),
    _year("fan_kwh", "W_f", "electricity of the fan"),
    _year("heating_without_kwh", "E_H0", "useful heating without the collector"),
    _year("heating_with_kwh", "E_H1", "useful heating with the collector"),
    _year("offset_kwh", "E_off", "heating no longer needed: without less with", "positive: saved", True),
    _year("vented_kwh", "E_v", "heat that open windows carry off, with the collector"),
    _year("vented_without_kwh", "E_v0", "heat that open windows carry off, without the collector"),
    _year("vented_added_kwh", "dE_v", "heat that open windows carry off, with less without",
          "positive: more", True),
    _year("held_back_kwh", "E_h", "estimate of the heat that room limit and season kept out"),
    _year("carried_kwh", "E_ca", "heat that air carried from the space it goes to into the space it is from",
          "positive: the space it goes to is warmer", True),
    _year("fresh_air_kwh", "E_fa", "heat that lifted outdoor air to the temperature of the space it goes to",
          "positive: outdoors is colder", True),
    _year("ventilation_replaced_kwh", "E_vr", "loss of the house's own ventilation that fresh air replaced",
          "positive: a loss saved", True),
    _year("house_gain_kwh", "E_g", "sun, people, light and appliances in the house with the collector"),
    _year("house_loss_kwh", "E_tr", "through its envelope and air change", "positive: a loss", True),
    _year("house_stored_kwh", "dE_m", "change of heat stored in the house", _WARMER, True),
    _hours("fan_hours", "t_f", "running time of the fan"),
    _hours("passive_hours", "t_p", "time in which air moves through the loop by itself"),
    Quantity("delivered_kwh_m2", "q_del", "kWh/m2", -1e-6, 3000.0, "", "delivered heat over aperture"),
    Quantity("heating_without_kwh_m2", "q_H0", "kWh/m2", -1e-6, 5000.0, "",
             "heating without the collector, over floor area"),
    Quantity("floor_area_m2", "A_f", "m2", 0.0, 1e5, "", "heated floor area", kind="area"),
    _hours("overheating_hours_added", "t_o", "open windows, with less without", "positive: more", True),
    _hours("condensation_hours", "t_c", "inside of the cover below the dew point of the room's air"),
    _hours("condensation_hours_with_fan", "t_cf", "those of them in which the fan runs"),
    _hours("condensation_hours_with_drift", "t_cd", "those of them in which air moves by itself"),
    _celsius("room_dew_point_c", "T_d,r", "dew point of the room's air"),
    _celsius("second_space_c", "T_2", "second space in the colder half of the hours, with the collector"),
    _celsius("second_space_without_c", "T_20", "second space in the colder half of the hours, without it"),
    _celsius("peak_supply_c", "T_sup,max", "hottest air that entered the room"),
    _celsius("hottest_c", "T_max", "hottest that a part gets with the fan off"),
    _celsius("limit_c", "T_lim", "what the material of a part stands"),
    Quantity("useful_share", "u", "1", -1.0, 1.5, "positive: saved",
             "offset over delivered", kind="fraction"),
    Quantity("solar_fraction", "f", "1", -1.0, 1.0, "positive: saved",
             "offset over heating without", kind="fraction"),
    Quantity("efficiency", "eta", "1", -0.1, 1.0, "",
             "delivered less fan heat, over incident", kind="fraction"),
    Quantity("g_value", "g", "1", 0.0, 1.0, "", "solar factor of the cover, EN 410", kind="fraction"),
    Quantity("u_value", "U", "W/m2/K", 0.0, 10.0, "", "U-value of the cover, EN 673", kind="u_value"),
    Quantity("aperture_m2", "A", "m2", 0.0, 1000.0, "", "glazed opening of the collector", kind="area"),
    Quantity("hdd18_kd", "HDD18", "K day", 0.0, 15000.0, "", "heating degree days to 18 degC", "time: sum"),
    Quantity("ghi_kwh_m2", "H_h", "kWh/m2", 0.0, 3000.0, "", "sun on a level plane in a year", "time: sum"),
    Quantity("closure_rmse_w_m2", "e", "W/m2", 0.0, 1000.0, "", "misfit of the file's three sun columns"),
    Quantity("closure_shift_h", "s", "h", -1.5, 1.5, "positive: labels are early", "best shift of labels"),
    Quantity("elevation_m", "z", "m", -450.0, 6000.0, "", "height above the sea"),
    Quantity("co2_saved_kg", "m_CO2", "kg", -1e6, 1e6, "positive: saved", "carbon dioxide not given off"),
    Quantity("saved", "V", "unit of sale", -1e9, 1e9, "positive: saved", "fuel saved in a year"),
    _money("money_saved", "M_s", "price of the fuel saved in a year", "positive: saved", True),
    _money("fan_cost", "M_f", "price of the fan's electricity in a year"),
    _money("net_saving", "M_n", "money saved less fan cost, in a year", "positive: saved", True),
    _money("first_cost", "C_0", "what the collector costs, built and working"),
    _money("npv", "NPV", "net present value over the study period", "positive: gain", True),
    _money("levelised_heat_cost", "LCOH", "cost of a kWh of offset heat over the study period"),
    _money("break_even_price", "p*", "fuel price at which the net present value is zero"),
    _span("simple_payback_a", "SPB", "first cost over the first year's net saving"),
    _span("discounted_payback_a", "DPB", "time after which the discounted sum stays above zero"),
    Quantity("saving_to_investment", "SIR", "1", -100.0, 1000.0, "", "present savings over investment"),
    Quantity("irr", "IRR", "1", -1.0, 100.0, "", "internal rate of return", kind="fraction"),
)  # fmt: skip


def _summed(quantity: Quantity) -> Quantity:
    return replace(quantity, cell_methods="time: sum") if quantity.unit in ("kWh", "h") else quantity


QUANTITIES: Final[dict[str, Quantity]] = {
    quantity.name: quantity for quantity in (*_HOURLY, *(_summed(quantity) for quantity in _SUMMARY))
}
"""Every quantity by its name."""
