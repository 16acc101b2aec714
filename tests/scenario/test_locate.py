"""Every key of a TOML text is found where it stands."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from simengine.data_files import data_folder
from simengine.scenario.locate import locate

TRICKY = '''\
# [not.a.table]  key = 1
top = 1
"quoted key" = "a # b"   # a remark = 2
'single' = 'C:\\path [x] = 3'
a.b . c = "dotted"
text = """
inside = "no key"
[nor.a.table]
\\"""still inside
"""
literal = \'\'\'
also = 'inside\'\'\'
list = [
    1, # one = 1
    [2, 3], { x = 1, y.z = [4] },
]
inline = { k = "v", "q k" = { deep = true } }

  [table . sub]
  key=1

[[many]]
name = "first"
[many.part]
size = 1
[[many.more]]
n = 1
[[many]]
name = "second"
[[many.more]]
n = 1
[[many.more]]
n = 2
[last]
date = 2026-05-01
time = 07:32:00
'''


def paths(value: Any, above: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    if isinstance(value, dict):
        items: Any = value.items()
    elif isinstance(value, list):
        items = enumerate(value)
    else:
        return
    for key, item in items:
        yield (*above, key)
        yield from paths(item, (*above, key))


TEXTS = [TRICKY, *(p.read_text(encoding="utf-8") for p in sorted(data_folder("scenarios").glob("*.toml")))]


@pytest.mark.parametrize("text", TEXTS)
def test_every_path_of_the_data_has_a_place_and_no_other(text: str) -> None:
    assert set(locate(text)) == set(paths(tomllib.loads(text)))


@pytest.mark.parametrize("text", TEXTS)
def test_the_text_at_the_place_names_the_key(text: str) -> None:
    lines = text.split("\n")
    for path, (line, column) in locate(text).items():
        rest = lines[line - 1][column - 1 :]
        if isinstance(path[-1], str):
            assert path[-1] in rest


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("top",), (2, 1)),
        (("quoted key",), (3, 1)),
        (("a", "b", "c"), (5, 1)),
        (("list", 1, 0), (15, 6)),
        (("list", 2, "y"), (15, 22)),
        (("inline", "q k", "deep"), (17, 31)),
        (("table", "sub", "key"), (20, 3)),
        (("many", 0, "part", "size"), (25, 1)),
        (("many", 1), (28, 1)),
        (("many", 1, "more", 1, "n"), (33, 1)),
        (("last", "time"), (36, 1)),
    ],
)
def test_places_counted_by_hand(path: tuple[str | int, ...], place: tuple[int, int]) -> None:
    assert locate(TRICKY)[path] == place


@pytest.mark.parametrize("text", ["[", "a", "a =", '"', "a = [", "a = {", "[[x", "=", "]", "a = 'x", "\\"])
def test_broken_text_ends_and_does_not_raise(text: str) -> None:
    assert isinstance(locate(text), dict)
