"""Elevations of walls as found: gaps at both ends, tapered cuts at both ends; sums by hand from the readings."""

from __future__ import annotations

import pytest

from elevation.drawing.marks import walk
from elevation.sheets.elevation_sheet import ElevationSheet
from tests.builders import job_data, wall_data
from tests.planning import plan_of
from tests.sheets.test_elevation_sheet import body_for, box_of, pages, texts


def words(content, start):
    return sorted((t for t in texts(content) if t.text.startswith(start)), key=lambda t: t.at)


def test_the_gap_at_the_ceiling_stands_at_both_ends():
    # back wall: the ceiling is read 45 1/2 at the left and 45 1/4 at 60: it falls 1/4, the joint goes from 1/8 to 3/8
    content = next(c for c in pages("crooked-bath") if c.id == "B")
    left, right = words(content, "gap")
    assert [left.text, right.text] == ["gap 3/8", "gap 1/8"]
    assert left.height == right.height == 3.5
    tiles = [p for m in walk(content.marks) if getattr(m, "pen", None) == "wall" for p in m.rings[0]]
    top = max(p[1] for p in tiles)
    assert all(box_of(t)[1] > top for t in (left, right))
    assert left.at[0] - min(p[0] for p in tiles) < 20
    assert max(p[0] for p in tiles) - right.at[0] < 20


def test_a_side_that_goes_on_behind_the_tub_is_judged_where_tile_runs():
    # left wall: the floor is 1/16 out over 36, but tile stands on 6 of them only: no gap differs by a step there
    content = next(c for c in pages("crooked-bath") if c.id == "A")
    assert [t.text for t in words(content, "gap")] == ["gap 3/16", "gap 1/8"]


def crooked(down, right=((-600, 1200), (700, 1200)), joint=3):
    survey = {"down": down, "up": [[0, 700], [1200, 700]], "left": [[-600, 0], [700, 0]], "right": list(right)}
    edges = {side: {"meets": "corner", "joint": 3} for side in ("left", "right", "bottom", "top")}
    edges["bottom"]["joint"] = joint
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": {"datum": 0}}}
    return plan_of(job_data(wall_data(survey=survey, edges=edges, layout=layout)))


def drawn(plan):
    (content, *_) = ElevationSheet().compose(plan, body_for(plan))
    return content


def dimensions(content, *, upright):
    found = [t for t in texts(content) if t.height == 3.5 and bool(t.angle) == upright]
    return sorted(found, key=lambda t: (t.at[0], t.at[1]))


def course_heights(low_left, low_right):
    """Return the heights of the bottom cuts at both ends: course lines stand at the datum, whole modules down."""
    tile = job_data()["tile"]["t"]
    module = tile["width"] + job_data()["joint"]
    out = []
    for low in (low_left, low_right):
        depth = low - 3  # tile reaches down to the joint above the side
        out.append(depth - int(depth / module) * module - job_data()["joint"])
    return out


def test_both_heights_of_a_tapered_course_are_dimensioned():
    # 600 down at the left end, 612 at the right: 12 out, the joint is fixed, so the bottom course is cut to the taper
    plan = crooked([[0, 600], [1200, 612]])
    content = drawn(plan)
    left, right = course_heights(600, 612)
    first, last = (p for p in plan.pieces_of("A") if p.course == 1 and p.place in (1, 4))
    up = dimensions(content, upright=True)
    middle = sum(t.at[0] for t in up) / len(up)
    found = {t.text: t.at[0] < middle for t in up}
    assert first.kind == last.kind == "tapered"
    assert found[str(round(left))] is True
    assert found[str(round(right))] is False


def test_both_widths_of_a_leaning_column_are_dimensioned():
    # the right side leans in by 8 from 600 below the level line to 700 above it
    plan = crooked([[0, 600], [1200, 600]], right=((-600, 1200), (700, 1192)))
    content = drawn(plan)
    tile, joint = job_data()["tile"]["t"]["length"], job_data()["joint"]
    start = 3 + 3 * (tile + joint)
    low, high = 1200 - 3 - start, 1192 - 3 - start
    level = dimensions(content, upright=False)
    heights = {t.text: t.at[1] for t in level}
    assert heights[str(int(low))] < heights[str(int(high))]


def test_a_side_in_true_has_no_word():
    plan = crooked([[0, 600], [1200, 600]], joint=[3, 8])
    assert not words(drawn(plan), "gap")


@pytest.mark.parametrize("out", [2, 4])
def test_a_range_takes_up_what_it_can_and_says_so(out):
    # down to 600 at the left and 600 + out at the right: the joint opens by as much at the right
    plan = crooked([[0, 600], [1200, 600 + out]], joint=[3, 8])
    left, right = words(drawn(plan), "gap")
    gaps = [float(t.text.removeprefix("gap ")) for t in (left, right)]
    assert gaps[1] - gaps[0] == pytest.approx(out, abs=0.51)
    assert gaps[0] >= 3


def test_the_table_of_edges_tells_what_stands_round_an_outside_corner():
    edges_a = {"left": {}, "bottom": {}, "top": {}, "right": {"meets": "outside", "with": "B", "trim": "end"}}
    layout = {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": {"datum": 0}}}
    walls = [
        wall_data(1200, 900, id="A", edges=edges_a, layout=layout, datum=300),
        wall_data(1000, 900, id="B", edges={}, layout=layout, datum=300),
    ]
    trim = {"end": {"kind": "profile", "face": 2.5, "joint": 2, "height": 12, "stock": 2500}}
    plan = plan_of(job_data(*walls, trim=trim, room={"first": ["A"]}))
    second = list(ElevationSheet().compose(plan, body_for(plan)))[1]
    assert "beside the trim, joint 2" in {t.text for t in texts(second)}
