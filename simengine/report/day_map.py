"""A picture of a year of intervals, a column a day and a row an interval of the day, as a small PNG."""

import base64
import struct
import zlib

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

COLOUR = (201, 138, 27)
"""Of the strongest field: the page's colour of gains; weaker ones are more transparent."""


def day_map(values: Array, a_day: int, strongest: float) -> str:
    """Return a map of the days as a data address of a PNG.

    Parameters
    ----------
    values : interval means from midnight on, shape [time]
    a_day : intervals a day [-], a divisor of their number
    strongest : value that is drawn in full [unit of the values], above 0

    Returns
    -------
    Address for an image; one pixel an interval, the day's first interval at the top.

    >>> day_map(np.array([0.0, 1.0]), 2, 1.0)[:22]
    'data:image/png;base64,'
    """
    share = np.clip(values.reshape(-1, a_day).T / strongest, 0.0, 1.0)
    pixels = np.empty((*share.shape, 4), dtype=np.uint8)
    pixels[:, :, :3] = COLOUR
    pixels[:, :, 3] = np.round(share * 255.0)
    return "data:image/png;base64," + base64.b64encode(_png(pixels)).decode("ascii")


def _png(pixels: NDArray[np.uint8]) -> bytes:
    """Return rows of red, green, blue and opacity as a PNG (ISO/IEC 15948)."""
    rows, columns, _ = pixels.shape
    lines = b"".join(b"\x00" + row.tobytes() for row in pixels)
    header = struct.pack(">IIBBBBB", columns, rows, 8, 6, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"IDAT", zlib.compress(lines, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in chunks)


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
