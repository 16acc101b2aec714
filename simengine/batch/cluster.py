"""Hands the tasks of a batch to a scheduler that is there already, on this machine or on trusted ones.

Nothing listens here: this is a client, and the workers are the user's own. A worker that is lost costs its
task only, which another one does anew.
"""

import ipaddress
import threading
from collections.abc import Iterable, Iterator
from importlib import import_module
from itertools import islice
from typing import Any
from urllib.parse import urlsplit

from simengine.batch.task import Base, Bench, Outcome, Task, safely
from simengine.errors import InputError
from simengine.results.provenance import program_digest

PATIENCE = 10.0
"""How long a scheduler may take to answer [s]."""

AHEAD = 3
"""Tasks that wait at each worker thread, so that none stands idle."""

RETRIES = 2
"""How often a task that fails with its worker is given out anew."""

_HERE = threading.local()
"""The bench of a worker's thread: weather and sun are worked out once for all of its tasks."""


def checked_address(address: str, trusted: bool) -> str:
    """Return the address of a scheduler that may be spoken to.

    Parameters
    ----------
    address : "tcp://host:port" or "tls://host:port"
    trusted : whether the user trusts the network between

    Raises
    ------
    InputError
        It is no such address; or it lies on another machine, without encryption and without trust.

    >>> checked_address("tcp://127.0.0.1:8786", trusted=False)
    'tcp://127.0.0.1:8786'
    """
    try:
        parts = urlsplit(address)
        host, port = parts.hostname, parts.port
    except ValueError:
        parts, host, port = urlsplit(""), None, None
    if (
        parts.scheme not in ("tcp", "tls")
        or not host
        or not port
        or parts.path
        or parts.query
        or parts.username
    ):
        raise InputError(f"--scheduler: {address!r} is no address of a scheduler; accepted: tcp://host:port")
    if parts.scheme == "tcp" and not _is_loopback(host) and not trusted:
        raise InputError(
            f"--scheduler: {host} is another machine, and whoever listens on the way could run programs on "
            "both; accepted: tls://host:port, or --trust-network for a network that is yours alone"
        )
    return address


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def execute_there(address: str, base: Base, tasks: Iterable[Task]) -> Iterator[tuple[Task, list[Outcome]]]:
    """Yield every task with what came of its members, as the workers of a scheduler get them done.

    Parameters
    ----------
    address : of the scheduler, see `checked_address`
    base : the scenario that all members change
    tasks : what to do; taken a few at a time, so there may be millions

    Raises
    ------
    InputError
        The extra packages are missing, no scheduler answers, or a worker has another version of the program.
    """
    client = _connected(address)
    try:
        yield from _spread(client, base, iter(tasks))
    finally:
        client.close(timeout=PATIENCE)


def _connected(address: str) -> Any:
    try:
        cluster = import_module("distributed")  # an extra, and it carries no types
    except ImportError:
        raise InputError(
            '--scheduler: needs the packages of a cluster; accepted: pip install "simengine[cluster]"'
        ) from None
    try:
        return cluster.Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError, TypeError) as trouble:
        why = " ".join(str(trouble).split())[:200] or "no answer"
        raise InputError(f"--scheduler: {address}: {why}; accepted: a scheduler that runs there") from None


def _spread(client: Any, base: Base, ahead: Iterator[Task]) -> Iterator[tuple[Task, list[Outcome]]]:
    threads = sum(client.nthreads().values())
    mark = program_digest()

    def give(task: Task) -> Any:
        future = client.submit(_work, mark, base, task, pure=False, retries=RETRIES)
        given[future] = task
        return future

    given: dict[Any, Task] = {}
    first = [give(task) for task in islice(ahead, AHEAD * max(1, threads))]
    waiting = import_module("distributed").as_completed(first, loop=client.loop)
    for future in waiting:
        task = given.pop(future)
        yield task, _answer(future, task)
        following = next(ahead, None)
        if following is not None:
            waiting.add(give(following))


def _answer(future: Any, task: Task) -> list[Outcome]:
    error = future.exception()
    if isinstance(error, InputError):
        raise error
    if error is None:
        outcomes: list[Outcome] = future.result()
        return outcomes
    reason = f"lost with its workers ({type(error).__name__})"
    return [Outcome(member, None, reason) for member in task.members]


def _work(mark: str, base: Base, task: Task) -> list[Outcome]:
    """Do a task in a worker's thread."""
    if mark != program_digest():
        raise InputError(
            "--scheduler: a worker has another version of simengine; accepted: the same one everywhere, "
            "for the numbers must not depend on who works them out"
        )
    if getattr(_HERE, "base", None) != base:
        _HERE.base, _HERE.bench = base, Bench(base)
    return safely(_HERE.bench, task)
