"""The sun on a collector: position, shade, irradiance by component, sky temperature, ground and wind."""

from simengine.sun.calendar import day_number
from simengine.sun.clouds import cloud_cover
from simengine.sun.ground import fixed_ground, monthly_ground, recorded_ground, snow_ground
from simengine.sun.horizon_survey import horizon_from_readings, read_horizon
from simengine.sun.incidence import incidence_angle
from simengine.sun.longwave import CLEAR_SKIES, sky_temperature
from simengine.sun.objects import NeighbouringWall, Overhang, SideFin
from simengine.sun.position import SunPosition, solar_position
from simengine.sun.shading import Horizon, Shade, Surroundings, sky_share, sky_view_past
from simengine.sun.sky_models import SKY_MODELS, sky_view
from simengine.sun.transposition import PlaneIrradiance, plane_irradiance
from simengine.sun.trees import Crown, Foliage, evergreen
from simengine.sun.wind import TERRAINS, collector_wind, terrain_factor

__all__ = [
    "CLEAR_SKIES",
    "SKY_MODELS",
    "TERRAINS",
    "Crown",
    "Foliage",
    "Horizon",
    "NeighbouringWall",
    "Overhang",
    "PlaneIrradiance",
    "Shade",
    "SideFin",
    "SunPosition",
    "Surroundings",
    "cloud_cover",
    "collector_wind",
    "day_number",
    "evergreen",
    "fixed_ground",
    "horizon_from_readings",
    "incidence_angle",
    "monthly_ground",
    "plane_irradiance",
    "read_horizon",
    "recorded_ground",
    "sky_share",
    "sky_temperature",
    "sky_view",
    "sky_view_past",
    "snow_ground",
    "solar_position",
    "terrain_factor",
]
