"""Hole centres from the wall and from the tile: both lead to the same point, exactly and as printed."""

import pytest

from elevation.pipeline import read, work_out
from elevation.sheets.flow import Rows
from elevation.sheets.hole_table import hole_blocks
from elevation.units import format_length, parse_length
from tests.builders import job_data, wall_data
from tests.planning import EXAMPLES, plan_of


def crooked():
    """Return a wall out of plumb with round and square holes: amid a tile, over one joint, over a crossing."""
    survey = {
        "down": [[0, 900], [1530, 913]], "up": [[0, 1230], [1530, 1217]], "left": [[-900, 0], [1200, 13]],
        "right": [[-900, 1530], [1200, 1521]],
    }  # fmt: skip
    holes = [
        {"id": "in", "x": 620, "y": 520, "diameter": 40, "cover": 90},
        {"id": "over", "x": 800, "y": 611.5, "diameter": 120, "cover": 180},
        {"id": "cross", "x": 911, "y": 915, "width": 100, "height": 60},
        {"id": "end", "x": 60, "y": 700, "diameter": 30},
    ]
    return job_data(wall_data(survey=survey, hole=holes, datum=900, layout={
        "tile": "t", "pattern": "running-bond", "start": {"x": 5, "y": 2}}), step=1)  # fmt: skip


def plans():
    yield plan_of(crooked())
    for path in EXAMPLES:
        plan = work_out(read(path))
        if any(w.hole for w in plan.job.wall):
            yield plan


def tables(plan, laid):
    """Return the cells of both tables of a wall, row by row."""
    return [block.rows for block in hole_blocks(plan, laid, lambda mm: say(plan, mm)) if isinstance(block, Rows)]


def say(plan, mm):
    return format_length(mm, plan.job.step / 2, plan.job.units)


def value(plan, text):
    """Return a printed length, mm, with its sign."""
    sign = -1 if text.startswith("-") or " beyond" in text else 1
    words = text.split(" from ")[0].removesuffix(" beyond").lstrip("+-")
    return sign * float(parse_length(words, plan.job.units))


def test_both_ways_lead_to_the_same_point():
    seen = 0
    for plan in plans():
        close = plan.job.step / 2 + 0.01
        for laid in plan.walls:
            holes = {h.id: h for h in plan.job.wall_by_id(laid.face.wall).hole}
            if not holes:
                continue
            wall, tiles = tables(plan, laid)
            assert [row[0] for row in wall] == list(holes)
            # an outline by its corners has no left side: from its lower left corner
            x0, y0, _, y1 = laid.face.bounds
            line = ((x0, y0), (x0, y1))
            left = next((b.line for b in laid.face.borders if not b.of and b.side == "left"), line)
            for name, _, across, up in wall:
                hole = holes[name]
                # the left side at the height of the hole, by the two ends of the line
                (xa, ya), (xb, yb) = min(left, key=lambda p: p[1]), max(left, key=lambda p: p[1])
                side = xa + (hole.y - ya) / (yb - ya) * (xb - xa)
                base = laid.face.datum[1] if laid.face.has_datum else 0
                assert side + value(plan, across) == pytest.approx(hole.x, abs=close)
                assert base + value(plan, up) == pytest.approx(hole.y, abs=close)
            name = ""
            for first, number, across, up in tiles:
                name = first or name
                hole, seen = holes[name], seen + 1
                piece = next(p for p in plan.cuts if p.number == number)
                xs, ys = [p[0] for p in piece.outer], [p[1] for p in piece.outer]
                x = min(xs) + value(plan, across) if "from left" in across else max(xs) - value(plan, across)
                y = min(ys) + value(plan, up) if "from bottom" in up else max(ys) - value(plan, up)
                assert (x, y) == (pytest.approx(hole.x, abs=close), pytest.approx(hole.y, abs=close))
                # the side is one of the tile's own unless it says so
                for text, values, axis in ((across, xs, 0), (up, ys, 1)):
                    slot = [p[axis] for p in piece.slot]
                    ends = (min(values), min(slot)) if "left" in text or "bottom" in text else (max(values), max(slot))
                    assert (abs(ends[0] - ends[1]) < 0.05) == (not text.endswith("(cut)"))
    assert seen >= 12


def test_a_hole_over_a_joint_is_told_from_every_tile_it_is_cut_in():
    plan = plan_of(crooked())
    by_id = {h.id: h for h in plan.hole_centres}
    # a strip below 2 is course 1, each course takes 153: 611.5 + 63 reaches over 2 + 4 x 153, where course 6 begins
    assert {p.piece.course for p in by_id["over"].pieces} == {5, 6}
    assert len(by_id["cross"].pieces) >= 2
    assert len(by_id["in"].pieces) == 1
    # 800 lies 40.5 beyond the right side of A5-3, which ends at 759.5; its left side is not cut
    third = next(p for p in by_id["over"].pieces if p.piece.number == "A5-3")
    assert (third.across.side, third.across.mm) == ("left", pytest.approx(800 - 459.5))
    fourth = next(p for p in by_id["over"].pieces if p.piece.number == "A5-4")
    assert (fourth.across.side, fourth.across.mm) == ("right", pytest.approx(1062.5 - 800))
    assert (fourth.up.side, fourth.up.mm, fourth.up.from_factory) == ("bottom", pytest.approx(611.5 - 461), True)
