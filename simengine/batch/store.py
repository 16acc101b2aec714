"""A sweep's folder: chunks while it runs, one labelled dataset at its end; only the parent writes."""

import errno
import json
import os
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from simengine.batch.chunk_file import Chunk, read_chunk, write_chunk
from simengine.batch.measures import WIDTH
from simengine.batch.pack import pack
from simengine.batch.plan import Plan
from simengine.batch.task import Outcome
from simengine.errors import InputError
from simengine.whole_file import write_whole

PLAN, CHUNKS, DATASET = "plan.json", "chunks", "sweep.nc"
OWN = (PLAN, CHUNKS, DATASET, "sweep.json", "sweep.lock")
BEST = ("best.json", "tries.csv")
FORM = 1
ROOM = 1.5
"""Room on the disk that packing asks for, over the numbers' own bytes [-]; and so much besides [byte]:"""
FRAME = 1 << 18


class Store:
    """The folder of one plan."""

    def __init__(self, folder: Path, plan: Plan) -> None:
        self.folder = folder
        self.plan = plan

    def open(self) -> None:
        """Begin, or go on with what is there of the same plan.

        Raises
        ------
        InputError
            The folder holds something else; the line says what is different.
        """
        known = read_plan(self.folder)
        if known is None:
            write_whole(self.folder / PLAN, _to_bytes(self._described()), replace=True)
        elif known["digest"] != self.plan.digest:
            parts = known["parts"]
            other = [name for name, digest in self.plan.parts.items() if parts.get(name) != digest]
            raise InputError(
                f"{self.folder}: holds a sweep of another {' and '.join(other)}; accepted: another folder "
                "(--out), or --replace"
            )
        (self.folder / CHUNKS).mkdir(exist_ok=True)

    @property
    def complete(self) -> bool:
        """Whether the whole sweep is done and packed."""
        return (self.folder / DATASET).is_file()

    def missing(self) -> list[int]:
        """Return the chunks that are not there, or damaged."""
        return [number for number in range(self.plan.chunks) if self.chunk(number) is None]

    def chunk(self, number: int) -> Chunk | None:
        """Return a chunk, None where it is not there or damaged."""
        return read_chunk(self._path(number), self.plan.digest, number, self._shape(number))

    def put(self, number: int, outcomes: Sequence[Outcome]) -> None:
        """Write what came of the members of a chunk."""
        shape = self._shape(number)
        numbers = np.full(shape, np.nan)
        reasons: dict[int, str] = {}
        for place, outcome in enumerate(outcomes):
            if outcome.numbers is None:
                reasons[place] = outcome.reason
            elif outcome.numbers.shape != shape[1:]:
                reasons[place] = "it has other houses than the scenario"
            else:
                numbers[place] = outcome.numbers
        write_chunk(self._path(number), Chunk(self.plan.digest, number, numbers, reasons))

    def finish(self) -> None:
        """Pack all chunks into the dataset, and take them away once it is on the disk."""
        aside = self.folder / f".{DATASET}.part"
        chunks = (self._required(number) for number in range(self.plan.chunks))
        if shutil.disk_usage(self.folder).free < ROOM * self.plan.bytes + FRAME:
            # the library of HDF5 files may tear the whole process down when it meets the end of a disk
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(aside))
        try:
            pack(aside, self.plan, chunks)
            aside.replace(self.folder / DATASET)
        finally:
            aside.unlink(missing_ok=True)
        shutil.rmtree(self.folder / CHUNKS, ignore_errors=True)

    def _required(self, number: int) -> Chunk:
        chunk = self.chunk(number)
        if chunk is None:
            raise InputError(f"{self._path(number)}: was damaged meanwhile; accepted: start the sweep again")
        return chunk

    def _path(self, number: int) -> Path:
        return self.folder / CHUNKS / f"{number:07d}"

    def _shape(self, number: int) -> tuple[int, int, int]:
        return len(self.plan.chunk(number)), len(self.plan.houses), WIDTH

    def _described(self) -> dict[str, Any]:
        return {
            "form": FORM,
            "digest": self.plan.digest,
            "parts": dict(self.plan.parts),
            "title": self.plan.scenario.title,
            "keys": list(self.plan.members.keys),
            "houses": list(self.plan.houses),
            "members": self.plan.members.count,
            "chunks": self.plan.chunks,
            "chunk_members": self.plan.size,
        }


def read_plan(folder: Path) -> Mapping[str, Any] | None:
    """Return what a folder says about its sweep, None where it holds none."""
    try:
        found = json.loads((folder / PLAN).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) and found.get("form") == FORM and "digest" in found else None


def make_room(folder: Path, replace: bool, own: Sequence[str] = OWN) -> None:
    """Make the folder; what it holds and is no sweep is refused, or moved to `<folder>.previous`.

    Parameters
    ----------
    folder : of the sweep
    replace : move away what is there
    own : names of files that may be there already

    Raises
    ------
    InputError
        The folder holds something else, or what would be overwritten is no sweep.
    """
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise InputError(f"{folder}: is not a folder; accepted: a new or empty folder")
    filled = folder.is_dir() and any(folder.iterdir())
    if filled and replace:
        previous = folder.with_name(f"{folder.name}.previous")
        if previous.exists() and not _ours(previous, (*OWN, *BEST)):
            raise InputError(f"{previous}: holds something of another kind; move it away first")
        shutil.rmtree(previous, ignore_errors=True)
        folder.rename(previous)
    elif filled and not _ours(folder, own):
        kind = "something that is no sweep" if own else "something already"
        raise InputError(f"{folder}: holds {kind}; accepted: another folder (--out), or --replace")
    folder.mkdir(parents=True, exist_ok=True)


def _ours(folder: Path, own: Sequence[str]) -> bool:
    """Whether a folder holds files of these names, or their beginnings, and nothing else."""
    names = {path.name for path in folder.iterdir()} if folder.is_dir() else {""}
    return all(name in own or name.startswith(".") for name in names)


def chunks_there(folder: Path) -> int:
    """Return how many chunks of a sweep are on the disk, undamaged or not."""
    try:
        return sum(1 for path in (folder / CHUNKS).iterdir() if not path.name.startswith("."))
    except OSError:
        return 0


def _to_bytes(value: Any) -> bytes:
    return (json.dumps(value, allow_nan=False, ensure_ascii=False, indent=2) + "\n").encode()
