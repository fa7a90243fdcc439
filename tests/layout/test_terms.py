"""Terms, each on records made by hand; records by arithmetic against records measured on clipped polygons."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevation.job.models import Job
from elevation.layout.edge_cuts import edge_cuts
from elevation.layout.edges import settled
from elevation.layout.groups import lattice_of, room_groups
from elevation.layout.spans import ZoneOutline, zone_outlines
from elevation.layout.terms import EdgeCut, Rules, Terms, terms_of
from elevation.pieces.edge_cuts import measured_edge_cuts
from elevation.wall import Face, build_faces
from tests.builders import job_data, job_of, wall_data
from tests.layout.random_rooms import crooked_room, random_room


def outline_of(job: Job, face: Face, origin) -> ZoneOutline:
    edges = settled(face, lattice_of(job, face.zones[0]), origin)
    return zone_outlines(face, edges, [z.joint[0] for z in face.zones])[0]


def both(job: Job, face: Face, origin):
    outline = outline_of(job, face, origin)
    lattice = lattice_of(job, face.zones[0])
    return edge_cuts(outline, lattice, origin), measured_edge_cuts(outline, lattice, origin)


def assert_same(reckoned, measured):
    for a, b in zip(reckoned, measured, strict=True):
        assert (a.edge, a.direction, a.courses) == (b.edge, b.direction, b.courses)
        assert a.size == (None if b.size is None else pytest.approx(b.size, abs=1e-4))
        assert a.across == pytest.approx(b.across)


@pytest.mark.parametrize("seed", range(16))
def test_arithmetic_and_polygons_agree_on_fixed_rooms(seed):
    job, rng = job_of(random_room(seed)), Random(seed)
    for face in build_faces(job):
        if not face.of:
            for _ in range(4):
                origin = (rng.randint(0, 999) * 25.4 / 32, rng.randint(0, 999) * 25.4 / 32)
                assert_same(*both(job, face, origin))


@settings(max_examples=15)
@given(seed=st.integers(1000, 10_000), u=st.integers(0, 4000), v=st.integers(0, 4000))
def test_arithmetic_and_polygons_agree(seed, u, v):
    job = job_of(random_room(seed, most_walls=1))
    face = build_faces(job)[0]
    assert_same(*both(job, face, (u * 0.31, v * 0.31)))


@pytest.mark.parametrize("seed", range(20))
def test_arithmetic_and_polygons_agree_on_walls_as_found(seed):
    job, rng = job_of(crooked_room(seed, most_walls=2)), Random(seed)
    for face in build_faces(job):
        if not face.of:
            for _ in range(2):
                origin = (rng.randint(0, 999) * 25.4 / 32, rng.randint(0, 999) * 25.4 / 32)
                assert_same(*both(job, face, origin))
            assert not outline_of(job, face, origin).curved


def crooked_wall(joint):
    """Return a wall 1000 by 600 whose floor falls by 4 to the right and whose right side leans in by 6."""
    survey = {"down": [[0, 300], [1000, 304]], "up": [[0, 300], [1000, 300]], "left": [[-300, 0], [300, 0]],
              "right": [[-300, 1000], [300, 994]]}  # fmt: skip
    edges = {s: {"meets": "corner", "joint": joint} for s in ("left", "right", "bottom", "top")}
    wall = wall_data(survey=survey, edges=edges)
    wall["layout"]["start"] = "choose"
    return job_data(wall)


def test_the_wedge_in_a_corner_out_of_square_is_not_judged():
    job = job_of(crooked_wall(3))
    spans = outline_of(job, build_faces(job)[0], (0, 0)).spans
    # right of the ceiling's end a wedge of 6 looks at the leaning side, not at the floor
    assert sorted((s.edge, s.far_border) for s in spans) == [("bottom", 2), ("left", 1), ("right", 3), ("top", 0)]
    assert all(r.across > 580 for r in records(crooked_wall(3), (0, 0)).values())


def test_an_edge_out_of_level_is_measured_in_its_tiles_not_in_the_joints():
    # the edge falls from 3 to -1, past the top of course 0, which is at 0, at x = 750; a tile there tapers to nothing
    found = records(crooked_wall(3), (0, -150))["bottom", 3]
    assert found.size == 0.0
    assert found.courses == 1
    # a joint over that place leaves 0.004 times half its width
    found = records(crooked_wall(3), (750 + 1.5, -150))["bottom", 3]
    assert found.size == pytest.approx(0.004 * 1.5, abs=1e-4)


def test_a_curve_overhead_is_not_across_where_it_is_steep():
    outline = [["0", "0"], ["1000", "0"], ["1000", "100"], {"arc": "-500"}, ["500", "600"], ["0", "600"]]
    wall = wall_data(outline=outline)
    wall["edges"] = {}
    job = job_of(job_data(wall))
    found = [far for s in outline_of(job, build_faces(job)[0], (0, 0)).spans for far in s.far]
    assert len(found) > 10
    assert all(abs(far.at_end - far.at_start) <= far.end - far.start + 1e-6 for far in found)


def records(data, origin, wall="A"):
    job = job_of(data)
    face = next(f for f in build_faces(job) if f.id == wall)
    return {(r.edge, round(s.low)): r for r, s in zip(
        both(job, face, origin)[0], outline_of(job, face, origin).spans, strict=True
    )}  # fmt: skip


def test_the_cut_of_an_edge():
    # tile 300 by 150, joint 3; slot 0 at (100, 40): the next to the left ends at 97, the one below at 37
    found = records(job_data(wall_data(width=1000, height=600)), (100, 40))
    assert found["left", 0].size == pytest.approx(97)
    assert found["left", 0].courses == 5
    # right: slots begin at 100 + 303 k; 1000 lies 294 - hence cut at 294 - 3 * 0 of the slot at 706
    assert found["right", 0].size == pytest.approx(1000 - 706)
    assert found["bottom", 0].size == pytest.approx(37)
    assert found["top", 0].size == pytest.approx(600 - (40 + 3 * 153))
    assert found["bottom", 0].courses == 1


def test_an_edge_in_a_joint_or_on_a_tile_cuts_nothing():
    for u in (0, 1.5, 3):
        assert records(job_data(wall_data(width=1000, height=600)), (u, 0))["left", 0].size is None


def test_edges_are_split_where_the_opposite_edge_changes():
    window = {"id": "w", "kind": "window", "x": 400, "y": 200, "width": 200, "height": 200,
              "edges": {s: {"joint": 0} for s in ("left", "right", "bottom", "top")}}  # fmt: skip
    job = job_of(job_data(wall_data(width=1000, height=600, opening=[window])))
    spans = outline_of(job, build_faces(job)[0], (0, 0)).spans
    assert sorted((s.edge, s.low, s.high) for s in spans if s.side == "bottom") == [
        ("bottom", 0, 400), ("bottom", 400, 600), ("bottom", 600, 1000), ("w top", 400, 600),
    ]  # fmt: skip
    strip = next(s for s in spans if s.edge == "bottom" and s.low == 400)
    assert strip.far_place == 200


def test_spans_no_longer_than_a_joint_and_holes_do_not_count():
    hole = {"id": "v", "x": 500, "y": 300, "diameter": 80}
    outline = [[0, 0], [1000, 0], [1000, 600], [997.5, 600], [997.5, 602], [0, 602]]
    job = job_of(job_data(wall_data(outline=outline, hole=[hole])))
    spans = outline_of(job, build_faces(job)[0], (0, 0)).spans
    assert {s.edge for s in spans} == {"1", "2", "5", "6"}


def test_a_piece_from_edge_to_edge_is_as_wide_as_the_strip():
    window = {"id": "w", "kind": "window", "x": 120, "y": 200, "width": 200, "height": 200,
              "edges": {s: {"joint": 0} for s in ("left", "right", "bottom", "top")}}  # fmt: skip
    found = records(job_data(wall_data(width=1000, height=600, opening=[window])), (-20, 0))
    assert found["left", 200].size == pytest.approx(120)
    assert found["w left", 200].size == pytest.approx(120)
    assert found["left", 0].size == pytest.approx(280)


def test_sizes_are_as_shown():
    corner = {"meets": "corner", "joint": 2}
    edges = {"left": corner, "right": corner, "bottom": {"joint": 0}, "top": {"joint": 0}}
    walls = [wall_data(id=i, width=w, edges=edges, datum=0) for i, w in (("A", 800), ("B", 1000), ("C", 800))]
    data = job_data(*walls, room={"first": ["B"], "bed": 4})
    # tile 8 and bed 4 of walls A and C hide what lies beyond 12: the joint of 2 and 10 of the tile
    found = records(data, (100, 0), "B")
    assert found["left", 0].size == pytest.approx(97 - 12)


RULES = Rules(
    width=300, height=150, sliver=25, step=1, asked=frozenset({"left"}), left=frozenset({"left"}),
    right=frozenset({"right"}), alike=True, features=frozenset({"n1 sill"}),
)  # fmt: skip


def cut(edge, direction, size, across=2000.0):
    return EdgeCut(edge, direction, size, 1, across)


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ([cut("top", "top", 24.9)], {"slivers": 1, "under_half": 1, "narrowest": 24 / 150}),
        ([cut("top", "top", 25)], {"under_half": 1, "narrowest": 25 / 150}),
        ([cut("top", "top", 75)], {"narrowest": 0.5}),
        ([cut("top", "top", 149)], {"narrowest": 0.5}),
        ([cut("top", "top", None)], {"narrowest": 0.5}),
        # a piece from edge to edge: no start makes it larger
        ([cut("top", "top", 30, 30.0)], {"under_half": 1, "narrowest": 0.5}),
        ([cut("left", "left", 200), cut("right", "right", 180)], {"asked": 1, "balance": 20}),
        ([cut("left", "left", None), cut("right", "right", 180)], {"balance": 120}),
        ([cut("left", "left", 200), cut("left", "left", 90, 90.0), cut("right", "right", 200)],
         {"asked": 2, "under_half": 1, "balance": 0}),
        ([cut("n1 sill", "top", 140)], {"aligned": 1}),
        ([cut("n1 sill", "top", None)], {"aligned": 0}),
    ],
)  # fmt: skip
def test_terms_of_records(found, expected):
    terms = terms_of(found, RULES)
    zero = {"slivers": 0, "asked": 0, "under_half": 0, "balance": 0.0, "aligned": 0, "narrowest": 0.5}
    assert {k: getattr(terms, k) for k in zero} == pytest.approx({**zero, **expected})


def test_what_no_start_can_change_is_left_out_of_narrowest():
    found = [cut("left", "left", 30), cut("top", "top", 60)]
    assert terms_of(found, RULES).narrowest == pytest.approx(0.1)
    assert terms_of(found, replace(RULES, fixed_x=True)).narrowest == pytest.approx(0.4)
    assert terms_of(found, replace(RULES, fixed_x=True, fixed_y=True)).narrowest == 0.5


def test_prefer_reorders_and_drops():
    a, b = Terms(slivers=1, balance=0.0), Terms(slivers=0, balance=9.0)
    assert b.key(["slivers", "balance"]) < a.key(["slivers", "balance"])
    assert a.key(["balance", "slivers"]) < b.key(["balance", "slivers"])
    assert a.key(["asked"]) == b.key(["asked"])
    assert Terms(narrowest=0.5).key(["narrowest"]) < Terms(narrowest=0.4).key(["narrowest"])


def test_whole_tiles_are_asked_for_at_the_trimmed_end_across_from_a_corner():
    trims = {"e": {"kind": "profile", "face": 2.5, "joint": 2}}
    corner = {"meets": "corner", "joint": 3}

    def asked(left, right):
        edges = {"left": left, "right": right, "bottom": {"joint": 0}, "top": {"joint": 0}}
        wall = wall_data(width=1000, height=600, edges=edges)
        wall["layout"]["start"] = "choose"
        job = job_of(job_data(wall, trim=trims))
        return room_groups(job, build_faces(job))[0].plots[0].rules

    assert asked({"trim": "e"}, corner).asked == {"left"}
    assert not asked({"trim": "e"}, corner).alike
    assert asked({"trim": "e", "full": False}, corner).asked == set()
    assert asked({"trim": "e"}, {"trim": "e"}).asked == set()
    assert asked({"trim": "e"}, {"trim": "e"}).alike
    assert asked(corner, {**corner, "full": True}).asked == {"right"}
    assert asked(corner, corner).alike
