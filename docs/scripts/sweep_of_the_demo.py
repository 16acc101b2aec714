"""Makes docs/sweep_of_the_demo.md, its picture, and the extract that a notebook reads.

    python docs/scripts/sweep_of_the_demo.py                  every member: see the page for how long
    python docs/scripts/sweep_of_the_demo.py --thin           384 of them, to see that it works
    python docs/scripts/sweep_of_the_demo.py --only-write     from the folder of a sweep that is done

The sweep goes on where it stood when it is started again.
"""

import argparse
import datetime
import os
import platform
import subprocess
import time
from pathlib import Path
from typing import Any

import matplotlib
import numpy as np
import xarray as xr
from matplotlib.figure import Figure
from pages import DOCS, markdown, put

import simengine
from simengine.batch.findings import front as unbeaten
from simengine.data_files import data_path
from simengine.scenario import Scenario, load

PAGE, PICTURE, EXTRACT = "sweep_of_the_demo.md", "sweep_of_the_demo.svg", "sweep_of_the_demo.nc"
KEPT = {"offset_kwh": 1.0, "delivered_kwh": 1.0, "npv": 1.0, "fan_kwh": 0.1, "limit_margin_k": 0.1}
"""What the extract keeps, and how finely."""
HOUSES = {"standard": "standard house", "low_energy": "low-energy house"}
SPOT, GLASS, ABSORBER, WAY, FLOW, TILT = KEYS = (
    "collector.azimuth",
    "collector.cover.1.construction",
    "collector.absorber.construction",
    "collector.arrangement",
    "fan.flow",
    "collector.tilt",
)
SPOTS = {175: "south wall", 215: "yard"}
CFM = 0.3048**3 / 60.0  # [m3/s]


def scenario(thin: bool) -> Scenario:
    """Return the sweep; thinned out, of every long list a few values are left."""
    whole = load(data_path("scenarios", "sweep_demo.toml"))
    if not thin:
        return whole
    table: dict[str, Any] = dict(whole.data["sweep"])
    keep = {5: [1, 4], 10: [0, 4, 9], 4: [0, 1, 2, 3], 2: [0, 1]}
    vary = {key: [values[i] for i in keep[len(values)]] for key, values in table["vary"].items()}
    vary[TILT] = [table["vary"][TILT][i] for i in (0, 3, 6, 9)]
    return whole.changed({"sweep": {**table, "vary": vary}})


def named(key: str, value: Any) -> str:
    """Return a value of a key as a person reads it."""
    if key == SPOT:
        return SPOTS[round(float(value))]
    if key == FLOW:
        return f"{float(value) / CFM:.0f} cfm"
    if key == TILT:
        return f"{float(value):.0f}°"
    return str(value).replace("_", " ")


def best(members: xr.Dataset, house: str, too_hot: bool, count: int = 10) -> str:
    """Return the members with the largest net present value as a table, too hot or not."""
    mine = members.sel(house=house)
    mine = mine.sel(member=(mine["limit_margin_k"].values < 0.0) == too_hot)
    order = np.argsort(-mine["npv"].values)[:count]
    head = [
        "spot",
        "glass",
        "absorber",
        "air",
        "flow",
        "tilt",
        "saved",
        "first cost",
        "net present value",
        "margin",
    ]
    rows = [head]
    for place in order:
        one = mine.isel(member=int(place))
        rows.append(
            [
                *(named(key, one[key].values.item()) for key in KEYS),
                f"{float(one['offset_kwh']):.0f} kWh",
                f"{float(one['first_cost']):.0f} USD",
                f"{float(one['npv']):.0f} USD",
                f"{float(one['limit_margin_k']):.0f} K",
            ]
        )
    return markdown(rows)


def effects(members: xr.Dataset) -> str:
    """Return what each value of each key does on average over all others."""
    rows = [
        ["key", "value", *(f"saved, {words}" for words in HOUSES.values()), "net present value", "too hot"]
    ]
    for key in KEYS:
        for value in dict.fromkeys(members[key].values.tolist()):
            some = members.sel(member=members[key].values == value)
            saved = [float(some["offset_kwh"].sel(house=house).mean()) for house in HOUSES]
            worth = float(some["npv"].sel(house="standard").mean())
            hot = float((some["limit_margin_k"].sel(house="standard") < 0.0).mean())
            rows.append(
                [
                    key,
                    named(key, value),
                    *(f"{x:.0f} kWh" for x in saved),
                    f"{worth:.0f} USD",
                    f"{100 * hot:.0f} %",
                ]
            )
    return markdown(rows)


def front(members: xr.Dataset) -> str:
    """Return the members that none beats in both first cost and heat saved, of those not too hot."""
    mine = members.sel(house="standard")
    mine = mine.sel(member=mine["limit_margin_k"].values >= 0.0)
    rows = [["first cost", "saved", *(key.split(".")[-1] for key in KEYS)]]
    for place in unbeaten(mine["first_cost"].values, mine["offset_kwh"].values):
        one = mine.isel(member=place)
        rows.append(
            [
                f"{float(one['first_cost']):.0f} USD",
                f"{float(one['offset_kwh']):.0f} kWh",
                *(named(key, one[key].values.item()) for key in KEYS),
            ]
        )
    return markdown(rows)


def picture(members: xr.Dataset) -> None:
    """Draw what flow and tilt do, for every way of the air and both spots; means and the whole range."""
    matplotlib.rcParams["svg.hashsalt"] = "sweep of the demo"
    saved = members["offset_kwh"].sel(house="standard")
    figure = Figure(figsize=(8.0, 3.4), layout="constrained")
    left, right = figure.subplots(1, 2, sharey=True)
    styles = ("o-", "s--", "^-.", "d:")
    for axis, key, by in ((left, FLOW, WAY), (right, TILT, SPOT)):
        for style, part in zip(styles, dict.fromkeys(members[by].values.tolist()), strict=False):
            mine = saved.sel(member=members[by].values == part)
            groups = mine.groupby(key)
            x = groups.mean()[key].values / (CFM if key == FLOW else 1.0)
            axis.plot(x, groups.mean().values, style, label=named(by, part), markersize=4)
            axis.fill_between(x, groups.min().values, groups.max().values, alpha=0.08)
        axis.set_xlabel("flow [cfm]" if key == FLOW else "tilt [deg]")
        axis.legend(fontsize=8)
        axis.grid(alpha=0.3)
    left.set_ylabel("heating saved, standard house [kWh a year]")
    left.set_title("way of the air", fontsize=10)
    right.set_title("spot", fontsize=10)
    figure.savefig(DOCS / PICTURE, metadata={"Date": None})


def extract(members: xr.Dataset, about: str) -> None:
    """Write what the notebook reads: a few numbers of every member, rounded."""
    small = members[list(KEPT)]
    for key in (*KEYS, "economics.first_cost"):
        small[key] = members[key]
    small.attrs = {
        "title": str(members.attrs["title"]),
        "source": about,
        "plan_sha256": str(members.attrs["plan_sha256"]),
        "scenario": "scenarios/sweep_demo.toml, invented; weather of Greensboro, built in",
    }
    packed = {"zlib": True, "complevel": 9, "shuffle": True}
    encoding: dict[str, dict[str, Any]] = {
        name: {**packed, "dtype": "int32", "scale_factor": fine, "_FillValue": -(2**31)}
        for name, fine in KEPT.items()
    }
    encoding["economics.first_cost"] = dict(packed)
    for key in KEYS:
        encoding[key] = {**packed, "dtype": "S1"} if members[key].dtype.kind not in "fi" else dict(packed)
    small.to_netcdf(DOCS.parent / "notebooks" / EXTRACT, engine="h5netcdf", encoding=encoding)


def commit() -> str:
    """Return the short name of the commit."""
    ran = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"], cwd=DOCS, capture_output=True, text=True, check=False
    )
    return ran.stdout.strip() or "unknown"


def main() -> None:
    """Run the sweep, or what is missing of it, and write."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--thin", action="store_true", help="a small part of it")
    parser.add_argument("--only-write", action="store_true", help="the sweep is done")
    parser.add_argument("--folder", type=Path, default=Path("results/sweep_demo_sweep"))
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    given = parser.parse_args()
    began, last = time.monotonic(), [0.0]

    def progress(done: int, total: int) -> None:
        if time.monotonic() - last[0] > 30.0:
            last[0] = time.monotonic()
            print(f"{done} of {total} after {last[0] - began:.0f} s", flush=True)

    if given.only_write:
        members = simengine.open_sweep(given.folder)
    else:
        members = simengine.sweep(scenario(given.thin), given.folder, jobs=given.jobs, progress=progress)
    members = members.load()
    count, failed = members.sizes["member"], int((members["reason"].values != "").sum())
    ends = [(given.folder / name).stat().st_mtime for name in ("plan.json", "sweep.nc")]
    took = f" in {(ends[1] - ends[0]) / 60.0:.0f} minutes"
    about = (
        f"{count} members{took}, {given.jobs} worker processes, {datetime.date.today()}, commit {commit()}"
    )
    whole = (
        "" if count == 20_000 else " **This page is made from a thinned-out sweep, not from the whole one.**"
    )
    put(PAGE, "about", f"{about}, {platform.machine()}; {failed} failed.{whole}")
    for house in HOUSES:
        put(PAGE, f"best {house}", best(members, house, too_hot=False))
    put(PAGE, "too hot", best(members, "standard", too_hot=True, count=3))
    put(PAGE, "front", front(members))
    put(PAGE, "effects", effects(members))
    picture(members)
    extract(members, about)


if __name__ == "__main__":
    main()
