"""Finds the scenarios and weather files that travel with the package, installed or in a checkout."""

from importlib.resources import files
from pathlib import Path

from simengine.errors import InputError

KINDS = ("scenarios", "weather")


def data_folder(kind: str) -> Path:
    """Return the folder that holds the package's own files of one kind.

    Parameters
    ----------
    kind : str
        "scenarios" or "weather".

    Returns
    -------
    pathlib.Path
        Inside the package when it was installed from a wheel, beside it in a checkout.

    Raises
    ------
    InputError
        For any other kind.

    Examples
    --------
    >>> data_folder("weather").name
    'weather'
    """
    if kind not in KINDS:
        raise InputError(f"{kind[:80]!r} is no kind of built-in file; accepted: {', '.join(KINDS)}")
    package = Path(str(files("simengine")))
    packaged = package / "_data" / kind
    return packaged if packaged.is_dir() else package.parent / kind


def data_names(kind: str) -> tuple[str, ...]:
    """Return the sorted names of the package's own files of one kind ("scenarios" or "weather").

    Examples
    --------
    >>> "demo.toml" in data_names("scenarios")
    True
    """
    folder = data_folder(kind)
    if not folder.is_dir():
        return ()
    return tuple(sorted(path.name for path in folder.iterdir() if path.is_file() and path.name[0] != "."))


def data_path(kind: str, name: str) -> Path:
    """Return the path of one of the package's own files.

    Parameters
    ----------
    kind : str
        "scenarios" or "weather".
    name : str
        The file's name, without a folder.

    Returns
    -------
    pathlib.Path
        An existing file, which may be read-only.

    Raises
    ------
    InputError
        If there is no such file; the message lists those that there are.

    Examples
    --------
    >>> data_path("scenarios", "demo.toml").name
    'demo.toml'
    """
    names = data_names(kind)
    if name not in names:
        raise InputError(f"there is no built-in file {name[:80]!r} in {kind}; accepted: {', '.join(names)}")
    return data_folder(kind) / name
