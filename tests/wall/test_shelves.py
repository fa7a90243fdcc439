"""Shelves across corners: one table, a slot at one height on both walls."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box

from elevation.job.models import Job
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, laid_out, wall_data
from tests.planning import plan_of

CORNER = {"meets": "corner", "joint": 4}
SURVEY = {
    "down": [[0, 500], [1000, 510]], "up": [[0, 700]],
    # the left side leans 6 to the right over 1200
    "left": [[-500, 0], [700, 6]], "right": [[0, 1000]],
}  # fmt: skip


def shelf(**more):
    return {"id": "s1", "corner": "right", "y": 600, "leg": [200, 250], "thickness": 20, "joint": 3, **more}


def walls(*, y=600, here=400, there=400, **more):
    left = wall_data(datum=here, corner_shelf=[shelf(y=y)], edges={"left": BARE, "right": CORNER, "bottom": BARE})
    right = wall_data(1000, id="B", datum=there, edges={"left": CORNER, "right": BARE, "bottom": BARE}, **more)
    return left, right


def slots(data):
    """Return the clear outline of the shelf on each wall, above that wall's level line."""
    faces = build_faces(job_of(data))
    found = {}
    for face in faces:
        ring = face.cutout("s1").shape.ring
        found[face.id] = [(x, y - face.datum[1]) for x, y in ring]
    return found


@given(st.integers(100, 1100), st.integers(0, 900), st.integers(0, 900))
def test_it_stands_at_one_height_above_the_level_line_on_both_walls(y, here, there):
    found = slots(job_data(*walls(y=y, here=here, there=there)))
    for ring in found.values():
        assert min(v for _, v in ring) == pytest.approx(y - 20 - here)
        assert max(v for _, v in ring) == pytest.approx(y - here)


def test_it_is_measured_from_the_corner_and_ends_there():
    found = slots(job_data(*walls()))
    assert min(x for x, _ in found["A"]) == 2000 - 200
    assert max(x for x, _ in found["A"]) == 2000
    assert max(x for x, _ in found["B"]) == 250
    assert min(x for x, _ in found["B"]) == 0


def test_tile_of_both_walls_stops_a_joint_round_it():
    _, laid = laid_out(job_data(*walls()))
    # A: 197 to 2000 across less 3, 577 to 603 up; B: 0 to 253
    for face, taken in zip(laid, (box(1797, 577, 2000, 603), box(0, 577, 253, 603)), strict=True):
        region = shapely.union_all([z.region for z in face.zones])
        assert region.intersection(taken).area == pytest.approx(0, abs=0.1)
        x = 1796 if face.face.id == "A" else 254
        assert region.contains(shapely.Point(x, 590))


def test_a_wall_as_found_has_its_corner_where_it_leans_to():
    left, right = walls()
    right = {k: v for k, v in right.items() if k not in ("width", "height", "datum")} | {"survey": SURVEY}
    face = next(f for f in build_faces(job_of(job_data(left, right))) if f.id == "B")
    ring = face.cutout("s1").shape.ring
    # 200 above the level line; its middle 190 above it, where the side stands at 0.005 * (500 + 190)
    assert max(y for _, y in ring) - face.datum[1] == pytest.approx(200)
    corner = face.datum[0] + 0.005 * 690
    assert max(x for x, _ in ring) == pytest.approx(corner + 250)


def test_walls_without_any_level_line_stand_on_the_same_floor():
    left, right = walls()
    data = job_data(*({k: v for k, v in w.items() if k != "datum"} for w in (left, right)))
    found = slots(data)
    assert max(v for _, v in found["A"]) == max(v for _, v in found["B"]) == 600


def test_neighbours_go_round_a_room_of_three_walls_and_stop_at_an_open_end():
    plain = {"left": CORNER, "right": CORNER}
    job = job_of(job_data(*(wall_data(id=n, edges=plain) for n in "ABC")))
    assert job.neighbour("A", "left").id == "C"
    assert job.neighbour("C", "right").id == "A"
    two = Job.model_copy(job, update={"wall": job.wall[:2]})
    assert two.neighbour("A", "left") is None
    assert two.neighbour("A", "right").id == "B"
    left, right = walls()
    right["edges"]["left"] = {"meets": "outside"}
    assert job_of(job_data(left, right)).neighbour("A", "right") is None


def off(y, there=400):
    """Return what is said of the shelf's top; courses of 153 stand on the bottom of both walls, 0 to 150, 153 ..."""
    plan = plan_of(job_data(*walls(y=y, there=there)))
    return [f.text for f in plan.findings if f.rule == "shelf-course"]


def test_a_shelf_a_joint_under_a_course_line_is_not_spoken_of():
    assert off(4 * 153 - 3) == []


def test_a_shelf_off_the_course_lines_is_told_how_far_it_has_to_go():
    # top and joint at 603: 9 below course line 612, 144 above the one at 459
    (text,) = off(600)
    assert "raise it 9 mm or lower it 144 mm" in text


def test_a_shelf_between_courses_that_do_not_meet_is_told_of_both_walls():
    # wall B starts 10 lower: there top and joint stand at 593, 19 below 612 and 134 above 459
    (text,) = off(600, there=390)
    assert "wall A raise it 9 mm or lower it 144 mm, wall B raise it 19 mm or lower it 134 mm" in text
