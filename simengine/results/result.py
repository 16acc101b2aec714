"""A finished run as one value: its hours, its year, and the ways to keep and to show it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from simengine.results import dataset, store, summary
from simengine.results.record import Record
from simengine.whole_file import write_whole

if TYPE_CHECKING:
    import xarray as xr


@dataclass(frozen=True)
class Result:
    """The outcome of one scenario in one weather year."""

    hours: "xr.Dataset"
    """Interval means of every quantity, by house and time."""
    summary: dict[str, Any]
    """The year as nested dictionaries; the content of `summary.json`."""

    @classmethod
    def of(cls, record: Record) -> "Result":
        """Return the result of what a run handed on."""
        return cls(dataset.hours(record), summary.summarise(record))

    def save(
        self, directory: Path | str, *, replace: bool = False, extra: Mapping[str, str] | None = None
    ) -> Path:
        """Write the result into a folder, all of it or nothing.

        Parameters
        ----------
        directory : the folder to make; a folder that already holds this very result is kept
        replace : move what is there to `<directory>.previous` first
        extra : further text files by name, written along with the result

        Returns
        -------
        The folder.

        Raises
        ------
        InputError : the folder holds something else and `replace` is false
        """
        return store.save(self.hours, self.summary, Path(directory), replace=replace, extra=extra)

    def report(self, path: Path | str, *, replace: bool = False) -> Path:
        """Write the page to read, one self-contained HTML file, and return its path.

        Raises
        ------
        InputError : there is such a file and `replace` is false
        """
        from simengine.report.page import page  # the one look upwards: a result can show itself

        target = Path(path)
        write_whole(target, page(self.summary, hours=self.hours), replace=replace)
        return target

    def _repr_html_(self) -> str:
        """Return the table of the year that a notebook shows."""
        from simengine.report.page import fragment

        return fragment(self.summary)


def open_result(directory: Path | str) -> Result:
    """Return a result that was saved before.

    Parameters
    ----------
    directory : the folder that `Result.save` wrote

    Returns
    -------
    The result, with its hours in memory.

    Raises
    ------
    InputError : the folder holds no result, or a damaged one
    """
    return Result(*store.read(Path(directory)))
