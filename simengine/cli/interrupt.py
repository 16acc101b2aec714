"""Ctrl-C ends a command soon, also while compiled code runs that knows nothing of signals."""

import contextlib
import os
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator

GRACE = 1.0
"""How long a command may take to end by itself after Ctrl-C [s]."""


@contextlib.contextmanager
def ends_soon(status: int, say: Callable[[], None], grace: float = GRACE) -> Iterator[None]:
    """End the process if Ctrl-C came and the block has not ended within the grace.

    Python sees a signal only between two of its own steps, and a year is one call into compiled code. A
    thread of its own therefore hears of the signal through a socket (a pipe would not do on every system).
    Nothing is lost that was done: files get their names only when they are whole.

    Parameters
    ----------
    status : exit status of the process
    say : tells the user, before the process ends
    grace : [s]
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    hears, told = socket.socketpair()
    told.setblocking(False)
    ended = threading.Event()
    before = signal.set_wakeup_fd(told.fileno(), warn_on_full_buffer=False)
    watch = threading.Thread(target=_watch, args=(hears, ended, grace, status, say), daemon=True)
    watch.start()
    try:
        yield
    finally:
        ended.set()
        signal.set_wakeup_fd(before)
        told.close()
        watch.join()
        hears.close()


def _watch(
    hears: socket.socket, ended: threading.Event, grace: float, status: int, say: Callable[[], None]
) -> None:
    while signals := hears.recv(64):
        if signal.SIGINT in signals and not ended.wait(grace):
            say()
            with contextlib.suppress(OSError, ValueError):
                sys.stderr.flush()
            os._exit(status)
