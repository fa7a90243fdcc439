"""Lines of keys, against documents whose lines are known because tomlkit or this test wrote them."""

import tomllib

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from elevation.job.paths import at_path, key_text, read_key, shown
from elevation.job.where import find_places

TRICKY = '''# a remark with [brackets] and = signs
a = 1 # x
"b c".d = {x = [1, {y=2}], z = """q
"" ]"""}
arr = [
  1, # ] not the end
  [2,
   3], \'\'\'a\'\'\'\'
]
[[w]]
k = "q\\"x # no remark"
[w.e]
l.m = 1979-05-27 07:32:00
[[w.n]]
[[w]]
[[w.n]]
[w.n.q]
z = 1
[late.parent.child]
v = \'C:\\\'
'''


def test_lines_and_values_of_a_text_with_everything_in_it():
    places = find_places(TRICKY)
    data = tomllib.loads(TRICKY)
    lines = {
        ("a",): (2, "1"), ("b c", "d", "x", 1, "y"): (3, "2"), ("b c", "d", "z"): (3, '"""q "" ]"""'),
        ("arr",): (5, "[ 1, # ] not the end [2, 3], '''a'''' ]"), ("arr", 0): (6, "1"), ("arr", 1, 1): (8, "3"),
        ("arr", 2): (8, "'''a''''"), ("w",): (10, None), ("w", 0, "k"): (11, '"q\\"x # no remark"'),
        ("w", 0, "e"): (12, None), ("w", 0, "e", "l", "m"): (13, "1979-05-27 07:32:00"), ("w", 0, "n", 0): (14, None),
        ("w", 1): (15, None), ("w", 1, "n", 0, "q", "z"): (18, "1"), ("late", "parent"): (19, None),
        ("late", "parent", "child", "v"): (20, "'C:\\'"),
    }  # fmt: skip
    for path, (line, value) in lines.items():
        assert at_path(data, path) is not None, path
        assert (places.line(path), places.value(path)) == (line, value), path


def test_what_has_no_line_takes_the_line_of_what_holds_it():
    places = find_places(TRICKY)
    assert places.line(("w", 1, "n", 0, "q", "missing", 3, "x")) == 17
    assert places.line(("nothing",)) is None
    assert places.line(()) is None


KEYS = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_characters="\x7f"), min_size=1, max_size=6)
SCALARS = st.one_of(
    st.integers(-10**6, 10**6), st.booleans(), st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(max_codepoint=0x2FF, exclude_categories=("Cc", "Cs")), max_size=12),
    st.sampled_from(["[x]", "# no", 'say "no"', "it's", "a\nb", "]\n[t]\nk = 1", "'''", '"""', "\\"]),
)  # fmt: skip
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=8
)
TABLES = st.dictionaries(
    KEYS, VALUES | st.lists(st.dictionaries(KEYS, VALUES, max_size=3), min_size=1, max_size=3), max_size=5
)


def walk(data, path=()):
    yield path, data
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from walk(value, (*path, key))


@given(TABLES)
def test_every_key_of_a_written_document_is_found_and_its_value_reads_back(data):
    text = tomlkit.dumps(data)
    parsed = tomllib.loads(text)
    places = find_places(text)
    assert set(places.lines) == {path for path, _ in walk(parsed) if path}
    last = len(text.split("\n"))
    for path, value in walk(parsed):
        if path in places.spans:
            start, end = places.spans[path]
            assert tomllib.loads(f"v = {text[start:end]}")["v"] == value
            assert places.lines[path] == text.count("\n", 0, start) + 1
        elif path:
            assert not isinstance(value, str | int | float)
            assert 1 <= places.line(path) <= last


@given(st.lists(st.tuples(KEYS, SCALARS), min_size=1, max_size=8, unique_by=lambda kv: kv[0]), st.data())
def test_lines_are_those_on_which_the_keys_were_put(pairs, data):
    lines, where = [], {}
    for key, value in pairs:
        lines += data.draw(st.lists(st.sampled_from(["", "# remark = [", "   "]), max_size=3))
        where[key] = len(lines) + 1
        lines += tomlkit.dumps({key: value}).rstrip("\n").split("\n")
    places = find_places("\n".join(lines))
    assert {path[0]: line for path, line in places.lines.items() if len(path) == 1} == where


STEPS = st.lists(KEYS | st.integers(0, 10**6), max_size=5).map(lambda s: ("top", *s))


@given(STEPS)
def test_a_path_written_for_people_is_read_back(path):
    if all(not isinstance(s, str) or (s.isprintable() and "  " not in s and s == s.strip()) for s in path):
        assert read_key(key_text(path)) == tuple(path)


def test_places_count_from_one_and_odd_keys_are_quoted():
    assert key_text(("wall", 0, "niche", 1, "width")) == "wall[1].niche[2].width"
    assert key_text(("tile", "my field", "box")) == 'tile."my field".box'
    assert read_key("wall[1]..x") is None


@pytest.mark.parametrize(("text", "line"), [("a\n\tb", "a b"), ("x\x07", "x\\u0007"), ("y" * 99, "y" * 45 + "...")])
def test_values_are_shown_on_one_short_line(text, line):
    assert shown(text) == line
