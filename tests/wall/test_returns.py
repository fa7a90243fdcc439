"""The faces of a niche and of a tiled window return, worked by hand."""

from __future__ import annotations

import math

import pytest

from elevation.pieces import make_pieces
from tests.builders import BARE, job_data, laid_out, wall_data

# clear 610 x 305, 90 deep, the sill falling 12 a foot: rise 12 * 90 / 304.8 = 3.5433
NICHE = {"id": "n", "x": 500, "y": 400, "width": 610, "height": 305, "depth": 90, "pitch": 12}
RISE = 12 * 90 / 304.8


def faces_of(niche, **more):
    _, faces = laid_out(job_data(wall_data(niche=[niche]), **more))
    return {f.face.kind: f for f in faces}


def test_five_faces_with_their_true_sizes():
    faces = faces_of(NICHE)
    assert list(faces) == ["wall", "back", "sill", "head", "left", "right"]
    assert faces["back"].face.bounds == pytest.approx((0, 0, 610, 305 - RISE))
    assert faces["sill"].face.bounds == pytest.approx((0, 0, 610, math.hypot(90, RISE)))
    assert faces["head"].face.bounds == pytest.approx((0, 0, 610, 90))
    assert faces["left"].face.bounds == pytest.approx((0, 0, 90, 305))
    assert faces["right"].face.bounds == pytest.approx((0, -RISE, 90, 305 - RISE))


def test_pitch_of_the_trade_facts():
    # facts/trade.md 2.3: 1/4 in a foot over 3 1/2 in is 0.073 in, over 4 in 0.083 in
    for depth, rise in (("3 1/2", 0.0729), ("4", 0.0833)):
        niche = {"id": "n", "x": 20, "y": 20, "width": 24, "height": 12, "depth": depth, "pitch": "1/4"}
        data = job_data(wall_data(width=80, height=60, niche=[niche]), units="in", joint="1/8", sliver=1)
        data["tile"]["t"].update(length=12, width=6, thickness="5/16", variation=0)
        back = next(f for f in laid_out(data)[1] if f.face.kind == "back")
        assert 12 - back.face.bounds[3] / 25.4 == pytest.approx(rise, abs=1e-4)


def test_areas_of_pieces_and_joints_make_the_clear_areas():
    data = job_data(wall_data(niche=[NICHE]))
    job, laid = laid_out(data)
    zones = make_pieces(job, laid)
    soft, front = 3.0, 8.0 + 3.0  # the wall's tile laps: thickness and a joint behind the finished face
    slope = math.hypot(90, RISE)
    back_end, front_end = 305 - RISE, 305 - RISE * front / 90
    by_hand = {
        "back": (610 - 2 * soft) * (305 - RISE - 2 * soft),
        "sill": 610 * (slope - front),
        "head": (610 - 2 * soft) * (90 - front),
        "left": (90 - front) * (back_end + front_end) / 2 - soft * (90 - front) * slope / 90,
    }
    by_hand["right"] = by_hand["left"]
    for face in laid[1:]:
        assert face.zones[0].region.area == pytest.approx(by_hand[face.face.kind], rel=1e-6)
        pieces = next(z for z in zones if z.face == face.face.id).pieces
        covered = sum(p.area for p in pieces)
        joints = face.zones[0].region.area - covered
        assert 0 <= joints < face.zones[0].region.area * 0.06


def test_joints_of_the_returns_stand_in_line_with_the_walls():
    faces = faces_of(NICHE)
    wall = faces["wall"].zones[0].origin
    for kind in ("back", "sill", "head"):
        x = faces[kind].zones[0].origin[0] + faces[kind].face.at[0]
        assert (x - wall[0]) % 303 == pytest.approx(0, abs=1e-6) or (x - wall[0]) % 303 == pytest.approx(303, abs=1e-6)
    for kind in ("back", "left", "right"):
        y = faces[kind].zones[0].origin[1] + faces[kind].face.at[1]
        assert (y - wall[1]) % 153 == pytest.approx(0, abs=1e-6) or (y - wall[1]) % 153 == pytest.approx(153, abs=1e-6)


def test_whole_tiles_stand_at_the_front_edge():
    faces = faces_of({**NICHE, "lap": "return"})
    assert faces["left"].zones[0].origin[0] == pytest.approx(0)
    assert faces["right"].zones[0].origin[0] + 300 == pytest.approx(90)
    assert faces["sill"].zones[0].origin[1] == pytest.approx(0)
    assert faces["head"].zones[0].origin[1] + 150 == pytest.approx(90)


@pytest.mark.parametrize(("kind", "gap"), [("profile", 8 + 2), ("mitre", 2)])
def test_behind_a_trim_at_the_front_stands_the_walls_tile(kind, gap):
    niche = {**NICHE, "edges": {"sill": {"trim": "e"}}}
    faces = faces_of(niche, trim={"e": {"kind": kind, "face": 2.5, "joint": 2}})
    assert faces["sill"].zones[0].region.bounds[1] == pytest.approx(gap)


def test_a_niche_from_corner_to_corner_has_no_jambs():
    niche = {**NICHE, "x": 0, "width": 2000}
    assert list(faces_of(niche)) == ["wall", "back", "sill", "head"]


def test_the_returns_of_a_window_have_no_back_and_meet_the_frame():
    window = {"id": "w", "kind": "window", "x": 500, "y": 400, "width": 610, "height": 305, "depth": 120, "pitch": 12}
    _, faces = laid_out(job_data(wall_data(opening=[window])))
    kinds = {f.face.kind: f for f in faces}
    assert list(kinds) == ["wall", "sill", "head", "left", "right"]
    back = next(e for e in kinds["sill"].edges if e.border.side == "back")
    assert back.gap == (3, 3)
    assert kinds["left"].face.bounds == pytest.approx((0, 0, 120, 305))


def test_a_door_has_no_sill():
    door = {
        "id": "d",
        "kind": "door",
        "x": 500,
        "y": 0,
        "width": 700,
        "height": 1000,
        "depth": 120,
        "edges": {"bottom": BARE},
    }
    _, faces = laid_out(job_data(wall_data(opening=[door])))
    assert [f.face.kind for f in faces] == ["wall", "head", "left", "right"]


def test_a_shelf_divides_back_and_jambs():
    faces = faces_of({**NICHE, "shelf": [{"y": 160, "thickness": 20}]})
    back = faces["back"].zones[0].region
    assert len(back.geoms) == 2
    low, high = sorted((g.bounds for g in back.geoms), key=lambda b: b[1])
    # a soft joint of 3 below the shelf's underside at 140 and above its top at 160, from where the sill meets the back
    assert (low[3], high[1]) == pytest.approx((137, 163))
    for kind in ("left", "right"):
        assert len(faces[kind].zones[0].region.geoms) == 2
    assert len(faces["wall"].zones[0].region.interiors) == 1
