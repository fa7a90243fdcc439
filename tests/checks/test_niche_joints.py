"""Joints of a niche's back that do not go on from the wall's are told, and only those."""

from itertools import pairwise

import pytest

from elevation.pipeline import read
from tests.planning import EXAMPLES, plan_of
from tests.strategies import job_data, tile, wall

NICHE = {"id": "n", "x": 400, "y": 900, "width": 600, "height": 300, "depth": 90}
TILES = {"field": tile(), "small": tile(50, 50)}


def found(pattern="stacked", **own):
    layout = {"tile": "field", "pattern": pattern, "start": {"x": "joint", "y": "bottom"}}
    niche = {**NICHE, "layout": {**layout, **own}} if own else NICHE
    plan = plan_of(job_data(wall(niche=[niche], layout=layout), tile=TILES))
    return [(f.where, f.level, f.text.split(";")[0]) for f in plan.findings if f.rule == "niche-joints"]


@pytest.mark.parametrize("pattern", ["stacked", "running-bond", "vertical-stack"])
def test_a_back_that_goes_on_from_the_wall_is_passed(pattern):
    assert found(pattern) == []


def test_a_back_with_a_tile_of_its_own_is_told():
    said = "the level joints and upright joints of the back do not line up with the wall's"
    assert found(tile="small") == [("A n", "note", said)]


def test_only_the_direction_that_is_lost_is_told():
    # wall: 1500 wide, a joint midway, so a tile's left edge at 751 and, two modules of 302 to the left, at 147; soft
    # joint 3 and courses of 102 put lower edges at 3 + 102 k = 921 for k = 9. The back's frame starts at (400, 900)
    # and its pitch lifts it: 6 * 90 / 304.8. A start at 50 across is off; one at 921 - 900 - rise up is on.
    rise = 6 * 90 / 304.8
    start = {"x": 50, "y": 921 - 900 - rise}
    assert found(start=start) == [("A n", "note", "the upright joints of the back do not line up with the wall's")]
    assert found(start={"x": 751 - 400, "y": 921 - 900 - rise}) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_in_every_example_course_lines_go_on_or_the_plan_says_where_not(path):
    """The oracle lays no lattice: it compares lower edges of slots, as drawn on the wall, course by course."""
    plan = plan_of(read(path).job)
    for laid in plan.faces:
        if laid.face.kind not in ("back", "left", "right"):
            continue
        wall = {round(min(y for _, y in p.slot), 3) for p in plan.pieces_of(laid.face.wall)}
        steps = sorted(wall)
        rise = min(b - a for a, b in pairwise(steps))
        own = {min(y for _, y in p.slot) + laid.face.at[1] - steps[0] for p in plan.pieces_of(laid.face.id)}
        on_line = all(abs(y - round(y / rise) * rise) < 0.05 for y in own)
        part = {"back": "back", "left": "left jamb", "right": "right jamb"}[laid.face.kind]
        told = any(
            f.rule == "niche-joints"
            and f.where == f"{laid.face.wall} {laid.face.of}"
            and "level joints" in f.text
            and f" of the {part} " in f.text
            for f in plan.findings
        )
        assert told != on_line, laid.face.id


def test_a_niche_in_a_zone_is_held_against_that_zone_and_one_across_its_border_against_both():
    def notes(niche, **zone):
        start = {"x": "left", "y": "bottom"}
        band = {"id": "b", "x": 0, "y": 800, "width": 1500, "height": 600, "layout": {
            "tile": "small", "pattern": "stacked", "start": start}, **zone}  # fmt: skip
        plan = plan_of(job_data(wall(niche=[{**NICHE, "y": niche}], zone=[band]), tile=TILES))
        return [f.text.split(";")[0] for f in plan.findings if f.rule == "niche-joints"]

    inside = notes(900)
    assert inside[0] == (
        "the level joints and upright joints of the back do not line up with those of zone b beside it"
    )
    assert not any("the wall's" in t for t in inside)
    assert notes(700) == [inside[0]]
    # from 700 to 1000, with a band from 750 to 950: the courses above it start again
    resumed = notes(700, y=750, height=200, restart=True)
    assert "the level joints of the back do not line up with the wall's beyond b, where whole tiles resume" in resumed
