"""One chunk of a sweep on disk: whole with its checksum, or absent."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from simengine.whole_file import write_whole

Array = NDArray[np.float64]

MAGIC = b"simengine chunk 1\n"
DIGEST = 32
LONGEST_HEAD = 1 << 24
"""Largest head that is read [bytes]: the reasons of all members of a chunk."""


@dataclass(frozen=True)
class Chunk:
    """Numbers of the members of a chunk [member, house, number], and why some have none."""

    plan: str  # digest of the plan
    number: int
    numbers: Array  # NaN throughout for a member that failed
    reasons: Mapping[int, str]  # by place in the chunk


def write_chunk(path: Path, chunk: Chunk) -> None:
    """Write a chunk aside, see it to the disk, and put it in its place by one rename.

    Parameters
    ----------
    path : its file
    chunk : what it holds
    """
    head = json.dumps(
        {
            "plan": chunk.plan,
            "number": chunk.number,
            "shape": chunk.numbers.shape,
            "reasons": {str(place): reason for place, reason in chunk.reasons.items()},
        }
    ).encode()
    body = MAGIC + len(head).to_bytes(8, "little") + head + chunk.numbers.astype("<f8").tobytes()
    write_whole(path, body + hashlib.sha256(body).digest(), replace=True)


def read_chunk(path: Path, plan: str, number: int, shape: tuple[int, ...]) -> Chunk | None:
    """Return a chunk, None where there is none, it is damaged, or it is of another plan.

    Parameters
    ----------
    path : its file
    plan : digest of the plan
    number : of the chunk
    shape : members, houses and numbers that it has to have
    """
    try:
        content = path.read_bytes()
    except OSError:
        return None
    body, digest = content[:-DIGEST], content[-DIGEST:]
    if not body.startswith(MAGIC) or hashlib.sha256(body).digest() != digest:
        return None
    start = len(MAGIC) + 8
    length = int.from_bytes(body[len(MAGIC) : start], "little")
    if length > min(LONGEST_HEAD, len(body)):
        return None
    head = json.loads(body[start : start + length])
    if (head["plan"], head["number"], tuple(head["shape"])) != (plan, number, shape):
        return None
    numbers = np.frombuffer(body, dtype="<f8", offset=start + length).reshape(shape)
    return Chunk(plan, number, numbers, {int(place): reason for place, reason in head["reasons"].items()})
