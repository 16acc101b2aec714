"""Makes scenarios/demo_log.csv: an INVENTED test of the demo's collector, by the engine plus stated noise.

The collector that is "built" differs from the demo on purpose, by `BUILT`; what a fit should find is
known. Sun,
weather and room are invented as well. Run from the top of the repository: python docs/scripts/demo_log.py
"""

from pathlib import Path

import numpy as np

from simengine import load
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.prepare import section_of
from simengine.fieldtest.sunlight import Plane, from_plane, sky_path
from simengine.simulate import resolve
from simengine.simulate.course import Course
from simengine.simulate.measured import Bench, Factors
from simengine.sun.position import site_of

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
SEED = 20260214
BUILT = Factors(cover_transmittance=0.92, back_loss=1.3, duct_loss=1.5)
"""How the invented collector differs from the scenario."""
DAYS = ("2026-02-14", "2026-02-15")
STEP, ROWS = 60.0, 480
OFF = {
    "outdoors": 0.15,
    "inlet": -0.1,
    "outlet": 0.2,
    "register": -0.15,
}  # [K] what the thermometers are off by
SUN_OFF, FLOW_OFF = 1.02, 0.97


def day(name: str, bench: Bench, random: np.random.Generator) -> list[str]:
    """Return the rows of one day."""
    given = section_of(bench.resolved.scenario)
    times = np.datetime64(f"{name}T09:00:00") + (np.arange(ROWS) * 60).astype("timedelta64[s]")
    rows = np.arange(ROWS)
    clear = 830.0 * np.maximum(np.cos(np.pi * (rows - 190.0) / 640.0), 0.05)
    cloud = np.ones(ROWS)
    for _ in range(4):
        begin = random.integers(60, ROWS)
        cloud[begin : begin + random.integers(8, 30)] *= random.uniform(0.25, 0.7)
    ambient = 273.15 + random.uniform(-3.0, 3.0) + 5.0 * np.sin(np.pi * (rows - 40) / 620.0)
    inlet = 273.15 + 19.0 + 1.5 * np.sin(np.pi * rows / ROWS) + (3.0 if name == DAYS[1] else 0.0)
    log = TestLog("demo", times, STEP, -5.0, {})
    plane = Plane(bench.resolved.parts.collector.tilt, bench.resolved.parts.collector.azimuth, 0.2)
    sun = from_plane(clear * cloud, sky_path(log, site_of(bench.resolved.series), plane), plane)
    flow = np.full(ROWS, bench.resolved.parts.fan.mass_flow)
    wind = np.full(ROWS, given.wind_speed)
    course = Course(STEP, ambient, ambient - given.sky, wind, inlet, flow, sun.incidence, *sun[:3])
    answer = bench.follow(course, BUILT)
    area = 0.25 * np.pi * 0.1524**2 * given.flow.profile_factor
    density = bench.resolved.pressure / (287.05 * inlet)
    columns = {
        "outdoors": ambient,
        "inlet": inlet,
        "outlet": answer.outlet,
        "register": answer.supply,
    }
    table = {
        title: (values + OFF[title] + 0.1 * random.standard_normal(ROWS) - 273.15) * 1.8 + 32.0
        for title, values in columns.items()
    }
    table["sun"] = np.maximum(sun.total * SUN_OFF + 5.0 * random.standard_normal(ROWS), 0.0)
    speed = flow / (density * area) * FLOW_OFF / 0.00508
    table["duct speed"] = speed * (1.0 + 0.005 * random.standard_normal(ROWS))
    stamps = np.datetime_as_string(times, unit="m")
    digits = {"sun": 0, "duct speed": 0}
    return [
        ",".join([str(stamp).replace("T", " "), *(f"{table[t][row]:.{digits.get(t, 1)}f}" for t in table)])
        for row, stamp in enumerate(stamps)
    ]


def main() -> None:
    """Write the log."""
    bench = Bench.of(resolve(load(SCENARIOS / "demo.toml")))
    random = np.random.default_rng(SEED)
    lines = [
        "# INVENTED: a test of the demo's collector, made by the engine plus noise "
        "(docs/scripts/demo_log.py).",
        "time,outdoors,inlet,outlet,register,sun,duct speed",
    ]
    for name in DAYS:
        lines += day(name, bench, random)
    (SCENARIOS / "demo_log.csv").write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
