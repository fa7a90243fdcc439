"""What the sheets say of a field that bands divide: courses once, no gap called open, one chain of heights."""

import pytest

from elevation.sheets.course_list import course_rows, list_lines
from elevation.sheets.set_out_data import course_lines, heights
from elevation.sheets.shelf_notes import shelf_notes
from elevation.sheets.wall_dimensions import wall_chains
from tests.builders import BARE, job_data, wall_data
from tests.planning import plan_of


def band(**more):
    layout = {"pattern": "stacked", "start": {"x": "left", "y": "bottom"}}
    sizes = {"x": 0, "y": 500, "width": 2000, "height": 150}
    return {"id": "b", **sizes, "restart": True, "layout": layout, **more}


def sizes(piece):
    return f"{piece.width:g}", f"{piece.height:g}"


def wall_of(zone, **more):
    own = {"edges": more.pop("edges")} if "edges" in more else {}
    plan = plan_of(job_data(wall_data(datum=600, zone=[zone], **own), **more), findings=False)
    return plan, plan.walls[0]


def test_parts_side_by_side_share_their_course_lines_and_end_at_the_band():
    plan, wall = wall_of(band(x=900, y=0, width=100, height=1200))
    lines = [c for c in course_lines(plan, wall) if c.zone != "b"]
    # 7 courses of 153 and one of 129
    assert [c.label for c in lines] == [str(n) for n in range(1, 9)]
    rows = course_rows(plan, wall, sizes)
    assert not any(part.kind == "break" for row in rows for part in row.parts)
    for row in rows:
        ends = {"field": (0, 900), "b": (900, 1000), "field.b": (1000, 2000)}[row.zone]
        assert sum(p.width for p in row.parts) == pytest.approx(ends[1] - ends[0]), row.label
    # left of 897: 2 of 303 and 291; right of 1003: 3 of 303 and 88
    assert next((line.zone, line.courses) for line in list_lines(rows) if line.zone != "b") == ("field", "1-7")
    assert {r.text for r in rows if r.zone == "field.b" and r.course < 8} == {"3 whole, 88 cut"}


def test_heights_of_field_and_band_stand_in_one_chain():
    plan, wall = wall_of(band())
    chains = wall_chains(plan, wall, course_rows(plan, wall, sizes), sizes, 1.0, "mm", working=True)
    heights_chain = chains["left"][0]
    # 3 courses of 153 and 38 below 497; the band's one tile of 150; above 653: 3 of 153 and 88
    assert heights_chain.stations == pytest.approx((0, 459, 497, 653, 1112, 1200))


def test_the_pole_marks_the_band():
    _, wall = wall_of(band())
    marks = {h.words: h.above for h in heights(wall)}
    assert marks["b bottom"] == pytest.approx(-100)
    assert marks["b top"] == pytest.approx(50)


def test_a_shelf_is_told_on_both_walls_each_with_its_own_leg_first():
    corner = {"meets": "corner", "joint": 3}
    shelf = {"id": "s1", "corner": "right", "y": 600, "leg": [200, 250], "thickness": 20, "front": "round"}
    left = wall_data(datum=0, edges={"left": BARE, "right": corner}, corner_shelf=[shelf])
    plan = plan_of(job_data(left, wall_data(id="B", datum=0, edges={"left": corner, "right": BARE})))
    (a,), (b,) = (shelf_notes(plan, wall, lambda v: f"{v:g}") for wall in "AB")
    assert "20 thick, round front; 200 along this wall and 250 along wall B" in a
    assert "250 along this wall and 200 along wall A" in b


def test_a_band_that_runs_to_the_side_of_the_wall_ends_as_the_wall_does():
    trim = {"cap": {"kind": "bullnose", "face": 50, "joint": 3, "stock": 150}}
    corner = {"meets": "corner", "joint": 3}
    edges = {"left": corner, "right": {"trim": "cap"}, "bottom": BARE, "top": BARE}
    # 3 at the corner, 53 at the bullnose: 1944 of tile from the right, 6 of 303 and a cut of 126 at the corner
    layout = {"pattern": "stacked", "start": {"x": "right", "y": "bottom"}}
    plan, wall = wall_of(band(layout=layout), edges=edges, trim=trim)
    (row,) = (r for r in course_rows(plan, wall, sizes) if r.zone == "b")
    assert row.text == "126 cut, 6 whole"
    assert [p.kind for p in row.parts if p.kind == "break"] == []
    assert row.blanks == ("left",)
