"""One answer from a weather service: https only on every hop, within limits of size and time."""

import time
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final
from urllib.parse import SplitResult, urljoin, urlsplit

from simengine.errors import WeatherError
from simengine.weather.content import quoted

if TYPE_CHECKING:
    import requests

MAX_ANSWER_BYTES: Final = 64 * 1024**2
"""Largest answer that is taken, unpacked [byte]; a typical year has about two million."""

MAX_HOPS: Final = 3
"""Most redirections that are followed, all of them within the one service."""

WHOLE: Final = 4.0
"""How many waits of `timeout` the whole answer may take [-]."""

LOOPBACK: Final = ("127.0.0.1", "::1", "localhost")
PIECE: Final = 64 * 1024


def check_address(address: str) -> None:
    """Refuse an address that is not https; plain http serves for a service on this computer.

    Raises
    ------
    WeatherError
        Naming the scheme, never the address, which may hold a key.

    Examples
    --------
    >>> check_address("https://example.org/api/")
    """
    parts = urlsplit(address)
    if parts.scheme != "https" and not (parts.scheme == "http" and parts.hostname in LOOPBACK):
        raise WeatherError(f"{quoted(parts.scheme)}: a weather service is asked by https only")


def fetched(service: str, address: str, asked: Mapping[str, object], timeout: float) -> str:
    """Return the text that a service answers with.

    Parameters
    ----------
    service : str
        What to call it in messages; no message holds the address or what was asked, since a key may be there.
    address : str
        https; or http on this computer.
    asked : Mapping[str, object]
        Query parameters.
    timeout : float
        Longest wait for a connection and for the next piece [s]; the whole answer may take four times that.

    Returns
    -------
    str
        The answer as text.

    Raises
    ------
    WeatherError
        When it can't be reached in time, refuses, is too long, or points to another place.
    """
    import requests

    check_address(address)
    until = time.monotonic() + WHOLE * timeout
    query: dict[str, str] | None = {key: str(value) for key, value in asked.items()}
    with requests.Session() as session:
        for _ in range(MAX_HOPS + 1):
            try:
                answer = session.get(
                    address, params=query, timeout=timeout, stream=True, allow_redirects=False
                )
                with answer:
                    onward = answer.headers.get("Location") if answer.is_redirect else None
                    if onward is None:
                        return _body(service, answer, until)
            except requests.Timeout:
                raise _too_slow(service) from None
            except (OSError, requests.RequestException, ValueError) as failure:
                if isinstance(failure, WeatherError):
                    raise
                # urllib3 tells a read that took too long as a broken connection
                if "timed out" in str(failure).lower():
                    raise _too_slow(service) from None
                raise WeatherError(
                    f"{service}: can't be reached; check the connection, or give a file"
                ) from None
            address, query = _next_hop(service, address, onward), None
    raise WeatherError(f"{service}: sends from one address to the next without end; try again later")


def _body(service: str, answer: "requests.Response", until: float) -> str:
    if not answer.ok:
        raise WeatherError(
            f"{service}: refused with status {int(answer.status_code)}; check the place, or give a file"
        )
    pieces, size = [], 0
    for piece in answer.iter_content(PIECE):
        size += len(piece)
        if size > MAX_ANSWER_BYTES:
            raise WeatherError(
                f"{service}: sends more than {MAX_ANSWER_BYTES >> 20} MiB; no typical year is so long"
            )
        if time.monotonic() > until:
            raise _too_slow(service)
        pieces.append(piece)
    return b"".join(pieces).decode("utf-8-sig", errors="replace")


def _too_slow(service: str) -> WeatherError:
    return WeatherError(f"{service}: no answer in time; try again later, or give a file")


def _next_hop(service: str, address: str, onward: str) -> str:
    """Return the address of a redirection, which must stay with the same service."""
    target = urljoin(address, onward)
    if _door(urlsplit(target)) != _door(urlsplit(address)):
        raise WeatherError(f"{service}: sends to another address, which isn't followed; give a file instead")
    return target


def _door(parts: SplitResult) -> tuple[str, str | None, int | None]:
    try:
        return parts.scheme, parts.hostname, parts.port
    except ValueError:
        return "", None, None
