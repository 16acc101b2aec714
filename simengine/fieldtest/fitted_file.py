"""Writes the fitted scenario: the file as it was, with what the test found; whole, or not at all."""

import os
import re
import secrets
from pathlib import Path

from simengine.errors import InputError
from simengine.fieldtest.outcome import FieldTestResult

SECTION = re.compile(r"^\[fitted\][^\n]*\n(?:(?!\s*\[).*\n?)*", re.MULTILINE)
"""An earlier fit."""


def fitted_text(text: str, result: FieldTestResult) -> str:
    """Return a scenario's text with the section [fitted] of a test in the place of an earlier one."""
    section = result.changes()["fitted"]
    lines = [
        f"# From the field test in {result.log.name}; bands and what it cannot tell: simengine fieldtest"
    ]
    lines += ["[fitted]", *(f"{key} = {value}" for key, value in section.items())]
    kept = SECTION.sub("", text).rstrip("\n")
    kept = re.sub(r"\n*# From the field test in [^\n]*\Z", "", kept)
    return kept + "\n\n" + "\n".join(lines) + "\n"


def write_fitted(result: FieldTestResult, source: Path, target: Path, replace: bool = False) -> Path:
    """Write the fitted scenario to a file.

    Parameters
    ----------
    result : of `field_test`
    source : the scenario's file
    target : the file to make; paths inside are relative to it as they were to the source
    replace : write over a file that is there

    Returns
    -------
    the file

    Raises
    ------
    InputError if the file is there already, or lies in another folder than a weather file that is named.
    """
    if target.exists() and not replace:
        raise InputError(f"{target}: is there already; accepted: the name of a new file, or --replace")
    written = result.scenario.inputs.site.weather
    files = [name for name in ([written] if isinstance(written, str) else written) if ":" not in name]
    if files and target.resolve().parent != source.resolve().parent:
        raise InputError(
            f"{target}: the scenario names its weather relative to its own folder; accepted: a file in "
            f"that folder"
        )
    text = fitted_text(source.read_text(encoding="utf-8-sig"), result)
    aside = target.with_name(f".{target.name}.{secrets.token_hex(4)}")
    try:
        with aside.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        aside.replace(target)
    finally:
        aside.unlink(missing_ok=True)
    return target
