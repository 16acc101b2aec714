"""Writes one and the same year in every format that the readers know, so that each can be read back.

The year is a synthetic one of an invented place. Nothing here is taken from a real file.
"""

import io
import json

import numpy as np
import pandas as pd
import xarray as xr

from simengine.weather import WeatherSeries
from simengine.weather.writer import plain_text

EPW_FLAGS = "?9" * 21


def number(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    return text[1:] if text.startswith("-") and float(text) == 0.0 else text


def column(series: WeatherSeries, name: str, digits: int, factor: float = 1.0) -> list[str]:
    return [number(value * factor, digits) for value in series.data[name]]


def hour_ending(series: WeatherSeries) -> tuple[pd.DatetimeIndex, np.ndarray]:
    index = pd.DatetimeIndex(series.data.index)
    return index, index.hour.to_numpy() + 1


def epw_text(series: WeatherSeries, year: int | None = None, zone: float | None = None) -> str:
    index, hour = hour_ending(series)
    offset = series.utc_offset if zone is None else zone
    lines = [
        f'LOCATION,"Made, Up",-,NOWHERE,invented,000000,{series.latitude},{series.longitude},{offset},'
        f"{series.elevation}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,an invented year",
        "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Monday,1/1,12/31",
    ]
    names = (("temp_air", 2), ("temp_dew", 2), ("relative_humidity", 2), ("pressure", 1))
    air = [column(series, name, digits) for name, digits in names]
    sun = [column(series, name, 3) for name in ("ghi", "dni", "dhi")]
    wind = column(series, "wind_speed", 2)
    for row, stamp in enumerate(index):
        lines.append(
            ",".join(
                [str(year or stamp.year), str(stamp.month), str(stamp.day), str(hour[row]), "60", EPW_FLAGS]
                + [values[row] for values in air]
                + ["0", "0", "9999"]
                + [values[row] for values in sun]
                + ["999999", "999999", "999999", "9999", "180", wind[row], "5", "5", "20", "77777", "9"]
                + ["999999999", "10", "0.0", "0", "88", "0.25", "0", "0"]
            )
        )
    return "\n".join(lines) + "\n"


def tmy3_text(series: WeatherSeries) -> str:
    index, hour = hour_ending(series)
    titles = (
        "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),"
        "Dew-point (C),RHum (%),Pressure (mbar),Wspd (m/s),Alb (unitless),Lprecip depth (mm)"
    )
    lines = [
        f'000000,"MADE UP",NO,{series.utc_offset},{series.latitude},{series.longitude},{series.elevation}',
        titles,
    ]
    sun = [column(series, name, 3) for name in ("ghi", "dni", "dhi")]
    air = [column(series, name, 2) for name in ("temp_air", "temp_dew", "relative_humidity")]
    rest = [column(series, "pressure", 3, 0.01), column(series, "wind_speed", 2)]
    for row, stamp in enumerate(index):
        values = [values[row] for values in (*sun, *air, *rest)]
        lines.append(f"{stamp:%m/%d}/1999,{hour[row]:02d}:00,0,{','.join(values)},0.25,-9900")
    return "\n".join(lines) + "\n"


def tmy2_text(series: WeatherSeries) -> str:
    index, hour = hour_ending(series)
    lines = [" 00000 MADE UP                XX  -5 N 40  0 W  75  0   100"]
    data = series.data
    for row, stamp in enumerate(index):
        radiation = "".join(f"{round(data[name].iat[row]):04d}A7" for name in ("ghi", "dni", "dhi"))
        lines.append(
            f" 62{stamp:%m%d}{hour[row]:02d}00000000{radiation}" + "0000?0" * 4 + "05A705A7"
            f"{round(data['temp_air'].iat[row] * 10):04d}A7{round(data['temp_dew'].iat[row] * 10):04d}A7"
            f"{round(data['relative_humidity'].iat[row]):03d}A7{round(data['pressure'].iat[row] / 100):04d}A7"
            f"180A7{round(data['wind_speed'].iat[row] * 10):03d}A7"
            "0161A777777A70999999999013F8062F8000A788E7"
        )
    return "\n".join(lines) + "\n"


def pvgis_rows(series: WeatherSeries) -> tuple[list[str], dict[str, list[float]]]:
    """Return UTC labels and values; `series` must stand on the clock of UTC."""
    data = series.data
    names = {"T2m": "temp_air", "RH": "relative_humidity", "G(h)": "ghi", "Gb(n)": "dni", "Gd(h)": "dhi"}
    values = {key: [round(value, 2) for value in data[name].tolist()] for key, name in names.items()}
    values["IR(h)"] = [round(0.8 * 5.670374e-8 * (t + 273.15) ** 4, 2) for t in data["temp_air"].tolist()]
    values["WS10m"] = [round(value, 2) for value in data["wind_speed"].tolist()]
    values["WD10m"] = [180.0] * len(data)
    values["SP"] = [round(value, 1) for value in data["pressure"].tolist()]
    return [f"{stamp:%Y%m%d:%H%M}" for stamp in pd.DatetimeIndex(data.index)], values


def pvgis_csv_text(series: WeatherSeries, offset: float) -> str:
    stamps, values = pvgis_rows(series)
    lines = [
        f"Latitude (decimal degrees): {series.latitude}",
        f"Longitude (decimal degrees): {series.longitude}",
        f"Elevation (m): {series.elevation}",
        f"Irradiance Time Offset (h): {offset}",
        "month,year",
        *(f"{month},2001" for month in range(1, 13)),
        ",".join(["time(UTC)", *values]),
    ]
    lines += [",".join(map(str, row)) for row in zip(stamps, *values.values(), strict=True)]
    return "\n".join([*lines, "", "T2m: 2-m air temperature (degree Celsius)", "an invented year"]) + "\n"


def pvgis_json_text(series: WeatherSeries, offset: float) -> str:
    stamps, values = pvgis_rows(series)
    keys = ("time(UTC)", *values)
    rows = [dict(zip(keys, row, strict=True)) for row in zip(stamps, *values.values(), strict=True)]
    place = {
        "latitude": series.latitude,
        "longitude": series.longitude,
        "elevation": series.elevation,
        "irradiance_time_offset": offset,
    }
    months = [{"month": month, "year": 2001} for month in range(1, 13)]
    return json.dumps(
        {
            "inputs": {"location": place},
            "outputs": {"months_selected": months, "tmy_hourly": rows},
            "meta": {"inputs": {}},
        }
    )


def pvgis_epw_text(series: WeatherSeries, offset: float) -> str:
    """Return the EPW sister: its hours are counted from 1 and its offset is an hour less."""
    text = epw_text(series, zone=1.0)
    return text.replace("COMMENTS 2,", f"COMMENTS 2,Irradiance Time Offset (h):{offset - 1.0:.4f}", 1)


def nsrdb_text(series: WeatherSeries, minute: int, zone: float | None = None) -> str:
    """Return NSRDB rows whose labels stand `minute` after the interval starts."""
    offset = series.utc_offset if zone is None else zone
    lines = [
        "Source,Location ID,City,State,Country,Latitude,Longitude,Time Zone,Elevation,Local Time Zone,"
        "Version",
        f"NSRDB,0,-,-,-,{series.latitude},{series.longitude},{offset:g},{series.elevation},"
        f"{series.utc_offset:g},invented",
        "Year,Month,Day,Hour,Minute,DHI,DNI,GHI,Dew Point,Surface Albedo,Wind Speed,Temperature,Pressure",
    ]
    names = (
        ("dhi", 2),
        ("dni", 2),
        ("ghi", 2),
        ("temp_dew", 2),
        ("albedo", 2),
        ("wind_speed", 2),
        ("temp_air", 2),
    )
    values = [column(series, name, digits) for name, digits in names] + [column(series, "pressure", 2, 0.01)]
    stamps = pd.DatetimeIndex(series.data.index) + pd.Timedelta(minutes=minute)
    times = [f"{at.year},{at.month},{at.day},{at.hour},{at.minute}" for at in stamps]
    lines += [",".join(row) for row in zip(times, *values, strict=True)]
    return "\n".join(lines) + "\n"


def netcdf_bytes(series: WeatherSeries, *, bounds: bool = True, kelvin: bool = False) -> bytes:
    data = series.data
    utc = pd.DatetimeIndex(data.index) - pd.Timedelta(hours=series.utc_offset)
    units = {"ghi": "W m-2", "dni": "W m-2", "dhi": "W m-2", "relative_humidity": "%", "wind_speed": "m s-1"}
    variables = {name: ("time", data[name].to_numpy(), {"units": unit}) for name, unit in units.items()}
    warm = data["temp_air"].to_numpy() + (273.15 if kelvin else 0.0)
    variables["tas"] = (
        "time",
        warm,
        {"units": "K" if kelvin else "degC", "standard_name": "air_temperature"},
    )
    variables["ps"] = (
        "time",
        data["pressure"].to_numpy() / 100.0,
        {"units": "hPa", "standard_name": "surface_air_pressure"},
    )
    dataset = xr.Dataset(
        variables,
        coords={"time": ("time", utc.to_numpy())},
        attrs={
            "Conventions": "CF-1.10",
            "title": "made up",
            "latitude": series.latitude,
            "longitude": series.longitude,
            "altitude_m": series.elevation,
            "utc_offset_h": series.utc_offset,
        },
    )
    if bounds:
        edges = np.stack([utc.to_numpy(), (utc + pd.Timedelta(seconds=series.step)).to_numpy()], axis=1)
        dataset["time_bnds"] = (("time", "nv"), edges)
        dataset["time"].attrs["bounds"] = "time_bnds"
        dataset["time"].encoding["units"] = "seconds since 1970-01-01"
    buffer = io.BytesIO()
    dataset.to_netcdf(buffer, engine="h5netcdf")
    return buffer.getvalue()


def all_formats(series: WeatherSeries, universal: WeatherSeries) -> dict[str, bytes]:
    """Return the file of each format; `universal` stands on UTC + 0.3 h for the PVGIS forms."""
    texts = {
        "epw": epw_text(series),
        "tmy3": tmy3_text(series),
        "tmy2": tmy2_text(series),
        "plain": plain_text(series),
        "nsrdb": nsrdb_text(series, 30),
        "pvgis_csv": pvgis_csv_text(universal, 0.2),
        "pvgis_json": pvgis_json_text(universal, 0.2),
        "pvgis_epw": pvgis_epw_text(universal, 0.2),
    }
    return {name: text.encode() for name, text in texts.items()} | {"netcdf": netcdf_bytes(series)}
