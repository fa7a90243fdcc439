"""A recess deeper than a stud of 89 mm: the same tile on back and wall, so it is as deep as the niche is."""

import pytest

from tests.planning import plan_of
from tests.strategies import job_data, wall


def found(depth):
    niche = {"id": "n", "x": 400, "y": 900, "width": 300, "height": 300, "depth": depth}
    return [f for f in plan_of(job_data(wall(niche=[niche]))).findings if f.rule == "niche-depth"]


@pytest.mark.parametrize("depth", [60, 89])
def test_within_the_studs(depth):
    assert found(depth) == []


def test_deeper_than_the_studs():
    (finding,) = found(100)
    assert (finding.where, finding.level) == ("A n", "note")
    assert "100 mm deep from the face of the studs, 11 mm more than a stud of 89 mm" in finding.text
