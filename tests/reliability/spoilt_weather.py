"""Makes weather files that no person would write, out of one invented year in every format that is read."""

import functools
import gzip
import io
import json
import random
import zipfile
from collections.abc import Callable

from simengine.weather.normals import Normals, Place
from simengine.weather.synthetic import synthetic_year
from tests.reliability.spoilt_scenarios import BYTES, TEXTS
from tests.weather.made_files import all_formats

GHI = (1.8, 2.6, 3.7, 4.8, 5.6, 6.2, 6.0, 5.3, 4.3, 3.1, 2.0, 1.6)
TEMPERATURE = (-1.0, 0.5, 5.0, 11.0, 16.5, 21.5, 24.0, 23.0, 19.0, 12.5, 7.0, 1.5)
"""An invented place at 40 deg north."""

FIELDS = (
    *(
        "",
        "nan",
        "-nan",
        "inf",
        "-inf",
        "1e400",
        "-1e300",
        "99999",
        "-9999",
        "9999999999999999999",
        "0x1F",
        "1,5",
    ),
    *(
        "1e15",
        "1e16",
        "-0",
        "--1",
        "1.2.3",
        "\uff11",
        "٣",
        "NULL",
        "None",
        "true",
        "=1+1",
        '"',
        '"x',
        "\x00",
        "\x1b[0m",
    ),
    *(
        "24:00",
        "25",
        "1900",
        "0",
        "-1",
        "13",
        "32",
        "60",
        "2001-13-01",
        "9999",
        "99",
        "1_0",
        "é" * 400,
        "x" * 5000,
    ),
)
ENTITIES = (
    '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY a{n} "{f"&a{n - 1 or str()};" * 10}">' for n in range(1, 12))
    + ']><a>&a11;</a><!ENTITY x SYSTEM "file:///etc/passwd">'
)
BOMB_BYTES = 300 * 1024**2
"""More than a reader unpacks [byte]."""


@functools.cache
def bases() -> dict[str, bytes]:
    """Return the year in every format."""
    normals = Normals(GHI, TEMPERATURE)
    year = synthetic_year(Place(40.0, -75.0, 100.0, -5.0, "Made Up"), normals, seed=1)
    east = synthetic_year(Place(40.0, 8.0, 100.0, 0.3, "Made Up East"), normals, seed=1)
    return all_formats(year, east)


@functools.cache
def gzip_bomb() -> bytes:
    """Return a small file that unpacks to more than is read."""
    return gzip.compress(b"# latitude: 1\n" + b"0" * BOMB_BYTES, 6, mtime=0)


@functools.cache
def zip_bomb() -> bytes:
    """Return a small archive that unpacks to more than is read, and lies about its size."""
    raw = bytearray(zipped({"a.csv": b"0" * BOMB_BYTES}))
    at = raw.index(b"PK\x01\x02") + 24
    raw[at : at + 4] = (1000).to_bytes(4, "little")
    return bytes(raw)


def zipped(members: dict[str, bytes]) -> bytes:
    """Return an archive."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in members.items():
            archive.writestr(zipfile.ZipInfo(name, (2001, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED)
    return held.getvalue()


def any_base(rng: random.Random) -> bytes:
    """Return the year in one of the formats."""
    return rng.choice(list(bases().values()))


def text_base(rng: random.Random) -> list[bytes]:
    """Return the lines of the year in one of the formats that are text."""
    return rng.choice([raw for name, raw in bases().items() if name not in ("netcdf", "pvgis_json")]).split(
        b"\n"
    )


def field(rng: random.Random) -> bytes:
    """Return what may stand between two commas."""
    return rng.choice((*FIELDS, *FIELDS, *TEXTS)).encode("utf-8", "surrogatepass").replace(b"\n", b" ")


def cut(rng: random.Random) -> bytes:
    """Cut the file off."""
    raw = any_base(rng)
    return raw[: rng.choice((rng.randrange(len(raw)), rng.randrange(400), len(raw) - rng.randrange(1, 300)))]


def by_bytes(rng: random.Random) -> bytes:
    """Turn some bytes."""
    raw = bytearray(any_base(rng))
    for _ in range(rng.choice((1, 1, 3, 30))):
        at = rng.randrange(rng.choice((len(raw), min(2000, len(raw)))))
        raw[at : at + rng.choice((0, 1, 4, 300))] = rng.choice((*BYTES, rng.randbytes(4), b""))
    return bytes(raw)


def by_field(rng: random.Random) -> bytes:
    """Replace some fields of some rows."""
    lines = text_base(rng)
    for _ in range(rng.choice((1, 1, 2, 20))):
        at = rng.randrange(rng.choice((len(lines), 30)))
        parts = lines[at].split(b",")
        parts[rng.randrange(len(parts))] = field(rng)
        lines[at] = b",".join(parts)
    return b"\n".join(lines)


def by_header(rng: random.Random) -> bytes:
    """Replace, double or drop lines and numbers at the head."""
    lines = text_base(rng)
    for _ in range(rng.choice((1, 1, 2, 4))):
        at = rng.randrange(min(24, len(lines)))
        way = rng.randrange(4)
        if way == 0:
            del lines[at]
        elif way == 1:
            lines.insert(at, lines[at] if rng.random() < 0.5 else field(rng))
        elif way == 2:
            mark = b": " if b": " in lines[at] else b","
            parts = lines[at].split(mark)
            parts[rng.randrange(len(parts))] = field(rng)
            lines[at] = mark.join(parts)
        else:
            lines[at] = field(rng)
    return b"\n".join(lines)


def by_row(rng: random.Random) -> bytes:
    """Take rows away, double, exchange or empty them."""
    lines = text_base(rng)
    for _ in range(rng.choice((1, 1, 4))):
        at = rng.randrange(len(lines))
        count = rng.choice((1, 2, 24, 700, 5000))
        way = rng.randrange(4)
        if way == 0:
            del lines[at : at + count]
        elif way == 1:
            lines[at:at] = lines[at : at + count]
        elif way == 2:
            lines[at : at + count] = reversed(lines[at : at + count])
        else:
            lines[at : at + count] = [b""] * count
        lines = lines or [b""]
    return b"\n".join(lines)


def by_column(rng: random.Random) -> bytes:
    """Exchange columns, or fill one with the same odd value, in all rows or in all but the titles."""
    lines = text_base(rng)
    start = rng.choice((0, 2, 12, 30))
    one, other = rng.randrange(24), rng.randrange(24)
    value, way = field(rng)[:200], rng.randrange(4)
    for at in range(start, len(lines)):
        parts = lines[at].split(b",")
        if max(one, other) >= len(parts):
            continue
        if way == 0:
            parts[one], parts[other] = parts[other], parts[one]
        elif way == 1:
            parts[one] = value
        elif way == 2:
            del parts[one]
        elif at % 7 == 0:
            parts[one] = value
        lines[at] = b",".join(parts)
    return b"\n".join(lines)


def by_encoding(rng: random.Random) -> bytes:
    """Write the file, or a part of it, in another encoding, or mix two files."""
    raw = any_base(rng)
    text = raw.decode("latin-1")
    half = len(raw) // 2
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: text.encode("utf-16"),
        lambda: raw[:half] + text[half:].encode("utf-16-le"),
        lambda: b"\xef\xbb\xbf" + raw,
        lambda: raw.replace(b"\n", b"\r"),
        lambda: raw.replace(b"\n", b"\r\n\r\n"),
        lambda: raw.replace(b",", rng.choice((b";", b"\t", b" ", b",,"))),
        lambda: raw.replace(b".", b","),
        lambda: raw[:3000] + any_base(rng)[3000:],
        lambda: raw[: rng.randrange(2000)] + any_base(rng),
        lambda: raw + raw,
        lambda: raw.replace(b"e", "é".encode("latin-1")),
    )
    return rng.choice(ways)()


def by_size(rng: random.Random) -> bytes:
    """Make a line, a field or the number of rows huge."""
    head = rng.choice(
        (b"LOCATION,", b"# latitude: 1\n# longitude: 1\n# utc_offset: 0\n", b"", b'{"tmy_hourly": ')
    )
    fill = rng.choice((b"0", b",", b'"', b"\n", b"[", b'{"a":', b"9", b"#\n", b"1,2\n", b"#", b"\x00", b" "))
    return head + fill * rng.choice((1000, 50_000, 1_000_000, 3_000_000))


def by_nothing(rng: random.Random) -> bytes:
    """Return bytes that are no weather at all."""
    starts = (b"\x89HDF\r\n\x1a\n", b"CDF\x01", b"CDF\x02", b"\x1f\x8b\x08", b"PK\x03\x04", b"LOCATION,", b"")
    return rng.choice((rng.choice(starts) + rng.randbytes(rng.choice((1, 60, 4000))), ENTITIES.encode()))


def packed(rng: random.Random) -> bytes:
    """Return an archive: damaged, nested, with names that lead out, or that unpacks to too much."""
    names = (
        "../../escaped.csv",
        "/escaped.csv",
        "C:\\escaped.csv",
        "a" * 500 + ".csv",
        "a.csv",
        "\x1b.csv",
        "..",
        "",
    )
    small = rng.choice(list(bases().values()))[:5000]
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: zipped({rng.choice(names) or "x": small}),
        lambda: zipped({f"{number}.csv": small for number in range(rng.choice((0, 2, 2000)))}),
        lambda: zipped({"a.csv": zipped({"a.csv": small})}),
        lambda: turned(rng, zipped({"a.csv": small})),
        lambda: turned(rng, gzip.compress(small, 1, mtime=0)),
        lambda: gzip.compress(gzip.compress(small, 1, mtime=0), 1, mtime=0),
        lambda: gzip.compress(by_field(rng), 1, mtime=0),
        lambda: zipped({rng.choice(names[:5]): by_field(rng)}),
        lambda: gzip_bomb() if rng.random() < 0.3 else gzip_bomb()[: rng.randrange(20_000)],
        lambda: zip_bomb() if rng.random() < 0.3 else turned(rng, zip_bomb()[-5000:]),
    )
    return rng.choice(ways)()


def turned(rng: random.Random, raw: bytes) -> bytes:
    """Return bytes with some of them turned, and now and then cut off."""
    spoilt = bytearray(raw)
    for _ in range(rng.choice((1, 3, 9))):
        spoilt[rng.randrange(len(spoilt))] = rng.randrange(256)
    return bytes(spoilt[: rng.choice((len(spoilt), rng.randrange(len(spoilt))))])


def json_tree(rng: random.Random) -> bytes:
    """Return the JSON form with a value replaced, or nested without end."""
    raw = bases()["pvgis_json"]
    if rng.random() < 0.2:
        deep = rng.choice((b'{"tmy_hourly": ' + b"[" * 90_000, b'{"tmy_hourly": ' + b'{"a": ' * 90_000))
        return deep
    odd = rng.choice((None, True, 1e400, -1, "x", [], {}, [1], "9" * 5000, "nan", 10**30))
    tree = json.loads(raw)
    place, rows = tree["inputs"]["location"], tree["outputs"]["tmy_hourly"]
    ways: tuple[Callable[[], object], ...] = (
        lambda: place.update({rng.choice(list(place)): odd}),
        lambda: rows[rng.randrange(len(rows))].update({rng.choice(list(rows[0])): odd}),
        lambda: [row.update({"T2m": odd}) for row in rows],
        lambda: rows[rng.randrange(len(rows))].pop(rng.choice(list(rows[0]))),
        lambda: rows.__setitem__(rng.randrange(2), odd),
        lambda: tree["outputs"].update({"tmy_hourly": odd}),
        lambda: tree["inputs"].update({"location": odd}),
        lambda: tree.update({rng.choice(("inputs", "outputs")): odd}),
    )
    rng.choice(ways)()
    return json.dumps(tree).encode()


WAYS: tuple[Callable[[random.Random], bytes], ...] = (
    *(cut, by_bytes, by_field, by_header, by_row, by_column),
    *(by_encoding, by_size, by_nothing, packed, json_tree, by_header),
)


def spoilt_weather(number: int, seed: int = 1) -> tuple[str, bytes]:
    """Return the way and the content of one file: the same for the same number and seed."""
    rng = random.Random(f"weather {seed} {number}")
    way = WAYS[number % len(WAYS)]
    return way.__name__, way(rng)
