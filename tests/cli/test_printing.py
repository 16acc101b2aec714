"""Results go to stdout in signs that the screen can show; notes go to stderr."""

import io
import sys

import pytest

from simengine.cli import printing


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "utf-8"])
def test_any_screen_can_show_it(encoding: str, monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    printing.show("50 °C – 4 m²")
    sys.stdout.flush()
    expected = "50 °C – 4 m²" if encoding == "utf-8" else "50 degC - 4 m2"
    assert raw.getvalue().decode(encoding).strip() == expected


def test_notes_can_be_silenced(capsys: pytest.CaptureFixture[str]) -> None:
    printing.note("heard", quiet=False)
    printing.note("not heard", quiet=True)
    assert capsys.readouterr().err == "heard\n"


def test_json_refuses_what_is_no_number() -> None:
    with pytest.raises(ValueError, match="JSON"):
        printing.show_json({"a": float("nan")})
