"""The least move that puts a hole well: against plain arithmetic, tile by tile, tried every half millimetre."""

import math
import random

import pytest

from elevation.pieces.hole_place import holes_in_zones
from elevation.pieces.hole_shift import Shifts, is_inside, least_shifts
from tests.builders import job_data, laid_out, wall_data

W, H, J = 300, 150, 3  # the tile of the builders and its joint
LEAST = 6.0


def wall(holes, pattern="stacked", **layout):
    """Return a laid wall of many tiles and its holes."""
    start = {"x": 0, "y": 0}
    there = wall_data(2100, 1300, hole=holes, layout={"tile": "t", "pattern": pattern, "start": start, **layout})
    laid = laid_out(job_data(there))[1][0]
    return laid, holes_in_zones(laid, LEAST)


def tiles_near(x, y, ox, oy, lean):
    """Yield the tiles that a hole may come near to: left, lower side."""
    row = math.floor((y - oy) / (H + J))
    for j in (row - 1, row, row + 1):
        place = math.floor((x - ox - j * lean) / (W + J))
        yield from ((ox + i * (W + J) + j * lean, oy + j * (H + J)) for i in (place - 1, place, place + 1))


def weakest(x, y, radius, ox, oy, lean, slack=0.06):
    """Return the weakest bridge round a round hole, by hand; ``None``: none under the limit.

    The hole's rim is cut through where it reaches over a side by a quarter of the limit or more. Distances that
    differ from a limit by less than ``slack``, mm, are let pass.
    """
    found = []
    for left, low in tiles_near(x, y, ox, oy, lean):
        right, high = left + W, low + H
        gx, gy = max(left - x, x - right, 0), max(low - y, y - high, 0)
        if math.hypot(gx, gy) >= radius - LEAST / 4:
            continue  # a tile that the hole does not enter, or hardly
        sides = (
            *(math.hypot(x - at, gy) for at in (left, right)),
            *(math.hypot(gx, y - at) for at in (low, high)),
        )
        found += [s - radius for s in sides if radius - LEAST / 4 + slack < s < radius + LEAST - slack]
    return min(found, default=None)


def lies_inside(x, y, radius, ox, oy, lean, slack=0.06):
    need = radius + LEAST - slack
    return any(
        left + need <= x <= left + W - need and low + need <= y <= low + H - need
        for left, low in tiles_near(x, y, ox, oy, lean)
    )


def least_by_trying(holes, axis, lean, well, slack):
    """Return the least move along an axis, to half a millimetre, after which every hole lies well."""
    reach = (W + J) if axis == 0 else (H + J)
    for n in range(1, 2 * reach):
        for d in (n / 2, -n / 2):
            ox, oy = (d, 0) if axis == 0 else (0, d)
            if well(*holes[0], ox, oy, lean, slack) and all(no_bridge(*h, ox, oy, lean, slack) for h in holes[1:]):
                return abs(d)
    return None


def random_holes(seed, count):
    rng = random.Random(seed)
    return [(700 + 400 * n + rng.uniform(0, 250), rng.uniform(500, 800), rng.uniform(12, 60)) for n in range(count)]


def no_bridge(*hole):
    return weakest(*hole) is None


@pytest.mark.parametrize("shift", [0, "1/2", "1/3"])
@pytest.mark.parametrize("seed", range(6))
def test_the_move_is_the_least_there_is(seed, shift):
    found = random_holes(seed, 3)
    lean = {0: 0, "1/2": (W + J) / 2, "1/3": (W + J) / 3}[shift]
    pattern = {"pattern": "running-bond", "shift": shift} if shift else {}
    _, holes = wall([{"id": f"h{n}", "x": x, "y": y, "diameter": 2 * r - 6, "gap": 3}
                        for n, (x, y, r) in enumerate(found)], **pattern)  # fmt: skip
    for n, hole in enumerate(holes):
        told = hole.bridges(hole.zone.origin)
        by_hand = weakest(*found[n], 0, 0, lean)
        assert (min((b.gap for b in told), default=None) is None) == (by_hand is None)
        if told:
            assert told[0].gap == pytest.approx(max(0, by_hand), abs=0.06)
        # only sound holes must be kept sound
        others = [f for k, f in enumerate(found) if k != n and weakest(*f, 0, 0, lean) is None]
        for good, well, wanted in ((None, no_bridge, told), (is_inside, lies_inside, True)):
            if not wanted or (good is is_inside and (not hole.fits_a_tile() or hole.is_in_one_tile((0, 0)))):
                continue
            moves = least_shifts(hole, holes, 0.01, *([good] if good else []))
            by_axis = {0 if m.x else 1: abs(m.x + m.y) for m in moves.one}
            for axis in (0, 1):
                # between what is let pass with no slack at all, and with more than the tolerance
                most, least = (least_by_trying([found[n], *others], axis, lean, well, slack) for slack in (0, 0.12))
                assert most is None or by_axis[axis] <= most + 0.01
                assert axis not in by_axis or least is None or by_axis[axis] >= least - 0.5
                assert axis not in by_axis or least is not None or by_axis[axis] % 0.5 > 0


def boxes(*corners):
    """Return boxes of 50 mm, gap and all, by their lower left corners on a wall of tiles."""
    return wall([{"id": f"o{n}", "x": x + 25, "y": y + 25, "width": 44, "height": 44, "gap": 3}
                 for n, (x, y) in enumerate(corners)])[1]  # fmt: skip


def test_a_square_box_is_moved_by_what_it_lacks():
    # its left rim 4 mm right of a tile's left side: 2 mm are missing to the left; to the right the side would stand
    # flush with the rim after 4. Up or down nothing helps: the side is as near all along it
    (box,) = boxes((303 + 4, 200))
    (bridge,) = box.bridges((0, 0))
    assert (bridge.gap, bridge.sawn) == (pytest.approx(4), False)
    assert [(m.x, m.y) for m in least_shifts(box, [box], 1.0).one] == [(-2, 0)]


def test_both_axes_where_neither_alone_will_do():
    # 4 mm from the left side and 5 mm from the lower side of a tile
    (box,) = boxes((303 + 4, 153 + 5))
    moves = least_shifts(box, [box], 1.0)
    assert moves.one == ()
    assert (moves.both.x, moves.both.y) == (-2, -1)


def test_no_move_brings_another_hole_in_danger():
    # the second has 7 mm to spare on its right: 2 to the left would leave it 5; so the side has to go through the
    # first, 4 to the right
    first, second = boxes((303 + 4, 200), (303 + 300 - 7 - 50, 200))
    assert [m.x for m in least_shifts(first, [first], 1.0).one] == [-2]
    assert [m.x for m in least_shifts(first, [first, second], 1.0).one] == [4]


def test_a_side_flush_with_the_rim_is_a_notch():
    # 4 mm to spare on all four sides of its tile: one upright and one level side have to stand flush with the rim
    _, (box,) = wall([{"id": "o", "x": 303 + 150, "y": 153 + 75, "width": 286, "height": 136, "gap": 3}])
    assert len(box.bridges((0, 0))) == 4
    moves = least_shifts(box, [box], 1.0)
    assert moves.one == ()
    assert (abs(moves.both.x), abs(moves.both.y)) == (4, 4)


def test_no_move_helps_against_the_border_of_the_wall():
    (box,) = boxes((2100 - 3 - 50, 200))
    assert [(b.gap, b.sawn) for b in box.bridges((0, 0))] == [(pytest.approx(3), True)]
    assert least_shifts(box, [box], 1.0) == Shifts()


@pytest.mark.parametrize("seed", range(6))
def test_arithmetic_and_the_geometry_engine_find_the_same_bridges(seed):
    found = random_holes(seed, 4)
    data = [{"id": f"h{n}", "x": x, "y": y, "gap": 3, **({"diameter": 2 * r} if n % 2 else {"width": r, "height": 2 * r})}
            for n, (x, y, r) in enumerate(found)]  # fmt: skip
    _, plain = wall(data, pattern="running-bond", shift="1/3")
    _, clipped = wall(data, pattern="running-bond", shift="1/3")
    for one, two in zip(plain, clipped, strict=True):
        two.__dict__["_is_clear"] = False
        for k in range(25):
            origin = (k * 12.3, k * 6.7)
            by_sum, by_clip = one.bridges(origin), two.bridges(origin)
            assert {(round(b.gap, 1), b.slot) for b in by_sum} == {(round(b.gap, 1), b.slot) for b in by_clip}
