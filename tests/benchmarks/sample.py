"""What the benchmarks run: an invented collector with a perforated absorber, and sweeps of it of any size."""

import contextlib
import time
from collections.abc import Callable, Iterator
from typing import Any

from simengine.data_files import data_path
from simengine.scenario import Scenario, load

TILTS = ("50 deg", "60 deg", "70 deg", "80 deg")


def perforated() -> Scenario:
    """Return the metric demo with the demo's snap switch, default segments and the two built-in houses."""
    screen, demo = (load(data_path("scenarios", name)) for name in ("demo_metric.toml", "demo.toml"))
    tables = {key: value for key, value in screen.data.items() if key != "house"}
    collector = {key: value for key, value in tables["collector"].items() if key != "segments"}
    return Scenario.from_dict(
        {**tables, "collector": collector, "control": demo.data["control"]}, name="perforated"
    )


def changes(count: int) -> list[dict[str, Any]]:
    """Return changes of members that share sun and cover, none like another."""
    return [{"fan.flow": f"{40.0 + 40.0 * i / max(count - 1, 1):.4f} m3/h.m2"} for i in range(count)]


def sweep_of(members: int) -> Scenario:
    """Return a sweep of about so many members: tilt, effectiveness and flow."""
    tilts = TILTS if members >= 256 else TILTS[:1]
    values = max(1, members // (4 * len(tilts)))
    flows = [f"{40.0 + 40.0 * i / max(values - 1, 1):.4f} m3/h.m2" for i in range(values)]
    vary = {
        "collector.tilt": list(tilts),
        "collector.absorber.perforation.effectiveness": [0.6, 0.7, 0.8, 0.9],
        "fan.flow": flows,
    }
    return perforated().changed({"sweep": {"vary": vary}})


class Clock:
    """Seconds that were spent in a function."""

    def __init__(self) -> None:
        self.seconds = 0.0
        self.calls = 0


@contextlib.contextmanager
def timed(place: Any, name: str, now: Callable[[], float] = time.perf_counter) -> Iterator[Clock]:
    """Count the time that is spent in a function of a module or a class; by `now`, the wall's or the "
    "processor's."""
    clock, held = Clock(), getattr(place, name)

    def counted(*given: Any, **named: Any) -> Any:
        begin = now()
        try:
            return held(*given, **named)
        finally:
            clock.seconds += now() - begin
            clock.calls += 1

    setattr(place, name, counted)
    try:
        yield clock
    finally:
        setattr(place, name, held)
