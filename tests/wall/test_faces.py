"""Faces, borders and regions, by hand-worked numbers."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Point, box

from elevation.errors import JobError
from elevation.wall import build_faces
from tests.builders import BARE, job_data, job_of, laid_out, wall_data


def region(wall, **more):
    return laid_out(job_data(wall, **more))[1][0].zones[0].region


def test_a_side_of_which_nothing_is_said_has_the_usual_soft_joint():
    assert region(wall_data(edges={})).bounds == pytest.approx((3, 3, 1997, 1197))
    data = job_data(wall_data(width=60, height=40, edges={}), units="in", joint="1/16", sliver=1)
    data["tile"]["t"].update(length=12, width=6, thickness="5/16", variation=0)
    assert laid_out(data)[1][0].zones[0].region.bounds[0] == pytest.approx(25.4 / 8)


def test_a_trim_takes_its_face_and_its_joint():
    wall = wall_data(
        edges={
            "left": {"trim": "e"},
            "right": BARE,
            "bottom": BARE,
            "top": {"meets": "ceiling", "joint": 4, "trim": "e"},
        }
    )
    assert region(wall, trim={"e": {"kind": "profile", "face": 2.5, "joint": 1.5}}).bounds == pytest.approx(
        (4, 0, 2000, 1192)
    )


def test_the_leg_beside_a_tub():
    # a wall of 900 to the floor, a tub 760 wide and 380 high at its left, 6 round it, corner of 40
    wall = wall_data(
        width=900,
        height=2000,
        fixture=[{"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 760, "height": 380, "joint": 6, "radius": 40}],
    )
    tiled = region(wall)
    assert tiled.bounds == pytest.approx((0, 0, 900, 2000))
    square = 766 * 386
    rounded = (1 - math.pi / 4) * 46**2  # the cut-out's corner has radius + joint
    assert 900 * 2000 - tiled.area == pytest.approx(square - rounded, rel=1e-4)


def test_a_tub_from_side_to_side_has_no_rounded_corners():
    wall = wall_data(
        width=760,
        height=2000,
        fixture=[{"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 760, "height": 380, "joint": 6, "radius": 40}],
    )
    assert (
        region(wall).equals_exact(box(0, 386, 760, 2000), 1e-6)
        or region(wall).symmetric_difference(box(0, 386, 760, 2000)).area < 1e-6
    )


def test_holes_round_and_square():
    wall = wall_data(
        hole=[
            {"id": "v", "x": 500, "y": 600, "diameter": 100, "gap": 5},
            {"id": "o", "x": 1200, "y": 600, "width": 50, "height": 90},
        ]
    )
    lost = 2000 * 1200 - region(wall).area
    assert lost == pytest.approx(math.pi * 55**2 + 56 * 96, rel=1e-3)


def test_a_niche_without_trim_laps_as_told():
    niche = {"id": "n", "x": 500, "y": 400, "width": 300, "height": 300, "depth": 90}
    assert 2000 * 1200 - region(wall_data(niche=[niche])).area == pytest.approx(300 * 300)
    # the return's tile shows its edge: wall tile stops at its thickness (8) and a joint (3)
    niche["lap"] = "return"
    assert 2000 * 1200 - region(wall_data(niche=[niche])).area == pytest.approx(322 * 322)


def test_the_back_of_a_niche_loses_the_rise_of_its_sill():
    niche = {"id": "n", "x": 500, "y": 400, "width": 300, "height": 300, "depth": 101.6, "pitch": 6}
    _, faces = laid_out(job_data(wall_data(niche=[niche])))
    back = faces[1].face
    assert back.id == "A.n.back"
    # 6 a foot (304.8) over 101.6 is 2
    assert back.bounds == pytest.approx((0, 0, 300, 298))
    assert back.at == pytest.approx((500, 402))


def test_a_zone_takes_its_place_and_the_field_stops_a_joint_away():
    zone = {
        "id": "z",
        "x": 0,
        "y": 500,
        "width": 2000,
        "height": 200,
        "layout": {"pattern": "stacked", "start": {"x": "left", "y": "bottom"}},
    }
    _, (face,) = laid_out(job_data(wall_data(zone=[zone])))
    field, band = face.zones
    assert band.region.bounds == pytest.approx((0, 500, 2000, 700))
    assert field.region.area == pytest.approx(2000 * 1200 - 2000 * 206)


def test_outlines_with_arcs():
    # a half-round head: radius 500 over a width of 1000
    wall = wall_data(outline=[[0, 0], [1000, 0], [1000, 800], {"arc": 500}, [0, 800]])
    assert region(wall).area == pytest.approx(1000 * 800 + math.pi * 500**2 / 2, rel=1e-4)
    wall["edges"]["3"] = {"meets": "ceiling", "joint": 10}
    top = region(wall).intersection(box(0, 810, 1000, 2000))
    assert (
        top.hausdorff_distance(Point(500, 800).buffer(490, quad_segs=128).intersection(box(0, 810, 1000, 2000))) < 0.05
    )


def test_gaps_that_eat_the_wall():
    wall = wall_data(
        width=50, edges={"left": {"meets": "corner", "joint": 30}, "right": {"meets": "corner", "joint": 30}}
    )
    with pytest.raises(JobError, match="leave no room for tile"):
        laid_out(job_data(wall))


def test_laps_at_an_inside_corner():
    # B is tiled first: its tile runs into the corner; A's starts at B's face: bed 3 and tile 8 away
    side = {"meets": "corner", "joint": 4}
    a, b = wall_data(id="A"), wall_data(id="B")
    a["edges"] = {**a["edges"], "right": side}
    b["edges"] = {**b["edges"], "left": side}
    _, faces = laid_out(job_data(a, b, room={"first": ["B"], "bed": 3}))
    assert faces[0].zones[0].region.bounds[2] == pytest.approx(2000 - 11 - 4)
    assert faces[1].zones[0].region.bounds[0] == pytest.approx(4)
    left = next(e.border for e in faces[1].edges if e.border.side == "left")
    assert left.hidden == pytest.approx(7)


def rectangle_by_survey():
    return {
        "down": [[-200, 900], [1800, 900]],
        "up": [[-200, 300], [1800, 300]],
        "left": [[-900, -200], [300, -200]],
        "right": [[-900, 1800], [300, 1800]],
    }


def test_a_survey_that_reads_a_rectangle_is_the_rectangle():

    plain = build_faces(job_of(job_data(wall_data(datum=900))))[0]
    read = build_faces(job_of(job_data(wall_data(survey=rectangle_by_survey()))))[0]
    assert [tuple(map(round, p)) for p in read.outline.ring] == [tuple(map(round, p)) for p in plain.outline.ring]
    assert read.datum == pytest.approx((200, 900))


def test_readings_to_the_studs_lose_the_board_and_a_floor_lifts_the_bottom():
    side = {"meets": "corner", "joint": 4}
    a, b = wall_data(id="A"), wall_data(id="B")
    a["edges"] = {**a["edges"], "right": side, "bottom": {"meets": "floor", "joint": 5}}
    b["edges"] = {**b["edges"], "left": side}
    room = {"first": ["B"], "bed": 3, "board": 12, "to": "studs", "floor": 20}
    _, faces = laid_out(job_data(a, b, room=room))
    # B runs to the face of A's board; A's tile to the face of B's tile
    assert faces[1].zones[0].region.bounds[0] == pytest.approx(12 + 4)
    assert faces[0].zones[0].region.bounds[2] == pytest.approx(2000 - 12 - 3 - 8 - 4)
    assert faces[0].zones[0].region.bounds[1] == pytest.approx(20 + 5)
    assert next(e.border.hidden for e in faces[1].edges if e.border.side == "left") == pytest.approx(3 + 8 - 4)


def test_round_the_room_finished_width_and_build_up_make_the_reading():
    side = {"meets": "corner", "joint": 4}
    walls = []
    for name in "ABC":
        wall = wall_data(id=name)
        wall["edges"] = {"left": side, "right": side, "bottom": BARE, "top": BARE}
        walls.append(wall)
    for first in (["B"], ["A", "C"]):
        _, faces = laid_out(job_data(*walls, room={"first": first, "bed": 3}))
        for face in faces:
            x0, _, x1, _ = face.zones[0].region.bounds
            ends = sum(e.offset for e in face.edges if e.border.side in ("left", "right"))
            assert x1 - x0 + ends == pytest.approx(2000)


def test_a_rim_as_found():
    # readings from the plumb line at the left; the tub high at the left by 9
    tub = {
        "id": "tub",
        "kind": "tub",
        "x": 0,
        "y": 0,
        "width": 1500,
        "height": 400,
        "joint": 5,
        "top": [[0, 491], [1500, 500]],
    }
    _, (face,) = laid_out(job_data(wall_data(width=1500, fixture=[tub], datum=900)))
    region = face.zones[0].region
    low = sorted({(round(x, 3), round(y, 2)) for x, y in region.exterior.coords if y < 500})
    assert low == [(0, 414.0), (1500, 405.0)]


def test_a_rim_that_the_joint_takes_up_stays_level():
    tub = {
        "id": "tub",
        "kind": "tub",
        "x": 0,
        "y": 0,
        "width": 1500,
        "height": 400,
        "joint": [4, 8],
        "radius": 30,
        "top": [[0, 497], [1500, 500]],
    }
    _, (face,) = laid_out(job_data(wall_data(fixture=[tub], datum=900)))
    edge = next(e for e in face.edges if e.border.name == "tub top")
    assert edge.gap == pytest.approx((4, 7))
    region = face.zones[0].region
    assert region.contains(box(10, 407.5, 1400, 500))
    assert not region.intersects(box(10, 300, 1400, 406.9))
    # the corner that stands clear of the wall's sides keeps its radius, 30 + 4
    assert region.contains(Point(1504 - 34 + 34 * 0.75, 407 - 34 + 34 * 0.75))
