"""Runs of trim: lengths and end cuts, each worked by hand."""

import math

import pytest
import shapely
from hypothesis import HealthCheck, given, settings

from elevation.cutting.trims import cut_trims
from elevation.errors import JobError
from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.wall import build_faces
from tests.strategies import job_data, job_of, jobs, tile, wall

INCH = 25.4
OPEN = {"meets": "wall"}


def trimmed(*sides):
    return {side: {"trim": "end"} for side in sides}


def trims_of(data):
    job = job_of(data)
    laid = lay_out(job, build_faces(job))
    return cut_trims(job, laid, make_pieces(job, laid))


def runs_of(data):
    return {r.id: r for t in trims_of(data) for r in t.runs}


def profile(**more):
    return {"end": {"kind": "profile", "face": "3/32", "joint": "1/16", "height": "3/8", "stock": "98 1/2", **more}}


def niche_job(**trim):
    """A niche 24 1/4 x 12 in a wall that runs 60 by 80."""
    sides = trimmed("sill", "head", "left", "right")
    niche = {"id": "n1", "x": 20, "y": 40, "width": "24 1/4", "height": 12, "depth": 3, "edges": sides}
    inches = {"length": 12, "width": 3, "thickness": "5/16", "variation": "1/32"}
    return job_data(
        wall(width=60, height=80, niche=[niche]), units="in", joint="1/16", sliver=1, tile={"field": tile(**inches)},
        trim=profile(**trim),
    )  # fmt: skip


def inches(runs):
    return {name.split()[-1]: r.length / INCH for name, r in runs.items()}


def cuts(run):
    return [(e.kind, round(e.angle, 3), e.long, e.through) for e in run.ends]


def test_a_mitred_frame_round_a_niche_is_longer_by_its_face_at_either_end():
    runs = runs_of(niche_job(corner="mitre"))
    # 24 1/4 + 2 * 3/32 = 24 7/16, and 12 + 2 * 3/32 = 12 3/16: the long points stand at the tile, outside
    assert inches(runs) == pytest.approx({"sill": 24.4375, "head": 24.4375, "left": 12.1875, "right": 12.1875})
    for run in runs.values():
        assert cuts(run) == [("mitre", 45.0, "outer", False)] * 2


def test_in_a_butted_frame_sill_and_head_go_through_and_the_jambs_stand_between():
    runs = runs_of(niche_job(corner="butt"))
    assert inches(runs) == pytest.approx({"sill": 24.4375, "head": 24.4375, "left": 12.0, "right": 12.0})
    assert cuts(runs["A n1 sill"]) == [("butt", 90.0, "", True)] * 2
    assert cuts(runs["A n1 head"]) == [("butt", 90.0, "", True)] * 2
    assert cuts(runs["A n1 left"]) == [("butt", 90.0, "", False)] * 2


def test_with_corner_pieces_every_run_is_as_long_as_the_clear_opening():
    (plan,) = trims_of(niche_job(corner="piece"))
    # 24 7/16 - 2 * 3/32 = 24 1/4
    found = {r.side: r.length / INCH for r in plan.runs}
    assert found == pytest.approx({"sill": 24.25, "head": 24.25, "left": 12.0, "right": 12.0})
    assert [c.turn for c in plan.corner_pieces] == ["inside"] * 4
    for corner in plan.corner_pieces:
        x0, y0, x1, y1 = shapely.Polygon(corner.ring).bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((3 / 32 * INCH,) * 2)


def test_the_frame_covers_a_ring_as_wide_as_its_face_outside_the_clear_opening():
    opening = shapely.box(20, 40, 44.25, 52)
    frame = shapely.box(20 - 3 / 32, 40 - 3 / 32, 44.25 + 3 / 32, 52 + 3 / 32).difference(opening)
    for corner in ("mitre", "butt"):
        strips = [shapely.Polygon(r.ring) for r in runs_of(niche_job(corner=corner)).values()]
        made = shapely.transform(shapely.union_all(strips), lambda p: p / INCH)
        assert made.symmetric_difference(frame).area == pytest.approx(0, abs=1e-6)
        assert sum(s.area for s in strips) == pytest.approx(frame.area * INCH**2)


def end_wall(corner):
    """A wall 1500 by 2000, trim 20 wide up its left side and along its top, joint 2; soft joint of 3 below."""
    edges = {"left": {"trim": "end"}, "top": {"trim": "end"}, "right": OPEN, "bottom": {"meets": "tub", "joint": 3}}
    trim = {"kind": "bullnose", "face": 20, "joint": 2, "corner": corner}
    return job_data(wall(edges=edges), trim={"end": trim})


@pytest.mark.parametrize(
    ("corner", "left", "top"),
    [
        # up from the tile's lower end, 3 above the tub, to the border: 2000 - 3; along the top: 1500
        ("mitre", 1997.0, 1500.0),
        # the top goes through; the upright stops under it: 1997 - 20
        ("butt", 1977.0, 1500.0),
        # both lose the face of the corner piece
        ("piece", 1977.0, 1480.0),
    ],
)
def test_trim_up_an_end_and_along_the_top(corner, left, top):
    (plan,) = trims_of(end_wall(corner))
    runs = {r.side: r for r in plan.runs}
    assert (runs["left"].length, runs["top"].length) == pytest.approx((left, top))
    assert runs["left"].ends[0].kind == "square"
    assert runs["left"].ends[1].kind == runs["top"].ends[0].kind == corner
    assert runs["top"].ends[0].through == (corner == "butt")
    assert [c.turn for c in plan.corners] == ["outside"]
    if corner == "mitre":
        assert cuts(runs["left"])[1] == ("mitre", 45.0, "outer", False)
        assert runs["left"].outer_line[0] == pytest.approx((0.0, 3.0))
        assert runs["left"].outer_line[1] == pytest.approx((0.0, 2000.0))


def test_a_leg_beside_the_tub_is_one_run_down_to_the_floor():
    tub = {"id": "tub", "kind": "tub", "x": 115, "y": 0, "width": 760, "height": 375, "joint": 3}
    edges = {
        "left": {"trim": "end"},
        "right": {"meets": "corner", "joint": 3},
        "bottom": {"meets": "floor", "joint": 3},
    }
    edges["top"] = {"meets": "ceiling", "joint": 4}
    trim = {"kind": "profile", "face": 2.5, "joint": 2, "height": 11, "stock": 2500}
    runs = runs_of(job_data(wall(width=875, height=2438, edges=edges, fixture=[tub]), trim={"end": trim}))
    # from 3 above the floor to 4 below the ceiling
    assert [(r.id, r.length) for r in runs.values()] == [("A left", pytest.approx(2438 - 3 - 4))]
    assert [e.kind for e in runs["A left"].ends] == ["square", "square"]


def test_an_end_under_a_slope_is_cut_to_it():
    # a gable that rises 300 over 400: its slope stands atan(4/3) = 53.13 degrees off the upright side
    edges = {"4": {"trim": "end"}, "1": OPEN, "2": OPEN, "3": OPEN}
    shape = {"outline": [[0, 0], [400, 0], [400, 1300], [0, 1000]], "width": None, "height": None}
    trim = {"kind": "bullnose", "face": 30, "joint": 2, "stock": 150}
    table = {k: v for k, v in wall(edges=edges, **shape).items() if v is not None}
    (run,) = runs_of(job_data(table, trim={"end": trim})).values()
    # the border side ends at 1000; the tile's side, 30 further in, 30 * 3/4 = 22.5 higher: it is the inner edge
    assert run.length == pytest.approx(1022.5)
    assert cuts(run) == [("square", 90.0, "", False), ("angle", pytest.approx(53.130, abs=1e-3), "inner", False)]


def test_a_mitre_halves_a_corner_that_is_not_square():
    # corners of 45 degrees at the lower left and of 135 at the upper left
    outline = [[0, 0], [3000, 0], [3000, 1000], [1000, 1000]]
    edges = {"1": {"trim": "end"}, "4": {"trim": "end"}, "3": {"trim": "end"}, "2": OPEN}
    trim = {"kind": "profile", "face": 10, "joint": 2, "height": 11, "stock": 2500, "corner": "piece"}
    table = wall(outline=outline, edges=edges)
    del table["width"], table["height"]
    (plan,) = trims_of(job_data(table, trim={"end": trim}))
    runs = {r.side: r for r in plan.runs}
    assert runs["1"].length == pytest.approx(3000)
    assert runs["4"].length == pytest.approx(1000 * math.sqrt(2))
    assert runs["3"].length == pytest.approx(2000)
    assert [round(e.angle, 2) for e in runs["4"].ends] == [22.5, 67.5]
    assert {e.long for e in runs["4"].ends} == {"outer"}
    assert all("made for a square corner" in c.said for c in plan.corners)
    assert plan.corner_pieces == ()


def test_a_curved_side_is_as_long_as_its_outer_edge():
    # a quarter of a circle of radius 1000 bulges outward at the top right
    outline = [[0, 0], [2000, 0], [2000, 1000], {"arc": 1000}, [1000, 2000], [0, 2000]]
    edges = {"3": {"trim": "end"}, **dict.fromkeys(("1", "2", "4", "5"), OPEN)}
    trim = {"kind": "profile", "face": 12, "joint": 2, "height": 11, "stock": 2500}
    table = wall(outline=outline, edges=edges)
    del table["width"], table["height"]
    (run,) = runs_of(job_data(table, trim={"end": trim})).values()
    assert run.is_bent
    # the tile of the bare sides stands out past the trim's at both ends: a joint of 2 is kept to it
    assert run.length == pytest.approx(math.pi / 2 * 1000 - 2 * 2, abs=0.1)
    # half way along the tile's edge is half way along the run
    middle = (1000 + 986 * math.cos(math.pi / 4), 1000 + 986 * math.sin(math.pi / 4))
    assert run.station(middle) == pytest.approx(run.length / 2, abs=0.1)
    near, far = run.across(run.length / 2)
    assert [math.dist((1000, 1000), p) for p in (near, far)] == pytest.approx([988, 1000], abs=0.05)


def test_a_run_that_meets_tile_stops_its_own_joint_short_of_it():
    niche = {
        "id": "n1",
        "x": 500,
        "y": 800,
        "width": 400,
        "height": 300,
        "depth": 90,
        "edges": {"sill": {"trim": "end"}},
    }
    trim = {"kind": "bullnose", "face": 20, "joint": 3, "stock": 150}
    (run,) = runs_of(job_data(wall(niche=[niche]), trim={"end": trim})).values()
    # the wall's tile ends flush with the jambs, 400 apart
    assert run.length == pytest.approx(400 - 2 * 3)


def test_trim_of_a_niche_from_corner_to_corner_ends_with_the_tile():
    niche = {"id": "n1", "x": 0, "y": 800, "width": 1500, "height": 300, "depth": 90}
    niche["edges"] = {"sill": {"trim": "end"}, "head": {"trim": "end"}}
    soft = {"meets": "corner", "joint": 3}
    trim = {"kind": "profile", "face": 2.5, "joint": 2, "height": 11, "stock": 2500}
    runs = runs_of(job_data(wall(niche=[niche], edges={"left": soft, "right": soft}), trim={"end": trim}))
    assert [r.length for r in runs.values()] == pytest.approx([1494.0, 1494.0])


def test_two_trims_that_meet_are_butted_unless_both_are_mitred_alike():
    edges = {"left": {"trim": "end"}, "top": {"trim": "cap"}, "right": OPEN, "bottom": OPEN}
    end = {"kind": "profile", "face": 4, "joint": 2, "height": 11, "stock": 2500}
    cap = {"kind": "bullnose", "face": 50, "joint": 2, "stock": 150}
    runs = runs_of(job_data(wall(edges=edges), trim={"end": end, "cap": cap}))
    assert (runs["A left"].length, runs["A top"].length) == pytest.approx((1950.0, 1500.0))
    assert [runs["A left"].ends[1].kind, runs["A top"].ends[0].kind] == ["butt", "butt"]
    wide = {**end, "face": 8}
    runs = runs_of(job_data(wall(edges=edges), trim={"end": end, "cap": wide}))
    # 4 wide meets 8 wide: the cut runs from corner to corner, atan(4/8) off the upright one
    assert cuts(runs["A left"])[1] == ("mitre", pytest.approx(26.565, abs=1e-3), "outer", False)
    assert cuts(runs["A top"])[0] == ("mitre", pytest.approx(63.435, abs=1e-3), "outer", False)


def test_the_trim_of_a_zone_lies_inside_its_outline_and_is_not_broken_by_others():
    zone = {"id": "band", "x": 0, "y": 900, "width": 1500, "height": 150}
    zone["edges"] = {"bottom": {"trim": "line"}, "top": {"trim": "line"}}
    zone["layout"] = {"tile": "field", "pattern": "stacked", "start": {"x": "joint", "y": "bottom"}}
    edges = {"left": {"trim": "end"}, "right": {"trim": "end"}, "top": OPEN, "bottom": OPEN}
    end = {"kind": "profile", "face": 3, "joint": 2, "height": 11, "stock": 2500}
    line = {"kind": "liner", "face": 15, "joint": 2, "stock": 200}
    runs = runs_of(job_data(wall(edges=edges, zone=[zone]), trim={"end": end, "line": line}))
    # the profiles go past the band in one length
    assert [runs[n].length for n in ("A left", "A right")] == pytest.approx([2000.0, 2000.0])
    # the liners end with the tile, 5 from either side of the wall
    bottom = runs["A band bottom"]
    assert bottom.length == pytest.approx(1490.0)
    assert [y for _, y in bottom.outer_line] == pytest.approx([900, 900])
    assert [y for _, y in bottom.near] == pytest.approx([915, 915])


def test_mitred_tiles_are_as_long_as_their_own_edge():
    sides = trimmed("sill", "head", "left", "right")
    niche = {"id": "n1", "x": 500, "y": 800, "width": 400, "height": 300, "depth": 90, "edges": sides}
    plan = trims_of(job_data(wall(niche=[niche]), trim={"end": {"kind": "mitre", "joint": 2, "stock": 2500}}))[0]
    # the tile ends a joint outside the opening
    assert {r.side: r.length for r in plan.runs} == pytest.approx(
        {"sill": 404.0, "head": 404.0, "left": 304.0, "right": 304.0}
    )
    assert {e.kind for r in plan.runs for e in r.ends} == {"mitre"}
    assert plan.sticks is None


def test_tags_count_the_runs_of_each_wall_over_all_trims():
    two = trimmed("left", "right")
    other = wall(id="B", edges={"left": {"trim": "cap"}, "top": {"trim": "end"}})
    trim = {"kind": "profile", "face": 3, "joint": 2, "height": 11, "stock": 2500}
    runs = runs_of(job_data(wall(edges=two), other, trim={"end": trim, "cap": trim}))
    assert {r.id: r.tag for r in runs.values()} == {
        "A right": "A-T1", "A left": "A-T2", "B top": "B-T1", "B left": "B-T2",
    }  # fmt: skip


def test_joints_of_the_tile_are_found_where_they_meet_the_run():
    edges = {"left": {"trim": "end"}, "bottom": OPEN, "top": OPEN, "right": OPEN}
    trim = {"kind": "profile", "face": 3, "joint": 2, "height": 11, "stock": 2500}
    (run,) = runs_of(job_data(wall(edges=edges, height=508), trim={"end": trim})).values()
    # courses of 100 and joints of 2 from the bottom: joints in the middle of 100..102, 202..204, ...
    assert run.tile_joints == pytest.approx([101.0, 203.0, 305.0, 407.0])
    assert len(run.tiles) == 5


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs())
def test_trim_of_any_job_lies_beside_the_tile_and_its_strips_do_not_cross(job):
    for corner in ("mitre", "butt", "piece"):
        trims = {n: t.model_copy(update={"corner": corner, "face": 12.0}) for n, t in job.trim.items()}
        changed = job.model_copy(update={"trim": trims})
        try:
            laid = lay_out(changed, build_faces(changed))
        except JobError:
            return
        tiled = {f.face.id: shapely.union_all([z.region for z in f.zones]) for f in laid}
        for plan in cut_trims(changed, laid, ()):
            corners = {frozenset(c.runs) for c in plan.corners}
            strips = {r.id: (r, shapely.Polygon(r.ring)) for r in plan.runs}
            for run, strip in strips.values():
                assert strip.is_valid
                assert shapely.intersection(strip, tiled[run.face]).area < 0.5
            for pair in corners:
                one, two = (strips[r] for r in sorted(pair))
                assert shapely.intersection(one[1], two[1]).area < 0.5


def test_a_butted_pair_can_be_read_from_either_run():
    (plan,) = trims_of(end_wall("butt"))
    by_id = {r.id: r for r in plan.runs}
    for run in plan.runs:
        for end in run.ends:
            if end.beside:
                back = next(e for e in by_id[end.beside].ends if e.beside == run.id)
                assert back.through != end.through
