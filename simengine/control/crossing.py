"""The moment within a step at which a sensor passes a threshold."""

import math
from typing import NamedTuple

from simengine.compiled import kernel

SHORT = 1.0e-3  # [time constants] length of a step below which a parabola serves
NEWTON_TURNS = 20


class Course(NamedTuple):
    """A sensor signal over a step: at its start, at its end, and how fast it moves at its end."""

    first: float  # [K]
    last: float  # [K]
    change: float  # [K] slope at the end times the length of the step


@kernel
def parabola_crossing(course: Course, threshold: float) -> float:
    """Return the fraction of the step at which a parabola passes a threshold.

    Parameters
    ----------
    course : ends of the parabola and the slope of its end
    threshold : level to be passed [K], between the ends

    Returns
    -------
    fraction, 0 to 1 [-]; that of the straight line where the parabola has no root in the step

    Source: quadratic formula.

    >>> parabola_crossing(Course(0.0, 4.0, 8.0), 1.0)  # theta^2 = 1/4
    0.5
    """
    rise = course.last - course.first
    gap = threshold - course.first
    straight = gap / (rise if rise != 0.0 else 1.0)
    curve = course.change - rise
    slope = rise - curve
    root = math.sqrt(max(slope * slope + 4.0 * curve * gap, 0.0))
    below = slope + math.copysign(root, rise)
    curved = 2.0 * gap / (below if below != 0.0 else 1.0)
    inside = (curved >= 0.0) & (curved <= 1.0) & (below != 0.0)
    return min(max(curved if inside else straight, 0.0), 1.0)


@kernel
def crossing(course: Course, threshold: float, decay: float) -> float:
    """Return the fraction of the step at which a sensor passes a threshold.

    Parameters
    ----------
    course : the sensor's signal; its place moves in a straight line, which the sensor follows
    threshold : level to be passed [K], between the ends
    decay : length of the step over the sensor's time constant [-]

    Returns
    -------
    fraction, 0 to 1 [-]; that of the parabola where the step is very short

    Source: a + b theta + k exp(-decay theta) through both ends with the slope of the end; Newton's method,
    kept between the ends by halving, since the sensor may turn within the step.

    >>> course = Course(8.0, 1.0, -math.log(8.0))  # 8 exp(-ln 8 theta)
    >>> round(crossing(course, 2.0, math.log(8.0)), 6)  # ln 4 / ln 8
    0.666667
    """
    theta = parabola_crossing(course, threshold)
    if decay < SHORT:
        return theta
    rise = course.last - course.first
    left = math.exp(-decay)
    k = (rise - course.change) / (left * (1.0 + decay) - 1.0)
    b = course.change + k * decay * left
    above = course.first - k - threshold
    low, high = 0.0, 1.0
    for _ in range(NEWTON_TURNS):
        fading = k * math.exp(-decay * theta)
        excess = above + b * theta + fading
        passed = excess * rise > 0.0
        low = low if passed else theta
        high = theta if passed else high
        slope = b - decay * fading
        ahead = theta - excess / (slope if slope != 0.0 else 1.0)
        near = (slope != 0.0) & (ahead >= low) & (ahead <= high)
        theta = ahead if near else 0.5 * (low + high)
    return theta
