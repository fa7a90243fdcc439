"""Bullnose and liner in pieces: sizes, numbers and whole pieces, each worked by hand."""

import random
from itertools import combinations

import pytest
import shapely

from elevation.cutting.trims import cut_trims
from elevation.layout import lay_out
from elevation.pieces import make_pieces
from elevation.wall import build_faces
from tests.strategies import job_data, job_of, tile, wall

INCH = 25.4
OPEN = {"meets": "wall"}
BARE = dict.fromkeys(("left", "right", "bottom", "top"), OPEN)


def plan_of(data):
    job = job_of(data)
    laid = lay_out(job, build_faces(job))
    return cut_trims(job, laid, make_pieces(job, laid))


def along_top(width, *, kind="bullnose", stock=150, joint=2, face=40, **more):
    edges = {**BARE, "top": {"trim": "cap"}}
    trim = {"kind": kind, "face": face, "joint": joint, "stock": stock}
    return job_data(wall(width=width, edges=edges), trim={"cap": trim}, **more)


def test_a_run_of_60_1_4_in_pieces_of_6_has_equal_cuts_at_both_ends():
    edges = {**BARE, "top": {"trim": "cap"}}
    trim = {"cap": {"kind": "bullnose", "face": 2, "joint": "1/16", "stock": 6}}
    sizes = {"length": 12, "width": 3, "thickness": "5/16", "variation": "1/32"}
    data = job_data(
        wall(width="60 1/4", height=80, edges=edges), units="in", joint="1/16", sliver=1, tile={"field": tile(**sizes)},
        trim=trim,
    )  # fmt: skip
    (plan,) = plan_of(data)
    # 10 pieces and 9 joints: (60 1/4 - 8 * 6 - 9/16) / 2 = 11 11/16 / 2 = 5 27/32
    assert [p.length / INCH for p in plan.pieces] == pytest.approx([5.84375, *[6.0] * 8, 5.84375])
    assert [p.number for p in plan.pieces] == ["A-T1-1", *[None] * 8, "A-T1-10"]
    assert [p.cut_ends for p in plan.pieces if not p.is_whole] == [(True, False), (False, True)]
    # two of 5 27/32 never come out of one piece of 6
    assert (plan.sticks.sticks, plan.sticks.proved) == (10, True)
    joints = [b.start - a.start - a.length for a, b in zip(plan.pieces, plan.pieces[1:], strict=False)]
    assert joints == pytest.approx([INCH / 16] * 9)


@pytest.mark.parametrize(
    ("width", "sizes"),
    [
        (150, [150]),
        (100, [100]),
        (302, [150, 150]),  # 2 * 150 + 2
        (303, [74.5, 150, 74.5]),  # a hair more: (303 - 150 - 2 * 2) / 2
        (160, [79, 79]),  # (160 - 2) / 2: no sliver of 8
    ],
)
def test_no_run_ends_in_less_than_about_half_a_piece(width, sizes):
    (plan,) = plan_of(along_top(width))
    assert [p.length for p in plan.pieces] == pytest.approx(sizes)


def test_joints_stand_on_those_of_the_tile_where_both_have_the_same_module_and_no_sliver_comes_of_it():
    def sizes(width, **more):
        # tiles of 300 and joints of 2 from the left
        data = along_top(width, **more)
        data["wall"][0]["layout"]["start"] = {"x": "left", "y": "bottom"}
        (plan,) = plan_of(data)
        return [p.length for p in plan.pieces]

    assert sizes(1000, stock=300, joint=2) == pytest.approx([300, 300, 300, 94])  # 1000 - 3 * 302
    # 298 and 4 are 302 too, but the first would have to be 301 - 2 = 299 long: (1000 - 2 * 298 - 3 * 4) / 2
    assert sizes(1000, stock=298, joint=4) == pytest.approx([196, 298, 298, 196])
    # another module: (1000 - 2 * 250 - 3 * 2) / 2
    assert sizes(1000, stock=250, joint=2) == pytest.approx([247, 250, 250, 247])
    # 920 would leave 14, less than the sliver of 25: (920 - 2 * 300 - 3 * 2) / 2
    assert sizes(920, stock=300, joint=2) == pytest.approx([157, 300, 300, 157])


def test_pieces_of_two_courses_have_their_joints_on_every_second_course_line():
    # courses of 100 and joints of 2 up a side of 1000: course lines at 101, 203, ..., 917
    edges = {**BARE, "right": {"trim": "cap"}}
    trim = {"kind": "bullnose", "face": 40, "joint": 2, "stock": 202}
    (plan,) = plan_of(job_data(wall(height=1000, edges=edges), trim={"cap": trim}))
    # from 101: 100, 202, ..., and 1000 - 918 = 82 at the top; from 203 all is whole but the last, 1000 - 816 = 184
    assert [p.length for p in plan.pieces] == pytest.approx([202, 202, 202, 202, 184])
    assert [p.start + p.length + 1 for p in plan.pieces[:-1]] == pytest.approx([203, 407, 611, 815])


def test_a_mitred_frame_of_liner_has_a_joint_at_its_corners():
    sides = {side: {"trim": "cap"} for side in ("sill", "head", "left", "right")}
    niche = {"id": "n1", "x": 500, "y": 800, "width": 400, "height": 300, "depth": 90, "edges": sides}
    trim = {"kind": "liner", "face": 20, "joint": 2, "stock": 200}
    (plan,) = plan_of(job_data(wall(edges=BARE, niche=[niche]), trim={"cap": trim}))
    # sill: 400 + 2 * 20 = 440 over the long points; half a joint of 2 across a cut of 45 degrees is 1.414 along it
    sill = [p for p in plan.pieces if p.run == "A n1 sill"]
    end = (440 - 2 * 2**0.5 - 200 - 2 * 2) / 2
    assert [p.length for p in sill] == pytest.approx([end, 200, end])
    assert [p.cut_ends for p in sill] == [(True, False), (False, False), (False, True)]
    # the four strips with their joints leave a gap as wide as the joint across every mitre
    rings = [shapely.Polygon(p.ring) for p in plan.pieces]
    corner = [r for r in rings if r.distance(shapely.Point(480, 780)) < 5]
    assert len(corner) == 2
    assert corner[0].distance(corner[1]) == pytest.approx(2.0)


def test_a_piece_that_is_only_mitred_takes_a_whole_one():
    sides = {side: {"trim": "cap"} for side in ("sill", "head", "left", "right")}
    # long point to long point 240, less a joint across the two mitres: just a piece
    niche = {"id": "n1", "x": 500, "y": 800, "width": 200, "height": 200, "depth": 90, "edges": sides}
    trim = {"kind": "liner", "face": 20, "joint": 0, "stock": 240}
    (plan,) = plan_of(job_data(wall(edges=BARE, niche=[niche]), trim={"cap": trim}))
    assert [p.length for p in plan.pieces] == pytest.approx([240] * 4)
    assert [p.number for p in plan.pieces] == ["A-T1-1", "A-T2-1", "A-T3-1", "A-T4-1"]
    assert (plan.sticks.sticks, plan.sticks.proved) == (4, True)


def band(kind, **more):
    """Two level runs of 1460 in pieces of 200: 7 of them and 8 joints need (1460 - 6 * 200 - 7 * 2) / 2 = 123."""
    zone = {"id": "band", "x": 0, "y": 900, "width": 1460, "height": 150}
    zone["edges"] = {"bottom": {"trim": "cap"}, "top": {"trim": "cap"}}
    zone["layout"] = {"tile": "field", "pattern": "stacked", "start": {"x": "joint", "y": "bottom"}}
    trim = {"kind": kind, "face": 15, "joint": 2, "stock": 200, "corner": "butt"}
    return job_data(wall(width=1460, edges=BARE, zone=[zone]), trim={"cap": trim}, kerf=3, **more)


def test_a_liner_band_is_counted_piece_by_piece():
    (plan,) = plan_of(band("liner"))
    assert [p.length for p in plan.pieces] == pytest.approx([123, *[200] * 6, 123] * 2)
    assert {p.number for p in plan.pieces if p.number} == {"A-T1-1", "A-T1-8", "A-T2-1", "A-T2-8"}
    # 12 whole; two of 123 and a kerf are more than 200, so each end takes one of its own
    assert (plan.sticks.sticks, plan.sticks.proved) == (16, True)


def short_ends(kind, **more):
    """Four runs up the sides of two walls, 260 high, in pieces of 180: (260 - 2) / 2 = 129, too much for two of 180."""
    edges = {**BARE, "left": {"trim": "cap"}, "right": {"trim": "cap"}}
    trim = {"kind": kind, "face": 15, "joint": 2, "stock": 300}
    walls = [wall(id=i, width=600, height=122, edges=edges) for i in ("A", "B")]
    return job_data(*walls, trim={"cap": trim}, kerf=3, **more)


def test_one_piece_makes_a_left_and_a_right_end_of_a_bullnose_but_not_two_left_ones():
    # four runs of one piece of 122, each cut at its top; two and a kerf are 247 of 300
    liner, bullnose = (plan_of(short_ends(kind))[0] for kind in ("liner", "bullnose"))
    assert liner.sticks.sticks == bullnose.sticks.sticks == 2
    # with the tile to the right of the way up at the left side, and to the left at the right side, each pair of
    # a bullnose has one of both
    by_run = {r.id: r.tile_left for r in bullnose.runs}
    for stick in bullnose.sticks.plan:
        assert {by_run[n.run] for n in stick.lengths} == {True, False}
    edges = {**BARE, "left": {"trim": "cap"}}
    same = short_ends("bullnose")
    for table in same["wall"]:
        table["edges"] = edges
    assert plan_of(same)[0].sticks.sticks == 2  # two of one hand
    same["sawn_joints"] = True
    assert plan_of(same)[0].sticks.sticks == 1
    same["sawn_joints"], same["trim"]["cap"]["kind"] = False, "liner"
    assert plan_of(same)[0].sticks.sticks == 1


def fewest_by_trying(pieces, stock, kerf, turns):
    """Return the fewest wholes for (length, keeps start, keeps end), trying every grouping."""

    def fits(group):
        if sum(length for length, _, _ in group) + kerf * (len(group) - 1) > stock + 0.05:
            return False
        if turns:
            return sum(a or b for _, a, b in group) <= 2
        return sum(a for _, a, _ in group) <= 1 and sum(b for _, _, b in group) <= 1

    def least(rest):
        if not rest:
            return 0
        first, others = rest[0], rest[1:]
        best = len(rest)
        for size in range(len(others) + 1):
            for chosen in combinations(range(len(others)), size):
                group = [first, *(others[i] for i in chosen)]
                if fits(group):
                    best = min(best, 1 + least([p for i, p in enumerate(others) if i not in chosen]))
        return best

    return least(pieces)


@pytest.mark.parametrize("kind", ["bullnose", "liner"])
def test_as_few_whole_pieces_as_trying_everything(kind):
    for seed in range(25):
        r = random.Random(seed)
        stock = r.choice([150, 200, 310])
        walls = []
        for name in "ABC"[: r.randrange(1, 4)]:
            edges = {**BARE, **{s: {"trim": "cap"} for s in r.sample(["left", "right", "top"], r.randrange(1, 3))}}
            walls.append(wall(id=name, width=r.randrange(300, 700), height=r.randrange(150, 700), edges=edges))
        trim = {"kind": kind, "face": 15, "joint": 2, "stock": stock, "corner": r.choice(["mitre", "butt", "piece"])}
        (plan,) = plan_of(job_data(*walls, trim={"cap": trim}, kerf=3))
        left = {run.id: run.tile_left for run in plan.runs}
        cut = []
        for p in plan.pieces:
            keeps = (not p.cut_ends[0], not p.cut_ends[1])
            if not p.is_whole and p.length < stock - 0.05:
                cut.append((p.length, *(keeps if left[p.run] else keeps[::-1])))
        alone = len(plan.pieces) - len(cut)
        assert plan.sticks.sticks == alone + fewest_by_trying(cut, stock, 3, kind == "liner"), seed
        assert plan.sticks.proved


def test_numbers_are_unique_and_no_tile_has_one():
    job = job_of(band("bullnose"))
    laid = lay_out(job, build_faces(job))
    zones = make_pieces(job, laid)
    (plan,) = cut_trims(job, laid, zones)
    numbers = [p.number for p in plan.pieces if p.number] + [p.number for z in zones for p in z.pieces if p.number]
    assert len(set(numbers)) == len(numbers)


def test_pieces_follow_a_curve():
    outline = [[0, 0], [2000, 0], [2000, 1000], {"arc": 1000}, [1000, 2000], [0, 2000]]
    edges = {"3": {"trim": "cap"}, **dict.fromkeys(("1", "2", "4", "5"), OPEN)}
    table = wall(outline=outline, edges=edges)
    del table["width"], table["height"]
    trim = {"kind": "liner", "face": 20, "joint": 2, "stock": 200}
    (plan,) = plan_of(job_data(table, trim={"cap": trim}))
    strip = shapely.Polygon(plan.runs[0].ring)
    made = shapely.union_all([shapely.Polygon(p.ring) for p in plan.pieces])
    # what is missing of the strip are the joints, 2 wide and 20 across
    missing = strip.difference(made)
    assert made.difference(strip).area == pytest.approx(0, abs=0.5)
    assert missing.area == pytest.approx((len(plan.pieces) - 1) * 2 * 20, rel=0.03)
