"""Readings that agree and readings that cannot: diagonals, sizes, shared corners; what a setter would say."""

from __future__ import annotations

import copy
import math

import pytest

from elevation.wall import build_faces, wall_findings
from elevation.wall.agreement import residuals
from elevation.wall.as_found import as_found
from tests.builders import job_data, job_of, wall_data

TAPE = 2


def readings(**more):
    return {
        "down": [[0, 900], [1500, 909]], "up": [[0, 1200], [1500, 1194]],
        "left": [[-900, 0], [1200, 0]], "right": [[-900, 1500], [1200, 1488]], **more,
    }  # fmt: skip


CORNER = {"meets": "corner", "joint": 4}
EDGES = {"left": CORNER, "right": CORNER, "bottom": {"meets": "tub"}, "top": {"meets": "ceiling"}}


def wall(name="A", **more):
    return wall_data(id=name, survey=readings(**more), edges=EDGES)


def told(*walls, rule):
    job = job_of(job_data(*walls, tape=TAPE))
    return [f for f in wall_findings(job) if f.rule == rule]


def test_in_a_setters_words():
    job = job_of(job_data(wall()))
    found = as_found(job, build_faces(job)[0])
    assert found is not None
    assert found.words == (
        "tightest 1488 at the top, 1500 at the bottom",
        "shortest 2100 at the left, 2103 at the right",
        "tub high end left, 9 mm",
        "ceiling high end left, 6 mm",
        "right side leans left going up, 12 mm out of plumb",
    )


def test_a_true_wall_is_said_to_be_true():
    job = job_of(
        job_data(wall(down=[[0, 900], [1500, 900]], up=[[0, 1200], [1500, 1200]], right=[[-900, 1500], [1200, 1500]]))
    )
    found = as_found(job, build_faces(job)[0])
    assert found is not None
    assert found.words == ("1500 wide all the way up", "2100 high all along")


def diagonals(one, two):
    # corners by hand: (0, -900), (1500, -909) and a hair, (1488, 1194), (0, 1200)
    return [math.hypot(1488, 2094) + one, math.hypot(1500, 2109) + two]


def test_diagonals_that_agree_leave_a_small_residual():
    data = job_data(wall(diagonals=diagonals(1, -1)), tape=TAPE)
    job = job_of(data)
    found = residuals(job, build_faces(job)[0])
    # the corners were placed by hand at whole numbers: a tenth of what the tape allows
    assert [r.off for r in found] == pytest.approx([1, -1], abs=0.2)
    # by hand: the diagonal itself, and two corners of 2 each way
    slope = (1488 + 2094) / math.hypot(1488, 2094)
    assert found[0].allowed == pytest.approx(2 + 2 * 2 * slope, abs=0.1)
    (finding,) = told(wall(diagonals=diagonals(1, -1)), rule="diagonals")
    assert finding.level == "note"


@pytest.mark.parametrize(
    ("one", "two", "suspect"),
    [(20, 1, "lower left and upper right"), (20, -20, "square to each other"), (20, 20, "a whole side")],
)
def test_diagonals_that_do_not(one, two, suspect):
    (finding,) = told(wall(diagonals=diagonals(one, two)), rule="diagonals")
    assert finding.level == "stop"
    assert suspect in finding.text


def test_a_typed_width_is_compared_and_the_difference_told():
    more = wall()
    assert told({**more, "width": 1503, "height": 2102}, rule="survey-size") == []
    (finding,) = told({**more, "width": 1510, "height": 2102}, rule="survey-size")
    assert finding.where == "A width"
    assert "10 mm more" in finding.text
    (finding,) = told({**more, "width": 1495, "height": 2090}, rule="survey-size")
    assert finding.where == "A height"
    assert "10 mm less" in finding.text


def room(left=900.0, right=909.0, tub_a=900.0):
    """Return three walls: B on the tub, A and C to the floor with the tub before them, heights of the rim as given."""
    tub = {"id": "tub", "kind": "tub", "y": 0, "width": 700, "height": 400, "joint": 5}
    a, b, c = wall("A"), wall("B", down=[[0, left], [1500, right]]), wall("C")
    for w, x in ((a, 800), (c, 0)):
        w["edges"] = {**EDGES, "bottom": {"meets": "floor"}}
        w["survey"] |= {
            "down": [[0, 1300], [1500, 1300]],
            "left": [[-1300, 0], [1200, 0]],
            "right": [[-1300, 1500], [1200, 1500]],
        }
        w["fixture"] = [{**tub, "x": x}]
    a["survey"]["up"] = [[0, 1200], [1500, 1200]]
    c["survey"]["up"] = [[0, 1194], [1500, 1200]]
    a["fixture"][0]["top"] = [[800, 900], [1500, tub_a]]
    c["fixture"][0]["top"] = [[0, 909], [700, 909]]
    return a, b, c


def test_corners_of_a_room_that_agree():
    # between C and A the ceiling is 1200 on both; at the tub's ends rims and the back wall's bottom meet
    assert told(*room(), rule="corner-agreement") == []
    assert told(*room(left=904), rule="corner-agreement") == []  # just twice the tape
    assert len(told(*room(left=904.2), rule="corner-agreement")) == 1


@pytest.mark.parametrize(
    ("changes", "where", "suspect"),
    [
        ({"left": 915.0}, "A-B", "wall B, down at 0"),
        ({"tub_a": 915.0}, "A-B", "wall A, tub rim at 1500"),
        ({"right": 930.0}, "B-C", "wall B, down at 1500"),
    ],
)  # fmt: skip
def test_the_reading_that_stands_alone_is_suspect(changes, where, suspect):
    (finding,) = told(*room(**changes), rule="corner-agreement")
    assert (finding.level, finding.where) == ("stop", where)
    assert f"Suspect is {suspect}" in finding.text


def test_a_floor_and_a_tub_are_not_compared():
    a, b, _ = room()
    del a["fixture"]
    found = told(copy.deepcopy(a), copy.deepcopy(b), rule="corner-agreement")
    assert [f for f in found if "tub" in f.text or "floor" in f.text] == []


def test_a_side_that_leans_like_a_slip_is_doubted():
    found = told(wall(left=[[-900, 0], [1200, 200]], right=[[-900, 1500], [1200, 1500]]), rule="as-found")
    assert [f.where for f in found if f.level == "advise"] == ["A left"]
