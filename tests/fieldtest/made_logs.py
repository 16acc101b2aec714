"""Seeded test logs whose truth is known: half from the engine, half from the independent solver."""

from dataclasses import dataclass

import numpy as np

from simengine.fieldtest.log import TestLog
from simengine.fieldtest.sunlight import Plane, Sunlight, from_plane, sky_path
from simengine.simulate.course import Course
from simengine.simulate.measured import Bench, Factors
from simengine.sun.position import site_of
from tests.fieldtest import independent_collector
from tests.fieldtest.bench import OFFSET, STEP, Day, Truth, day, log_text, truth


@dataclass(frozen=True)
class Made:
    """One log and what is true of it."""

    text: str
    true: Truth


def plane_of(bench: Bench) -> Plane:
    box = bench.resolved.parts.collector
    return Plane(box.tilt, box.azimuth, 0.2)


def light_of(bench: Bench, course: Day) -> Sunlight:
    log = TestLog("made", course.times, STEP, OFFSET, {})
    path = sky_path(log, site_of(bench.resolved.series), plane_of(bench))
    return from_plane(course.irradiance, path, plane_of(bench))


def from_engine(bench: Bench, seeds: range) -> list[Made]:
    """Return logs whose answers are the engine's."""
    found = []
    for seed in seeds:
        random = np.random.default_rng(seed)
        course, true = day(random), truth(random)
        sun = light_of(bench, course)
        whole = Course(
            STEP, course.ambient, course.sky, course.wind, course.inlet, course.flow, sun.incidence, *sun[:3]
        )
        answer = bench.follow(whole, Factors(*(getattr(true, name) for name in Factors._fields)))
        found.append(Made(log_text(course, answer._asdict(), true, random), true))
    return found


def from_elsewhere(bench: Bench, seeds: range) -> list[Made]:
    """Return logs whose answers are the independent solver's."""
    randoms = [np.random.default_rng(seed) for seed in seeds]
    days, truths = [], []
    for random in randoms:
        days.append(day(random))
        truths.append(truth(random))
    light = [light_of(bench, course) for course in days]
    parts = bench.resolved.parts
    duct = parts.supply_ducts[0]
    answers = independent_collector.run(
        parts.collector,
        (duct.length, duct.diameter, duct.insulation_resistance),
        bench.resolved.pressure,
        days,
        truths,
        [(sun.beam, sun.sky, sun.ground, sun.incidence) for sun in light],
    )
    return [
        Made(log_text(course, answer, true, random), true)
        for course, answer, true, random in zip(days, answers, truths, randoms, strict=True)
    ]
