"""What a table says in words, from invented numbers."""

from simengine.report import point_answers
from simengine.report.shown import Shown

SI = Shown("si")


def at(flow: float, gain: float, outlet: float, power: float) -> dict[str, float]:
    return {"mass_flow": flow, "useful_gain": gain, "outlet_temperature": outlet, "fan_power": power}


POINTS = [
    at(0.0, 0.0, 380.0, 0.0),
    at(0.025, 700.0, 321.15, 4.0),
    at(0.05, 1000.0, 313.15, 30.0),
    at(0.1, 1200.0, 305.15, 230.0),
]


def test_slower_air_is_hotter_and_brings_less() -> None:
    text = point_answers.slower_or_faster(POINTS, 0.05, SI)
    assert "Hotter, yes; more, no" in text
    assert "48.0 °C instead of 40.0 °C" in text and "700 W instead of 1000 W" in text
    assert "2 times the flow brings 200 W more for 200 W more of fan: 1.0 W of heat for each watt." in text


def test_the_answer_is_what_the_figures_say() -> None:
    odd = [POINTS[0], at(0.025, 1100.0, 330.0, 4.0), *POINTS[2:]]
    text = point_answers.slower_or_faster(odd, 0.05, SI)
    assert "more, yes" in text and "loses more" not in text


def test_without_a_slower_and_a_faster_flow_there_is_no_answer() -> None:
    assert point_answers.slower_or_faster(POINTS[:2], 0.05, SI) == ""
    assert point_answers.slower_or_faster([], 0.05, SI) == ""


def test_the_figures_of_a_test_in_words() -> None:
    fit = {"heat_removal_optical": 0.434, "heat_removal_loss": 3.52, "line_error": 0.002}
    lines = point_answers.fit({**fit, "incidence_b0": 0.132, "time_constant": 193.4})
    # definition: 3.52 W/m2K / 5.678263 = 0.62 Btu/h ft2 degF
    assert "0.434" in lines[0] and "3.52 W/m2K or 0.62 Btu/h.ft2.degF" in lines[0]
    assert "0.0020" in lines[0]
    assert "0.132" in lines[1] and lines[2].endswith("193 s.")


def test_what_was_not_read_is_not_told() -> None:
    assert point_answers.fit({}) == []
    assert point_answers.fit({"time_constant": None})[0].endswith("over four hours.")
