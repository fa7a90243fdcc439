"""The faces of a niche and of a tiled window return, worked by hand."""

from __future__ import annotations

import math

import pytest

from elevation.pieces import make_pieces
from tests.builders import BARE, job_data, laid_out, wall_data

# clear 610 x 305, 90 deep, the sill falling 12 a foot: rise 12 * 90 / 304.8 = 3.5433
NICHE = {"id": "n", "x": 500, "y": 400, "width": 610, "height": 305, "depth": 90, "pitch": 12}
RISE = 12 * 90 / 304.8


def flat(cutout):
    return [v for point in cutout.shape.ring for v in point]


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


def test_pieces_and_joints_of_five_faces_make_the_clear_areas():
    """A level niche on the joints of the wall: tiles of 300 x 150, joint 3, soft joint 3, the wall's tile 8 laps.

    The wall's tiles stand at 303 i, 153 j. The niche's clear opening is 609 x 309 at (300, 456), so that two by two
    whole tiles of the back stand a soft joint from its sides; it is 90 deep, and 8 + 3 = 11 of that is behind the
    wall's tile, so the returns are 79 deep.
    """
    niche = {"id": "n", "x": 300, "y": 456, "width": 609, "height": 309, "depth": 90, "pitch": 0}
    job, laid = laid_out(job_data(wall_data(niche=[niche])))
    tile = {z.face.removeprefix("A.n."): sum(p.area for p in z.pieces) for z in make_pieces(job, laid)}
    # tile + grout joints + soft joints and front = clear area
    clear = {
        # 4 tiles; a joint up and one across, crossing once; soft joints 3 round 603 x 303
        "back": (4 * 300 * 150, 3 * 303 + 3 * 603 - 9, 609 * 309 - 603 * 303, 609 * 309),
        # under the jambs the sill runs from side to side: joints at 0, 303 and 606
        "sill": (2 * 300 * 79, 3 * 3 * 79, 609 * 11, 609 * 90),
        # the head stands between the jambs, a soft joint from each: one joint in the middle
        "head": (2 * 300 * 79, 3 * 79, 2 * 3 * 79 + 609 * 11, 609 * 90),
        # from a soft joint above the sill: tile 150, joint, tile 150, joint under the head
        "left": (2 * 150 * 79, 2 * 3 * 79, 3 * 90 + 306 * 11, 309 * 90),
        "right": (2 * 150 * 79, 2 * 3 * 79, 3 * 90 + 306 * 11, 309 * 90),
    }
    for face in laid[1:]:
        kind = face.face.kind
        of_tile, grout, rest, whole = clear[kind]
        assert of_tile + grout + rest == whole
        assert tile[kind] == pytest.approx(of_tile)
        assert face.zones[0].region.area - tile[kind] == pytest.approx(grout)
        x0, y0, x1, y1 = face.face.bounds
        assert (x1 - x0) * (y1 - y0) == pytest.approx(whole)


def test_the_lowest_cuts_of_the_jambs_are_tapered_with_the_sill():
    job, laid = laid_out(job_data(wall_data(niche=[NICHE])))
    for kind in ("left", "right"):
        lowest = min(
            (p for z in make_pieces(job, laid) if z.face == f"A.n.{kind}" for p in z.pieces),
            key=lambda p: min(q[1] for q in p.outer),
        )
        assert lowest.kind == "tapered"
        feet = {x: min(q[1] for q in lowest.outer if q[0] == x) for x, _ in lowest.outer}
        front, back = (min(feet), max(feet)) if kind == "left" else (max(feet), min(feet))
        # 90 deep less the wall's tile of 8 and a joint of 3 leaves 79 of the run, over which the sill rises
        assert abs(back - front) == pytest.approx(90 - 11)
        assert feet[back] - feet[front] == pytest.approx(RISE * 79 / 90)


def test_regions_of_a_pitched_niche():
    data = job_data(wall_data(niche=[NICHE]))
    _, laid = laid_out(data)
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


CORNER = {"meets": "corner", "joint": 3}
CORNERS = {"left": CORNER, "right": CORNER, "bottom": BARE, "top": BARE}


def test_a_niche_from_corner_to_corner_has_its_jambs_in_the_plane_of_the_side_walls():
    niche = {**NICHE, "x": 0, "width": 2000, "edges": {"sill": {"trim": "e"}, "head": {"trim": "e"}}}
    trims = {"e": {"kind": "profile", "face": 2.5, "joint": 2}}
    faces = {f.face.kind: f for f in laid_out(job_data(wall_data(niche=[niche], edges=CORNERS), trim=trims))[1]}
    assert list(faces) == ["wall", "back", "sill", "head", "left", "right"]
    # no tile of this wall laps them: they start at its finished face, 90 deep; sill and head stop behind its tile
    assert faces["left"].zones[0].region.bounds[::2] == pytest.approx((0, 90))
    assert faces["right"].zones[0].region.bounds[::2] == pytest.approx((0, 90))
    assert faces["sill"].zones[0].region.bounds[1] == pytest.approx(8 + 2)


def test_where_the_other_wall_laps_a_niche_ends_at_its_face():
    # B is tiled first: its bed of 3 and tile of 8 stand in front of A's right end, so the niche is 2000 - 11 wide
    niche = {**NICHE, "x": 0, "width": 2000}
    walls = [wall_data(niche=[niche], edges=CORNERS), wall_data(id="B", edges=CORNERS), wall_data(id="C")]
    _, laid = laid_out(job_data(*walls, room={"first": ["B"], "bed": 3}))
    back = next(f for f in laid if f.face.id == "A.n.back")
    assert back.face.bounds[2] == pytest.approx(1989)
    assert back.zones[0].region.bounds[::2] == pytest.approx((3, 1986))


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


@pytest.mark.parametrize(("pitch", "rise"), [(None, RISE), (0, 0.0), (24, 2 * RISE)])
def test_a_shelf_takes_its_own_pitch_or_the_niches(pitch, rise):
    shelf = {"y": 160, "thickness": 20} | ({} if pitch is None else {"pitch": pitch})
    faces = faces_of({**NICHE, "shelf": [shelf]})
    (left,), (right,), (back,) = (faces[k].face.cutouts for k in ("left", "right", "back"))
    # y is the top at the front edge, above the front edge of the sill
    assert flat(left) == pytest.approx((0, 140, 90, 140 + rise, 90, 160 + rise, 0, 160))
    # these two faces are measured from the back of the sill, which stands higher by its rise
    top = 160 + rise - RISE
    assert flat(right) == pytest.approx((0, top - 20, 90, 140 - RISE, 90, 160 - RISE, 0, top))
    assert flat(back) == pytest.approx((0, top - 20, 610, top - 20, 610, top, 0, top))


def test_a_lapping_return_needs_no_sealant():
    niche = {**NICHE, "lap": "return", "edges": {"head": {"trim": "e"}}}
    wall = faces_of(niche, trim={"e": {"kind": "mitre", "joint": 2}})["wall"]
    sides = {e.border.side: e for e in wall.edges if e.border.of == "n"}
    # the tile of the return, 8, and a grout joint of 3 stand between its face and the wall's tile
    assert (sides["sill"].border.kind, sides["sill"].offset, sides["sill"].gap) == ("bare", 11, (3, 3))
    assert (sides["head"].border.kind, sides["head"].offset) == ("trim", 2)


def test_what_a_return_meets_is_said_of_its_back():
    window = {
        "id": "w", "kind": "window", "x": 500, "y": 400, "width": 610, "height": 305, "depth": 120,
        "edges": {"bottom": {"meets": "frame", "joint": 5}, "top": {"meets": "casing", "trim": "e"}},
    }  # fmt: skip
    data = job_data(wall_data(opening=[window]), trim={"e": {"kind": "profile", "face": 2.5, "joint": 2}})
    kinds = {f.face.kind: f for f in laid_out(data)[1]}
    backs = {k: next(e for e in kinds[k].edges if e.border.side == "back") for k in ("sill", "head", "left")}
    assert [(b.border.kind, b.border.meets, b.gap) for b in backs.values()] == [
        ("soft", "frame", (5, 5)), ("soft", "casing", (3, 3)), ("soft", "frame", (3, 3)),
    ]  # fmt: skip
    # the wall's own tile ends at the clear opening, bare, or at the trim
    sides = {e.border.side: (e.border.kind, e.offset) for e in kinds["wall"].edges if e.border.of == "w"}
    assert sides == {"bottom": ("bare", 0), "right": ("bare", 0), "top": ("trim", 4.5), "left": ("bare", 0)}


def test_a_window_out_of_square_has_returns_of_their_true_lengths():
    # given from its upper right corner on; the sill is 10 out of level, the head level, the left jamb 4 out of plumb
    corners = [[1100, 800], [504, 800], [500, 400], [1100, 410]]
    window = {"id": "w", "kind": "window", "outline": corners, "depth": 120, "pitch": 0, "edges": {"3": {"trim": "e"}}}
    data = job_data(wall_data(opening=[window]), trim={"e": {"kind": "profile", "face": 2.5, "joint": 2}})
    kinds = {f.face.kind: f for f in laid_out(data)[1]}
    assert kinds["sill"].face.bounds[2] == pytest.approx(math.hypot(600, 10))
    assert kinds["head"].face.bounds[2] == pytest.approx(596)
    assert kinds["left"].face.bounds[3] == pytest.approx(math.hypot(4, 400))
    assert kinds["right"].face.bounds[3] == pytest.approx(390)
    # side 3 runs from the lower left corner to the lower right: the sill, behind whose trim stands the wall's tile
    assert kinds["sill"].zones[0].region.bounds[1] == pytest.approx(8 + 2)
    assert kinds["left"].zones[0].region.bounds[0] == pytest.approx(8 + 3)
    # course lines are carried into the jambs from where each stands
    assert (kinds["left"].face.at[1], kinds["right"].face.at[1]) == (400, 410)


BOND = {"tile": "t", "pattern": "running-bond", "shift": "1/3", "start": {"x": "left", "y": "bottom"}}


@pytest.mark.parametrize(("y", "below"), [(456, 2), (500, 3)])
def test_in_a_bond_a_sill_is_the_course_after_the_one_below(y, below):
    # course k stands at 153 k and is shifted by 303 / 3 = 101 k; course 2 ends at 456, course 3 is cut at 500
    niche = {**NICHE, "y": y, "pitch": 0}
    faces = {f.face.kind: f for f in laid_out(job_data(wall_data(niche=[niche], layout=BOND)))[1]}
    x = faces["sill"].zones[0].origin[0] + faces["sill"].face.at[0]
    assert (x - 101 * (below + 1)) % 303 == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(("head", "above"), [(765, 5), (700, 4)])
def test_in_a_bond_a_head_is_the_course_before_the_one_above(head, above):
    # course 5 starts at 765; course 4, from 612 to 762, is cut at 700
    niche = {**NICHE, "height": head - NICHE["y"]}
    faces = {f.face.kind: f for f in laid_out(job_data(wall_data(niche=[niche], layout=BOND)))[1]}
    x = faces["head"].zones[0].origin[0] + faces["head"].face.at[0]
    assert (x - 101 * (above - 1)) % 303 == pytest.approx(0, abs=1e-6)


def test_in_a_bond_every_course_of_a_jamb_starts_at_the_front():
    job, laid = laid_out(job_data(wall_data(niche=[NICHE], layout=BOND)))
    for zone in make_pieces(job, laid):
        if zone.face not in ("A.n.left", "A.n.right"):
            continue
        assert len({p.course for p in zone.pieces}) == len(zone.pieces) == 3
        # the courses of the wall: its joints at 456 to 459 and 609 to 612 cross the jamb, which starts at 400
        frame = next(f for f in laid if f.face.id == zone.face).face.at[1]
        assert [round(min(y for _, y in p.slot) + frame) for p in zone.pieces] == [306, 459, 612]
