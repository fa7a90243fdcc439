"""The schema of plan.json: plans keep to it, and what breaks the contract is caught."""

import copy
import json
import tomllib

import pytest
from jsonschema import Draft202012Validator, ValidationError

from elevation.output.tables import plan_json
from elevation.plan.schema import plan_schema
from tests.planning import EXAMPLES, plan_of
from tests.strategies import job_data, job_of, wall

VALIDATOR = Draft202012Validator(plan_schema())
HOLE = {"id": "valve", "x": 400, "y": 800, "diameter": 60}


@pytest.fixture(scope="module")
def plan():
    return json.loads(plan_json(plan_of(job_data(wall(hole=[HOLE])))))


def test_schema_is_one():
    Draft202012Validator.check_schema(plan_schema())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_plans_keep_to_the_schema(path):
    job = job_of(tomllib.loads(path.read_text(encoding="utf-8")))
    VALIDATOR.validate(json.loads(plan_json(plan_of(job))))


def test_keys_may_be_added(plan):
    more = copy.deepcopy(plan) | {"extra": 1}
    more["walls"][0]["faces"][0]["zones"][0]["pieces"][0]["extra"] = []
    VALIDATOR.validate(more)


@pytest.mark.parametrize(
    ("path", "key"),
    [
        ((), "format"),
        (("job",), "fingerprint"),
        (("walls", 0), "tiled_area"),
        (("walls", 0, "datum"), "y"),
        (("walls", 0, "edges", 0), "gap"),
        (("walls", 0, "faces", 0, "zones", 0), "origin"),
        (("walls", 0, "faces", 0, "zones", 0, "pieces", 0), "slot"),
        (("layout", 0), "proved"),
        (("cutting", 0), "lower_bound"),
        (("takeoff", 0), "amount"),
    ],
)
def test_what_the_contract_names_may_not_go(plan, path, key):
    broken = copy.deepcopy(plan)
    at = broken
    for step in path:
        at = at[step]
    del at[key]
    with pytest.raises(ValidationError, match=key):
        VALIDATOR.validate(broken)


def test_wrong_kinds_are_caught(plan):
    broken = copy.deepcopy(plan)
    broken["walls"][0]["faces"][0]["zones"][0]["pieces"][0]["kind"] = "round"
    with pytest.raises(ValidationError):
        VALIDATOR.validate(broken)
