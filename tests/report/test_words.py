"""Text from files can do no harm on a screen, and can be read on any screen."""

import pytest

from simengine.report import words


@pytest.mark.parametrize("bad", ["\x1b[31m", "\r", "\n", "\x00", "\u202e", "\u200b"])
def test_nothing_that_steers_a_terminal_gets_through(bad: str) -> None:
    assert words.printable(f"a{bad}b").isprintable()


@pytest.mark.parametrize("text", ["50 °C", "Zürich – Höngg", "3 m²", "日本", "a…"])
def test_plain_is_ascii(text: str) -> None:
    assert words.plain(text).isascii()


def test_a_house_of_ones_own_keeps_its_name() -> None:
    assert words.house_name("barn") == "barn"
