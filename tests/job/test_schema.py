"""The JSON Schema of the job file, against an independent validator, and the words on keys."""

import datetime
import json
import tomllib
from pathlib import Path

import pytest

from elevation.job.keys import describe, doc_of, every_key, keys, near_key
from elevation.job.schema import job_schema

jsonschema = pytest.importorskip("jsonschema")
EXAMPLE = Path(__file__).parent / "example_in.toml"
EXAMPLES = [EXAMPLE, *sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))]


@pytest.fixture(scope="module")
def validator():
    schema = job_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def plain(path):
    """Return a TOML file as JSON would hold it: dates are text."""
    return json.loads(json.dumps(tomllib.loads(path.read_text()), default=datetime.date.isoformat))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_good_file_passes(validator, path):
    assert [e.message for e in validator.iter_errors(plain(path))] == []


def tables(data, path=()):
    if isinstance(data, dict):
        yield path
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from tables(value, (*path, key))


@pytest.mark.parametrize("path", list(tables(plain(EXAMPLE))), ids=lambda p: ".".join(map(str, p)) or "top")
def test_an_unknown_key_fails_in_every_table(validator, path):
    data = plain(EXAMPLE)
    table = data
    for step in path:
        table = table[step]
    table["not-a-key"] = 1
    if path[-1:] != ("edges",) or path[-3:-2] == ("niche",):  # a wall's sides are checked against its shape, not here
        assert list(validator.iter_errors(data))


@pytest.mark.parametrize(
    ("key", "value"), [("units", "inches"), ("title", 3), ("sliver", None), ("joint", ["1", "2", "3"])]
)
def test_a_wrong_value_fails(validator, key, value):
    assert list(validator.iter_errors({**plain(EXAMPLE), key: value}))


def test_no_trace_of_the_library_is_left():
    text = json.dumps(job_schema())
    for word in ('"null"', "discriminator", "Attributes:", "pydantic", "``"):
        assert word not in text
    assert job_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_is_described():
    assert [path for path, key in every_key().items() if not doc_of(key)] == []
    schema = job_schema()
    for part in (schema, *schema["$defs"].values()):
        assert all(p.get("description") for p in part.get("properties", {}).values()), part


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("sliver", "No cut narrower than this"),
        ("wall[1].niche[1].width", "Clear width"),
        ("tile.field.length", "Long side"),
        ("tile.length", "Long side"),
        ("wall.edges.left.joint", "Soft joint"),
        ("wall.layout.shift", "share of a module"),
        ("kerf", "1/8 in, or 3 mm"),
        ("wall.fixture", "A fixture by its outline"),
        ("box", "Tiles a box"),
    ],
)
def test_a_key_is_explained(asked, says):
    assert says in describe(asked)


@pytest.mark.parametrize(
    ("asked", "says"), [("slivr", 'did you mean "sliver"?'), ("wall.niche.widht", 'did you mean "wall.niche.width"?')]
)
def test_an_unknown_key_has_a_near_match(asked, says):
    assert describe(asked) is None
    assert says in near_key(asked)


@pytest.mark.parametrize("asked", ["", ".", "[", "a b", "wall..x", "\x00"])
def test_no_key_at_all_is_told_too(asked):
    assert describe(asked) is None
    assert near_key("") == ""


def test_every_key_can_be_explained_by_its_path():
    for path in keys():
        assert describe(path).startswith(f"{path}\n  ")
