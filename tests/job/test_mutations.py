"""Whatever is done to a good file, it is read or refused with a JobError; nothing else comes out."""

import copy
import random
import tomllib
from pathlib import Path

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from elevation.errors import JobError, Problem
from elevation.job import read_text
from elevation.job.paths import read_key

TEXT = (Path(__file__).parent / "example_in.toml").read_text()
DATA = tomllib.loads(TEXT)

ODD = st.one_of(
    st.sampled_from([
        "", " ", "0", "-1", "1/0", "1e9", "nan", "B", "n1", "choose", "x" * 500, "\u202e", 0, -1, 10**30, 1.5,
        float("nan"), float("inf"), True, [], {}, [[]], [{}], ["1", "2"], ["2", "1"], [["0", "0"], ["0", "0"]],
        {"wall": "B"}, {"on": "n1"}, {"arc": "1"}, {"x": "joint", "y": {"wall": "A"}}, {"pattern": "stacked"},
        {"left": {"joint": "1"}}, [True],
    ]),
    st.integers(), st.floats(), st.text(max_size=8), st.lists(st.integers(-99, 99), max_size=4),
    st.lists(st.tuples(st.integers(-99, 99), st.integers(-99, 99)).map(list), max_size=6),
)  # fmt: skip


def places(data, path=()):
    if path:
        yield path
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from places(value, (*path, key))


def read(text):
    """Read a text; return its problems after looking that each can be shown, or none."""
    problems = ()
    try:
        read_text(text, "job.toml")
    except JobError as error:
        problems = error.problems or (Problem("", ""),)
    for problem in problems:
        assert problem.text
        assert "does not do here" not in problem.text, problem
        assert problem.line is not None or not problem.key
        assert (problem.line or 1) <= text.count("\n") + 1
        assert problem.message("job.toml").isprintable(), problem
        assert problem.key == "" or read_key(problem.key) is not None, problem
    return problems


@given(st.data())
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_values_changed_dropped_doubled_and_renamed(data):
    changed = copy.deepcopy(DATA)
    for _ in range(data.draw(st.integers(1, 3))):
        found = list(places(changed))
        path = found[data.draw(st.integers(0, len(found) - 1))] if found else ()
        if not path:
            break
        parent = changed
        for step in path[:-1]:
            parent = parent[step]
        what = data.draw(st.sampled_from(["set", "drop", "double", "rename", "swap"]))
        if what == "set":
            parent[path[-1]] = copy.deepcopy(data.draw(ODD))
        elif what == "drop":
            del parent[path[-1]]
        elif what == "double" and isinstance(parent, list):
            parent.append(copy.deepcopy(parent[path[-1]]))
        elif what == "rename" and isinstance(parent, dict):
            parent[data.draw(st.sampled_from(["widht", "x y", "id", "pattern", "\x07", "e"]))] = parent.pop(path[-1])
        else:
            other = found[data.draw(st.integers(0, len(found) - 1))]
            value = changed
            for step in other:
                value = value[step]
            parent[path[-1]] = copy.deepcopy(value)
    read(tomlkit.dumps(changed))


@given(st.integers(0, 2**32))
@settings(max_examples=120, deadline=None)
def test_characters_lost_and_strewn_in(seed):
    chance = random.Random(seed)
    text = list(TEXT)
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(text))
        text[at : at + chance.choice((0, 1, 1, 5, 40))] = chance.choice(
            ["", '"', "'", "[", "]", "{", "}", "=", ".", "#", "\n", "1", "ü", "\\", "\t"]
        )
    read("".join(text))


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_lines_dropped_and_moved(data):
    lines = TEXT.split("\n")
    for _ in range(data.draw(st.integers(1, 4))):
        i = data.draw(st.integers(0, len(lines) - 1))
        line = lines.pop(i)
        if data.draw(st.booleans()):
            lines.insert(data.draw(st.integers(0, len(lines))), line)
    read("\n".join(lines))


def test_one_wrong_value_anywhere_gives_a_problem_at_or_above_it():
    """A date in place of any length, word or number is refused under that very key."""
    for path in list(places(DATA))[::3]:
        parent = copy.deepcopy(DATA)
        whole = parent
        for step in path[:-1]:
            parent = parent[step]
        value = parent[path[-1]]
        if isinstance(value, dict | list) or path[-1] == "date":
            continue
        parent[path[-1]] = tomllib.loads("t = 07:32:00")["t"]
        problems = read(tomlkit.dumps(whole))
        assert problems, path
        keys = [read_key(p.key) for p in problems]
        assert any(key == path[: len(key)] and key for key in keys), (path, problems)
