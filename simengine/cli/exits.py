"""How a command ends: one exit status a cause, and one line for each thing that went wrong."""

import os
import sys
import tempfile
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from simengine.cli.interrupt import ends_soon
from simengine.errors import InputError, RunEnded, SimengineError

DONE, DEFECT, INPUT_AT_FAULT, ENDED_EARLY, INTERRUPTED = 0, 1, 2, 3, 130


def guarded(call: Callable[[], Any]) -> int:
    """Return the exit status of a call: its own, or that of the error which ended it.

    Parameters
    ----------
    call : the command, with its arguments bound

    Returns
    -------
    0 done, 1 defect of the program, 2 input at fault, 3 ended early, 130 interrupted.
    """
    try:
        with ends_soon(INTERRUPTED, _say_interrupted):
            status = call()
        sys.stdout.flush()
        return status if isinstance(status, int) else DONE
    except (KeyboardInterrupt, click.Abort):
        _say_interrupted()
        return INTERRUPTED
    except BrokenPipeError:  # the reader of the output has left, as `| head` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as error:
        return _failed(error)


def complain(*lines: str) -> None:
    """Write lines to stderr, without anything in them that could move the cursor."""
    for line in lines:
        text = "".join(c if c.isprintable() or c == "\t" else " " for c in line)
        click.echo(text, err=True)


def _say_interrupted() -> None:
    complain("interrupted; what was finished before is kept")


def _failed(error: Exception) -> int:
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        error.show()
        return INPUT_AT_FAULT
    if isinstance(error, click.ClickException):
        complain(_usage(error))
        return INPUT_AT_FAULT
    if isinstance(error, RunEnded):
        complain(f"ended early: {error}")
        return ENDED_EARLY
    if isinstance(error, InputError):
        complain(*error.problems)
        return INPUT_AT_FAULT
    if isinstance(error, SimengineError):
        complain(str(error))
        return INPUT_AT_FAULT
    if isinstance(error, OSError) and not _own_file(error):
        complain(_file_trouble(error))
        return INPUT_AT_FAULT
    complain(f"a defect of simengine ({type(error).__name__}: {error}); details are in {_save(error)}")
    return DEFECT


def _usage(error: click.ClickException) -> str:
    """Return what was wrong on the command line, and where to read what is accepted."""
    text = " ".join(error.format_message().split())
    context = getattr(error, "ctx", None)
    return f"{context.command_path}: {text} (see {context.command_path} --help)" if context else text


def _file_trouble(error: OSError) -> str:
    reason = (error.strerror or str(error)).lower()
    return f"{error.filename}: {reason}" if error.filename else reason


def _own_file(error: OSError) -> bool:
    """Tell whether the file that failed belongs to the program itself."""
    package = Path(__file__).parent.parent
    return isinstance(error.filename, str) and Path(error.filename).is_relative_to(package)


def _save(error: Exception) -> str:
    """Write the traceback to a new file of the user's and return its path."""
    text = "".join(traceback.format_exception(error))
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="simengine-", suffix=".traceback.txt", delete=False, encoding="utf-8"
        ) as stream:
            stream.write(text)
            return stream.name
    except OSError:
        complain(*text.splitlines())
        return "the lines above"
