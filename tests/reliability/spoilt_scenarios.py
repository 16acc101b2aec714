"""Makes scenario files that no person would write: valid ones spoilt, others drawn from the schema."""

import datetime
import json
import math
import random
import tomllib
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel

from simengine.data_files import data_path
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.fields import Many, Of
from simengine.scenario.schema.walk import fields_by_key, holds_list, kinds_of, models_in, reader_of
from simengine.units import KINDS, parse

BASES = [data_path("scenarios", f"{name}.toml").read_bytes() for name in ("demo", "demo_metric", "demo_us")]
TABLES = [tomllib.loads(base.decode()) for base in BASES]

NUMBERS = (0, -0.0, -1, 1, 1e308, -1e308, 1e-320, 2**63, -(2**63), 10**400, math.nan, math.inf, -math.inf)
TEXTS = (
    *(
        "",
        " ",
        "nan",
        "inf m",
        "-inf W",
        "1e999 m",
        "-5 ft",
        "0 m",
        "1 m 2",
        "1/0 in",
        "1 1/0 ft",
        "R-",
        "R--6",
    ),
    *(
        "999 degF",
        "-400 degC",
        "3 %",
        "1e-400 m",
        "\uff11\uff12 ft",
        "5 ft",
        "5 m",
        "٣ m",
        "1,5 m",
        "1_000 m",
        "0x10 m",
    ),
    *("../../etc/passwd", "../" * 60, "/etc/passwd", "/dev/zero", "/dev/stdin", "C:\\nul", "\\\\host\\share"),
    *(
        "builtin:../../etc/passwd",
        "builtin:",
        "builtin:nowhere",
        "file:///etc/passwd",
        "https://host.invalid/a",
    ),
    *("a/b/c", ".", "..", "~/x", "x\x00y", "CON", "a" * 300, "<script>alert(1)</script>", "{{ 7 * 7 }}"),
    *(
        "${HOME}",
        "$(id)",
        "`id`",
        "%s%n",
        "=1+1",
        "@SUM(A1)",
        "\u202eabc",
        "\ufeff",
        "e\u0301" * 40,
        "😀" * 30,
    ),
    *(
        "\x1b[31m",
        "\x07",
        "\x7f",
        "\u2028",
        "\n\n",
        "'''",
        '"""',
        "1 m" * 2000,
        "9" * 5000,
        "9" * 5000 + " m",
    ),
    *("-" * 90_000, "1/" * 30_000, "." * 50_000, " " * 60_000 + "m", "e" * 20_000, "1e" * 20_000),
)
BYTES = (
    *(b"[", b"]", b"[[", b"{", b"}", b"=", b'"', b'"""', b"'''", b"#", b".", b",", b"\n", b"\r", b"\x00"),
    *(b"\xff\xfe", b"\xc3", b"\xed\xa0\x80", b"\xef\xbb\xbf", b"\x1b", b"\\u0000", b"\\UFFFFFFFF", b"nan"),
    *(b"inf", b"1e400", b"0x", b"1979-05-27T07:32:00Z", b"25:61:00", b"[a]\n[a]\n", b"true", b"-" * 1000),
)
KEYS = (
    "",
    "schema",
    "__proto__",
    "__class__",
    "model_config",
    "checks",
    "a.b",
    "a/b",
    "\x00",
    "é" * 50,
    "k" * 9000,
)


def toml(value: Any) -> str:
    """Return a value as TOML, tables inline."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{text(str(key))} = {toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return "1" + "0" * 400 if value > 10**399 else str(value)
    if isinstance(value, float):
        return {"nan": "nan", "inf": "inf", "-inf": "-inf"}.get(repr(value), repr(value))
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return text(str(value))


def text(value: str) -> str:
    """Return a text in quotes."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def written(tables: dict[str, Any]) -> bytes:
    """Return tables as the bytes of a file."""
    lines = [f"{text(key)} = {toml(value)}" for key, value in tables.items()]
    return "\n".join(lines).encode("utf-8", "surrogatepass")


def anything(rng: random.Random, depth: int = 0) -> Any:
    """Return a value of any type, nested at most three deep."""
    pick = rng.randrange(10 if depth < 3 else 8)
    if pick < 3:
        return rng.choice(TEXTS)
    if pick < 5:
        return rng.choice(NUMBERS)
    if pick == 5:
        return rng.choice((True, False))
    if pick == 6:
        return rng.choice(
            (datetime.date(1, 1, 1), datetime.datetime(9999, 12, 31, 23, 59), datetime.time(7, 0))
        )
    if pick == 7:
        return "".join(chr(rng.choice((rng.randrange(32, 127), rng.randrange(1, 0xD7FF)))) for _ in range(12))
    if pick == 8:
        return [anything(rng, depth + 1) for _ in range(rng.choice((0, 1, 2, 3, 12, 13, 24, 300)))]
    return {rng.choice(KEYS): anything(rng, depth + 1) for _ in range(rng.randrange(4))}


def quantity(rng: random.Random, kind: str) -> str:
    """Return a number of any size with one of the units of a kind, and now and then of another."""
    size = rng.choice((0.0, 1.0, -1.0, 10.0 ** rng.uniform(-9, 9), -(10.0 ** rng.uniform(-3, 6))))
    units = KINDS[kind if rng.random() < 0.9 else rng.choice(list(KINDS))].units
    return f"{size:.6g} {rng.choice(units).name}".strip()


def drawn(rng: random.Random, reader: Any) -> Any:
    """Return a value for one key: mostly sensible, now and then beyond a bound or nothing of the kind."""
    if rng.random() < 0.04:
        return anything(rng)
    if isinstance(reader, Of):
        return within(rng, reader) if rng.random() < 0.9 else quantity(rng, reader.kind)
    if isinstance(reader, Many):
        one = [drawn(rng, reader.each) for _ in range(reader.count)]
        return one if rng.random() < 0.3 else one[0]
    if reader is None:
        return "x"
    try:
        return tomllib.loads(f"x = {reader.example()}")["x"]
    except tomllib.TOMLDecodeError:
        return reader.example()


def within(rng: random.Random, reader: Of) -> str:
    """Return a value between the bounds of a quantity, or at one of them."""
    unit = KINDS[reader.kind].inside
    low, high = (math.nan if end is None else parse(end, reader.kind) for end in (reader.low, reader.high))
    low = low if math.isfinite(low) else min(0.0, high if math.isfinite(high) else 0.0)
    high = high if math.isfinite(high) else max(2.0 * abs(low), 10.0)
    ends = [end for end in (reader.low, reader.high) if end is not None]
    if ends and rng.random() < 0.15:
        return rng.choice(ends)
    usual = parse(reader.example()[1:-1], reader.kind)
    if rng.random() < 0.5:
        return f"{min(max(usual * rng.uniform(0.7, 1.4), low), high):.9g} {unit.name}".strip()
    return f"{rng.uniform(low, high):.9g} {unit.name}".strip()


def section(rng: random.Random, model: type[BaseModel], likely: float = 0.4) -> dict[str, Any]:
    """Return a table drawn from a section of the schema."""
    table: dict[str, Any] = {}
    for key, field in fields_by_key(model).items():
        if not field.is_required() and rng.random() > likely:
            continue
        inner = models_in(field.annotation)
        if key in ("kind", "part") and kinds_of(model):
            table[key] = rng.choice(kinds_of(model))
        elif not inner:
            table[key] = drawn(rng, reader_of(field))
        elif holds_list(field.annotation):
            count = rng.choice((1, 1, 2, 3))
            table[key] = [section(rng, rng.choice(inner), likely * 0.7) for _ in range(count)]
        else:
            table[key] = section(rng, rng.choice(inner), likely * 0.7)
    return table


def places(value: Any, above: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the path to every key and item below a value."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path for key, item in items for path in [(*above, key), *places(item, (*above, key))]]


def holder(tables: Any, path: tuple[Any, ...]) -> Any:
    """Return what holds the last part of a path."""
    for part in path[:-1]:
        tables = tables[part]
    return tables


def by_value(rng: random.Random) -> bytes:
    """Return a valid file with one to three values replaced."""
    tables = copied(rng)
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        path = rng.choice(places(tables))
        holder(tables, path)[path[-1]] = anything(rng)
    return written(tables)


def by_bound(rng: random.Random) -> bytes:
    """Return a valid file with one to four quantities of another size."""
    tables = copied(rng)
    for _ in range(rng.choice((1, 1, 2, 4))):
        path = rng.choice(places(tables))
        old = holder(tables, path)[path[-1]]
        unit = old.rpartition(" ")[2] if isinstance(old, str) and " " in old else ""
        size = rng.choice((-1, 1)) * 10.0 ** rng.uniform(-6, 6)
        new = f"{size:.6g} {unit}" if unit else size
        if isinstance(old, str | int | float) and not isinstance(old, bool):
            holder(tables, path)[path[-1]] = new
    return written(tables)


def by_key(rng: random.Random) -> bytes:
    """Return a valid file with keys taken away, renamed, moved or put where they do not belong."""
    tables = copied(rng)
    for _ in range(rng.choice((1, 1, 2, 5))):
        path = rng.choice(places(tables))
        here = holder(tables, path)
        item = here.pop(path[-1])
        if isinstance(here, dict) and rng.random() < 0.4:
            here[rng.choice((*KEYS, path[-1] + "s", path[-1].upper()))] = item
        elif rng.random() < 0.3:
            tables[rng.choice(list(fields_by_key(Inputs)))] = item
        if not places(tables):
            break
    return written(tables)


def by_section(rng: random.Random) -> bytes:
    """Return a valid file with one section drawn anew from the schema."""
    tables = copied(rng)
    for _ in range(rng.choice((1, 1, 2))):
        key, field = rng.choice(list(fields_by_key(Inputs).items()))
        inner = models_in(field.annotation)
        if not inner:
            tables[key] = drawn(rng, reader_of(field))
        elif holds_list(field.annotation):
            tables[key] = [section(rng, rng.choice(inner)) for _ in range(rng.choice((1, 2, 6)))]
        else:
            tables[key] = section(rng, rng.choice(inner))
    return written(tables)


def from_schema(rng: random.Random) -> bytes:
    """Return a file drawn whole from the schema."""
    return written(section(rng, Inputs, rng.choice((0.1, 0.4, 0.9))))


def by_bytes(rng: random.Random) -> bytes:
    """Return a valid file with bytes cut out, put in or turned."""
    raw = bytearray(rng.choice(BASES))
    for _ in range(rng.choice((1, 1, 2, 8))):
        at = rng.randrange(len(raw) + 1)
        raw[at : at + rng.choice((0, 1, 2, 12, 400))] = rng.choice((*BYTES, rng.randbytes(4), b""))
    return bytes(raw[: rng.choice((len(raw), rng.randrange(len(raw) + 1)))])


def by_lines(rng: random.Random) -> bytes:
    """Return a valid file with lines doubled, taken away or exchanged."""
    lines = rng.choice(BASES).split(b"\n")
    for _ in range(rng.choice((1, 1, 3, 10))):
        at, other = rng.randrange(len(lines)), rng.randrange(len(lines))
        way = rng.randrange(3)
        if way == 0:
            lines.insert(other, lines[at])
        elif way == 1 and len(lines) > 1:
            del lines[at]
        else:
            lines[at], lines[other] = lines[other], lines[at]
    return b"\n".join(lines)


def by_size(rng: random.Random) -> bytes:
    """Return a valid file with something very long or deep in it."""
    count = rng.choice((20, 40, 300, 3000, 30_000))
    big: tuple[Callable[[], bytes], ...] = (
        lambda: b"x = " + b"[" * count + b"]" * count,
        lambda: b"x = " + b"{a = " * count + b"1" + b"}" * count,
        lambda: b"[" + b".".join([b"a"] * count) + b"]\nx = 1",
        lambda: b"\n".join(b"[[ducts]]\nname = 'supply'" for _ in range(count)),
        lambda: b"\n".join(b"k%d = %d" % (number, number) for number in range(count)),
        lambda: b"x = [" + b"1," * count + b"]",
        lambda: b"x = '" + b"y" * count + b"'",
        lambda: b"x = " + b"9" * count,
        lambda: b"x = 0." + b"9" * count,
        lambda: b"x = " + b"1" * count + b"e" + b"1" * count,
        lambda: b"\n" * count + b"x",
        lambda: b"[site]\nhorizon = [" + b"[10, 5]," * count + b"]",
        lambda: b"[site]\nweather = [" + b"'a'," * count + b"]",
        lambda: b"[site]\nweather = '" + b"../" * count + b"'",
        lambda: b"[sweep.vary]\n" + b"\n".join(b"'collector.%d' = [1]" % number for number in range(count)),
        lambda: b"[collector.tags]\n" + b"\n".join(b"t%d = 'x'" % number for number in range(count)),
    )
    new = rng.choice(big)()
    base = rng.choice(BASES)
    return rng.choice((new + b"\n" + base, base + b"\n" + new, new))


def copied(rng: random.Random) -> dict[str, Any]:
    """Return the tables of a valid file, to be spoilt."""
    return tomllib.loads(rng.choice(BASES).decode())


WAYS: tuple[Callable[[random.Random], bytes], ...] = (
    *(by_value, by_bound, by_key, by_section, from_schema, by_bytes, by_lines, by_size),
    *(by_value, by_bound, by_section, from_schema),
)


def spoilt(number: int, seed: int = 1) -> tuple[str, bytes]:
    """Return the way and the content of one file: the same for the same number and seed."""
    rng = random.Random(f"scenario {seed} {number}")
    way = WAYS[number % len(WAYS)]
    return way.__name__, way(rng)
