"""Names of a house's block of the summary that the public contract fixes."""

NUMBERS = (
    "incident_kwh",
    "reflected_kwh",
    "cover_loss_kwh",
    "back_loss_kwh",
    "edge_loss_kwh",
    "leak_loss_kwh",
    "duct_loss_kwh",
    "absorbed_kwh",
    "collected_kwh",
    "fan_heat_kwh",
    "delivered_kwh",
    "night_loss_kwh",
    "opening_loss_kwh",
    "net_kwh",
    "fan_hours",
    "fan_kwh",
    "fan_starts",
    "peak_supply_c",
    "heating_without_kwh",
    "heating_with_kwh",
    "offset_kwh",
    "useful_share",
    "solar_fraction",
    "efficiency",
    "overheating_hours_added",
    "vented_kwh",
    "co2_saved_kg",
)

BLOCKS = ("fuel", "economics", "months")
