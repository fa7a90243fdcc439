import random
import subprocess
import sys
from dataclasses import replace
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevation.cutting import cut_tiles, solve
from tests.cutting.outside import Search, as_rects, check, piece, tile

L, W, KERF = 60, 30, 2


@st.composite
def slots_cut(draw, most=7, length=L, width=W):
    """Pieces as walls make them: a slot of the pattern, cut on some of its four sides."""
    of = tile(length, width)
    out = []
    for n in range(draw(st.integers(1, most))):
        cut = draw(st.sampled_from(["l", "r", "b", "t", "lb", "rt", "rb", "lt", "lr", "bt", "lrb"]))
        w = draw(st.integers(4, length - 4)) if set(cut) & set("lr") else length
        h = draw(st.integers(4, width - 4)) if set(cut) & set("bt") else width
        out.append(piece(f"B{n}", w, h, "".join(set("lrbt") - set(cut)), of=of, course=n))
    return out


def judged(pieces, of, kerf, turns):
    plan = cut_tiles("t", of, pieces, 3, kerf)
    check(plan, of, pieces, 3, kerf)
    search = Search(as_rects(pieces), round(of.length), round(of.width), kerf, turns=turns)
    fewest = search.fewest()
    assert plan.tiles - 3 == fewest
    assert plan.lower_bound - 3 <= fewest
    assert plan.tiles - 3 <= search.first_fit()
    area = sum((p.width + kerf) * (p.height + kerf) for p in pieces)
    assert plan.lower_bound - 3 >= ceil(area / ((of.length + kerf) * (of.width + kerf)) - 1e-9)
    return plan


@settings(max_examples=60, deadline=None)
@given(slots_cut())
def test_as_few_as_trying_everything(pieces):
    judged(pieces, tile(L, W), KERF, (0, 180))


@settings(max_examples=40, deadline=None)
@given(slots_cut())
def test_as_few_as_trying_everything_with_a_direction(pieces):
    judged(pieces, tile(L, W, directional=True), KERF, (0,))


@settings(max_examples=40, deadline=None)
@given(slots_cut(most=5, length=40, width=40))
def test_as_few_as_trying_everything_in_a_square_tile(pieces):
    judged(pieces, tile(40, 40), KERF, (0, 90, 180, 270))


@pytest.fixture
def only_columns(monkeypatch):
    monkeypatch.setattr(solve, "MOST_LISTED", 0)
    monkeypatch.setattr(solve, "quick_bound", lambda cutter, demand, alone: 0)


def test_columns_one_by_one_come_to_the_same(only_columns):
    proved = 0
    for seed in range(25):
        r = random.Random(seed)
        of = tile(L, W)
        pieces = []
        for n in range(7):
            strip = r.random() < 0.6
            edges = r.choice(["bt", "bt", "lbt", "rbt"]) if strip else r.choice(["lb", "rt", "b", "lt", ""])
            pieces.append(piece(f"B{n}", r.randrange(4, 40), W if strip else r.randrange(4, 26), edges, of=of))
        plan = cut_tiles("t", of, pieces, 0, KERF)
        check(plan, of, pieces, 0, KERF)
        fewest = Search(as_rects(pieces), L, W, KERF, turns=(0, 180)).fewest()
        assert plan.lower_bound <= fewest <= plan.tiles
        assert not plan.proved or plan.tiles == fewest
        proved += plan.proved
    assert proved >= 23


def test_bounds_stay_below_even_when_little_is_tried(monkeypatch):
    monkeypatch.setattr(solve, "MOST_LISTED", 0)
    monkeypatch.setattr(solve, "MOST_GROUPS", 4)
    monkeypatch.setattr(solve, "MOST_NODES", 1)
    for seed in range(15):
        r = random.Random(seed)
        of = tile(L, W)
        pieces = [
            piece(f"B{n}", r.randrange(4, 50), r.randrange(4, 26), r.choice(["lb", "rt", "lt", "b"]), of=of)
            for n in range(7)
        ]
        plan = cut_tiles("t", of, pieces, 0, KERF)
        check(plan, of, pieces, 0, KERF)
        assert plan.lower_bound <= Search(as_rects(pieces), L, W, KERF, turns=(0, 180)).fewest() <= plan.tiles


@pytest.mark.parametrize("seed", range(4))
def test_a_wall_of_many_sizes_beats_first_fit_and_can_be_sawn(seed):
    r = random.Random(seed)
    of = tile(600, 300)
    pieces = []
    for n in range(60):
        w, h, edges = r.choice(
            [
                (r.randrange(40, 560), 300, r.choice(["lbt", "rbt"])),
                (r.randrange(40, 560), 300, r.choice(["lbt", "bt"])),
                (600, r.randrange(30, 270), r.choice(["lrb", "lrt"])),
                (r.randrange(40, 560), r.randrange(30, 270), r.choice(["lb", "rb", "rt", "lt"])),
            ]
        )
        pieces.append(piece(f"B{n}", w, h, edges, of=of, course=n % 9, place=n // 9))
    plan = cut_tiles("t", of, pieces, 0, 3)
    check(plan, of, pieces, 0, 3)
    assert plan.tiles <= Search(as_rects(pieces), 600, 300, 3, turns=(0, 180)).first_fit()
    shuffled = pieces[:]
    r.shuffle(shuffled)
    assert cut_tiles("t", of, shuffled, 0, 3) == plan


INCH = 25.4


def test_an_offcut_must_take_the_piece_and_the_saw():
    """Common practice: a rest makes a piece only if it is as long as the piece and the kerf, factory edge right."""
    of = tile(12 * INCH, 4 * INCH)
    start = piece("B4-1", 6 * INCH, 4 * INCH, "rbt", of=of)
    just = piece("B4-6", 5.875 * INCH, 4 * INCH, "lbt", of=of, place=6)
    plan = cut_tiles("t", of, [start, just], 20, INCH / 8)
    check(plan, of, [start, just], 20, INCH / 8)
    assert plan.tiles == 21
    assert plan.said == ("the rest of B4-1 makes B4-6",)
    assert cut_tiles("t", of, [start, replace(just, width=5.9375 * INCH)], 20, INCH / 8).tiles == 22


def test_two_left_ends_share_a_tile_only_when_it_may_be_turned():
    pieces = [piece(f"B{n}", 20, W, "lbt", of=tile(L, W)) for n in range(2)]
    turned = cut_tiles("t", tile(L, W), pieces, 0, KERF)
    assert turned.tiles == 1
    assert sorted((p.half, p.turn, p.x) for p in turned.plan[0].placements) == [(False, 0, 0.0), (True, 180, L - 20.0)]
    plan = cut_tiles("t", tile(L, W, directional=True), pieces, 0, KERF)
    assert (plan.tiles, plan.lower_bound) == (2, 2)


def test_a_tile_has_four_corners():
    of = tile(L, W)
    pieces = [piece(f"B{n}", 10, 8, "lb", of=of) for n in range(5)]
    plan = cut_tiles("t", of, pieces, 0, KERF)
    # turned half round, a lower left corner makes an upper right one, never one of the other two
    assert plan.tiles == plan.lower_bound == 3


def test_upright_pieces_lie_along_the_tile():
    for directional in (False, True):
        of = tile(L, W, directional=directional)
        pieces = [
            piece("B1", W, 25, "lrb", of=of, upright=True),
            piece("B2", W, 33, "lrt", of=of, upright=True),
            piece("B3", 12, L, "ltb", of=of, upright=True),
        ]
        plan = cut_tiles("t", of, pieces, 0, KERF)
        check(plan, of, pieces, 0, KERF)
        assert plan.tiles == 2


def test_a_square_tile_lets_a_level_rest_make_an_upright_piece():
    of = tile(40, 40)
    pieces = [piece("B1", 18, 40, "lbt", of=of), piece("B2", 40, 20, "lrt", of=of)]
    plan = cut_tiles("t", of, pieces, 0, KERF)
    check(plan, of, pieces, 0, KERF)
    assert plan.tiles == 1
    assert cut_tiles("t", tile(40, 40, directional=True), pieces, 0, KERF).tiles == 2


def test_a_holed_piece_of_full_size_takes_a_tile_of_its_own():
    of = tile(L, W)
    pieces = [replace(piece("B1", L, W, "lrbt", of=of), kind="holed"), piece("B2", 5, W, "lbt", of=of)]
    plan = cut_tiles("t", of, pieces, 0, KERF)
    check(plan, of, pieces, 0, KERF)
    assert plan.tiles == plan.lower_bound == 2


def test_without_reuse_each_cut_takes_a_tile():
    of = tile(L, W)
    pieces = [piece(f"B{n}", 10, W, "lbt", of=of) for n in range(6)]
    plan = cut_tiles("t", of, pieces, 9, KERF, reuse=False)
    check(plan, of, pieces, 9, KERF)
    assert (plan.tiles, plan.without_reuse, plan.boxes, plan.said, plan.proved) == (15, 15, 2, (), True)


def test_nothing_to_cut():
    plan = cut_tiles("t", tile(L, W), [], 7, KERF)
    assert (plan.tiles, plan.lower_bound, plan.proved, plan.boxes, plan.plan) == (7, 7, True, 1, ())


def test_partners_come_from_the_same_wall():
    of = tile(L, W)
    pieces = [
        piece(f"{face}{n}-{place}", size, W, edges, of=of, face=face, course=n, place=place)
        for n in range(1, 6)
        for face in ("A", "B", "C")
        for place, size, edges in ((1, 25, "rbt"), (9, 33, "lbt"))
    ]
    plan = cut_tiles("t", of, pieces, 0, KERF)
    assert plan.tiles == plan.lower_bound == 15
    for cut in plan.plan:
        a, b = cut.pieces
        assert a.split("-")[0] == b.split("-")[0]
    assert "the rest of A1-1 makes A1-9" in plan.said


def test_partners_of_different_sizes_are_swapped_to_the_same_wall():
    of = tile(L, W)
    sizes = {"A": (26.0, 30.0), "B": (26.5, 29.5)}
    pieces = [
        piece(f"{face}{n}", size, W, edges, of=of, face=face)
        for face, pair in sizes.items()
        for n, (size, edges) in enumerate(zip(pair, ("rbt", "lbt"), strict=True))
    ]
    plan = cut_tiles("t", of, pieces, 0, KERF)
    assert plan.tiles == 2
    assert {frozenset(p[0] for p in t.pieces) for t in plan.plan} == {frozenset("A"), frozenset("B")}


def test_a_sheet_of_mosaic_is_cut_between_chips():
    # 12 x 12 chips of 23 mm, joint 2 mm: 300 mm with the last joint
    of = tile(300, 300, chip=["23 mm", "23 mm"])
    pieces = [piece(f"B{n}", 142, 300, "lbt", of=of) for n in range(2)]  # 5.7 chips: six
    plan = cut_tiles("t", of, pieces, 0, 3, joint=2.0)
    assert plan.tiles == plan.lower_bound == 1
    a, b = plan.plan[0].placements
    assert {(p.w, p.h) for p in (a, b)} == {(148.0, 298.0)}
    assert abs(a.x - b.x) == 150 or abs(a.y - b.y) == 150
    seven = [replace(p, width=152.0, outer=((0, 0), (152, 0), (152, 300), (0, 300))) for p in pieces]
    assert cut_tiles("t", of, seven, 0, 3, joint=2.0).tiles == 2
    # the same width from the middle of a chip on touches one chip more
    askance = replace(pieces[0], outer=((10, 0), (152, 0), (152, 300), (10, 300)))
    assert cut_tiles("t", of, [askance, pieces[1]], 0, 3, joint=2.0).tiles == 2


def test_what_does_not_fit_is_refused():
    of = tile(L, W)
    with pytest.raises(ValueError, match=r"B1 is 61 mm, more than the 60 mm"):
        cut_tiles("t", of, [piece("B1", 61, 10, "b", of=of)], 0, KERF)
    askew = replace(piece("B1", 10, 10, "b", of=of), slot=((0, -5), (5, 0), (0, 5), (-5, 0)))
    with pytest.raises(ValueError, match="level or upright"):
        cut_tiles("t", of, [askew], 0, KERF)


def test_the_solver_keeps_quiet():
    """A banner on standard output would end up in what the command prints."""
    code = (
        "from elevation.cutting.master import Master, best_cover\n"
        "m = Master([2, 2], [(0,), (1,), (0, 1)])\n"
        "assert abs(m.solve()[0] - 2) < 1e-9\n"
        "assert len(best_cover([2, 2], [(0,), (1,), (0, 1)], [(0,), (0,), (1,), (1,)], 0, 9).tiles) == 2\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == done.stderr == ""


def test_sawn_edges_at_joints_when_the_user_allows_them():
    # each keeps a left end of its slot: a tile has two ends, so two a tile; sawn, 3 x 18 and two kerfs are 58 of 60
    of = tile(L, W)
    pieces = [piece(f"B{n}", 18, W, "lbt", of=of, course=n) for n in range(3)]
    assert cut_tiles("t", of, pieces, 0, KERF).tiles == 2
    assert cut_tiles("t", of, pieces, 0, KERF, sawn_joints=True).tiles == 1
