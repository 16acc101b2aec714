"""All members of a sweep as one labelled netCDF file, written block by block so that memory stays flat."""

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import h5netcdf
import numpy as np
from numpy.typing import NDArray

from simengine import __version__
from simengine.batch.chunk_file import Chunk
from simengine.batch.combinations import numbers_of_key
from simengine.batch.measures import COLUMNS, MARGIN, MONTHS, column, months
from simengine.batch.plan import Plan
from simengine.nomenclature import QUANTITIES
from simengine.whole_file import told_by_the_system

Array = NDArray[np.float64]

BLOCK = 4096
"""Members that are held at once."""

MARGIN_ATTRIBUTES = {
    "units": "K",
    "long_name": "how far the part nearest to its temperature limit stays below it",
}


def pack(path: Path, plan: Plan, chunks: Iterable[Chunk]) -> None:
    """Write a sweep's dataset and see it to the disk.

    Parameters
    ----------
    path : the file to write
    plan : of the sweep
    chunks : all of them, in order
    """
    with told_by_the_system(path), h5netcdf.File(path, "w") as file:
        _frame(file, plan)
        for key in plan.members.keys:
            _input(file, plan, key)
        reason = file.variables["reason"]
        for first, numbers, reasons in _blocks(chunks):
            members = slice(first, first + len(numbers))
            for name in COLUMNS:
                file.variables[name][members, :] = column(numbers, name)
            for name in MONTHS:
                file.variables[f"month_{name}"][members, :, :] = months(numbers, name)
            for member, text in reasons.items():
                reason[member] = text
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _blocks(chunks: Iterable[Chunk]) -> Iterator[tuple[int, Array, dict[int, str]]]:
    """Yield first member, numbers and reasons of blocks of about `BLOCK` members."""
    first, held, reasons = 0, [], {}
    count = 0
    for chunk in chunks:
        held.append(chunk.numbers)
        reasons.update({first + count + place: reason for place, reason in chunk.reasons.items()})
        count += len(chunk.numbers)
        if count >= BLOCK:
            yield first, np.concatenate(held), reasons
            first, held, reasons, count = first + count, [], {}, 0
    if held:
        yield first, np.concatenate(held), reasons


def _frame(file: Any, plan: Plan) -> None:
    """Make dimensions, coordinates and empty variables."""
    count, houses = plan.members.count, len(plan.houses)
    file.dimensions = {"member": count, "house": houses, "month": 12}
    text = _text()
    file.create_variable("house", ("house",), dtype=text)[:] = np.array(plan.houses, dtype=object)
    file.create_variable("month", ("month",), data=np.arange(1, 13))
    rows = min(BLOCK, count)
    kept: dict[str, Any] = {"compression": "gzip", "compression_opts": 4, "shuffle": True, "fletcher32": True}
    for name in COLUMNS:
        made = file.create_variable(
            name, ("member", "house"), "f8", chunks=(rows, houses), fillvalue=np.nan, **kept
        )
        made.attrs.update(_attributes(name))
    for name in MONTHS:
        made = file.create_variable(
            f"month_{name}",
            ("member", "house", "month"),
            "f8",
            chunks=(rows, houses, 12),
            fillvalue=np.nan,
            **kept,
        )
        made.attrs.update(_attributes(name))
    reason = file.create_variable("reason", ("member",), dtype=text)
    reason.attrs["long_name"] = "why a member has no numbers; empty where it has"
    file.attrs.update(_provenance(plan))


def _input(file: Any, plan: Plan, key: str) -> None:
    """Write what every member has for one key: numbers in SI where it has any, else the text."""
    raws = [plan.members.changes(member)[key] for member in range(plan.members.count)]
    numbers, unit = numbers_of_key(plan.scenario.inputs, key, raws)
    if numbers is not None:
        variable = file.create_variable(key, ("member",), data=numbers)
        variable.attrs["units"] = unit or "1"
    else:
        variable = file.create_variable(key, ("member",), dtype=_text())
        variable[:] = np.array([str(raw) for raw in raws], dtype=object)
    variable.attrs["long_name"] = f"what the member has for {key}"
    variable.attrs["role"] = "input"


def _attributes(name: str) -> Mapping[str, str]:
    if name == MARGIN:
        return MARGIN_ATTRIBUTES
    known = QUANTITIES.get(name)
    return {"units": known.unit, "long_name": known.long_name} if known else {"units": "1", "long_name": name}


def _provenance(plan: Plan) -> Mapping[str, str]:
    parts = {f"{name}_sha256": digest for name, digest in plan.parts.items()}
    return {
        "Conventions": "CF-1.11",
        "title": plan.scenario.title,
        "program": f"simengine {__version__}",
        "plan_sha256": plan.digest,
        "measure": plan.measure,
        "units": plan.scenario.inputs.units,
        "currency": plan.currency,
        "coordinates": " ".join(plan.members.keys),
        **parts,
    }


def _text() -> Any:
    import h5py

    return h5py.string_dtype()
