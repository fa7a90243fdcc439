"""Printed numbers against the pieces they stand for, rebuilt by a naive hand: never too much tile, nothing too small."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from elevation.job.models import Job
from elevation.pieces import Piece, edge_runs, make_pieces
from elevation.pieces.measure import Measure, alike, measure_pieces
from elevation.rounding import grain, rounded, rounded_circle
from tests.builders import BARE, job_data, laid_out, wall_data

EPS = 0.05
SOFT = {"meets": "ceiling", "joint": 5}


def measured(data: dict[str, Any]) -> tuple[Job, dict[str, Piece], dict[str, Measure]]:
    """Return the job, the cuts of its walls by number and their measures by number; returns are left out."""
    job, laid = laid_out(data)
    zones = make_pieces(job, laid)
    cuts = {p.number: p for z in zones for p in z.pieces if p.number and "." not in p.face}
    found = measure_pieces(job, laid, zones, edge_runs(laid))
    return job, cuts, {n: found[p.id] for n, p in cuts.items()}


def side(measure: Measure, label: str, low: float, high: float) -> float:
    """Return the coordinate that a printed number stands for, measured by hand from the side it names."""
    d = measure.dimension(label)
    return low + float(d.printed) if d.origin in ("left", "bottom") else high - float(d.printed)


def by_hand(piece: Piece, measure: Measure) -> Polygon:
    """Return the piece as a setter would cut it, knowing the tile and the printed numbers, nothing else."""
    sx0, sy0, sx1, sy1 = Polygon(piece.slot).bounds

    def span(label: str, low: float, high: float) -> tuple[float, float]:
        d = measure.dimension(label)
        if d.full:
            return low, high
        value = float(d.printed)
        return (low, low + value) if d.origin in ("left", "bottom") else (high - value, high)

    x0, x1 = span("width", sx0, sx1)
    y0, y1 = span("height", sy0, sy1)
    shape = box(x0, y0, x1, y1)
    ring = Polygon(piece.outer)
    if piece.kind == "L":
        # which corner is missing is seen on the sketch
        corner = next(c for c in ((x0, y0), (x1, y0), (x0, y1), (x1, y1)) if ring.distance(Point(c)) > 2.0)
        inner = side(measure, "leg width", x0, x1), side(measure, "leg height", y0, y1)
        xs, ys = sorted((corner[0], inner[0])), sorted((corner[1], inner[1]))
        return shape.difference(box(xs[0], ys[0], xs[1], ys[1]))
    if piece.kind == "notched":
        labels = {d.label for d in measure.dimensions}
        if "height at notch" in labels:
            origin = measure.dimension("height at notch").origin
            y = side(measure, "height at notch", y0, y1)
            ref = measure.dimension("width").origin
            xs = [side(measure, f"notch {n} from {ref}", x0, x1) for n in ("near", "far")]
            return shape.difference(
                box(min(xs), y if origin == "bottom" else y0, max(xs), y1 if origin == "bottom" else y)
            )
        origin = measure.dimension("width at notch").origin
        x = side(measure, "width at notch", x0, x1)
        ref = measure.dimension("height").origin
        ys = [side(measure, f"notch {n} from {ref}", y0, y1) for n in ("near", "far")]
        return shape.difference(box(x if origin == "left" else x0, min(ys), x1 if origin == "left" else x, max(ys)))
    if piece.kind == "holed" and measure.rounds:
        for r in measure.rounds:
            dx, dy, dr = (measure.dimensions[i] for i in (r.x, r.y, r.r))
            centre = side(measure, dx.label, x0, x1), side(measure, dy.label, y0, y1)
            shape = shape.difference(Point(centre).buffer(float(dr.printed) / 2, quad_segs=128))
        return shape
    if piece.kind == "holed":
        edges = {}
        for axis, low, high in (("x", x0, x1), ("y", y0, y1)):
            found = [d for d in measure.dimensions if d.axis == axis and d.label.startswith("hole")]
            edges[axis] = sorted(side(measure, d.label, low, high) for d in found)
        return shape.difference(box(edges["x"][0], edges["y"][0], edges["x"][1], edges["y"][1]))
    assert piece.kind == "straight"
    return shape


def room(**more: Any) -> dict[str, Any]:
    """Return a wall with a window, holes and a soft joint above, at odd places."""
    features: dict[str, Any] = {
        "opening": [{"id": "w", "kind": "window", "x": 613.4, "y": 401.7, "width": 707.9, "height": 333.3}],
        "hole": [
            {"id": "v", "x": 452.3, "y": 226.1, "diameter": 41.3, "cover": 70},
            {"id": "o", "x": 1751.9, "y": 533.4, "width": 51, "height": 77, "cover": [62, 90]},
        ],
        "edges": {"left": BARE, "right": {"meets": "corner", "joint": 4}, "bottom": BARE, "top": SOFT},
    }
    return job_data(wall_data(2013.7, 1207.3, **features), **more)


@pytest.mark.parametrize("step", [1, 0.5, 2])
def test_every_piece_is_rebuilt_from_its_numbers(step: float) -> None:
    job, cuts, measures = measured(room(step=step))
    kinds = set()
    for number, piece in cuts.items():
        kinds.add(piece.kind)
        cut, true = by_hand(piece, measures[number]), Polygon(piece.outer, piece.holes)
        more, less = cut.difference(true), true.difference(cut)
        # never more tile than the room leaves, where a soft joint or a hole is faced; a step less at most
        assert cut.difference(true.buffer(EPS, join_style="mitre")).area < 1e-6, (number, more.bounds)
        assert less.buffer(-(job.step + EPS) / 2, join_style="mitre").is_empty, (number, less.bounds)
    assert {"straight", "L", "holed"} <= kinds


@given(
    st.floats(1500, 2500), st.floats(380, 820), st.floats(330, 420), st.floats(20, 460), st.sampled_from([1, 2, 0.5])
)
def test_rebuilt_at_random(width: float, x: float, y: float, wide: float, step: float) -> None:
    window = {"id": "w", "kind": "window", "x": x, "y": y, "width": wide, "height": 333.3}
    edges = {"left": BARE, "right": {"meets": "corner", "joint": 4}, "bottom": BARE, "top": SOFT}
    job, cuts, measures = measured(job_data(wall_data(width, 1207.3, opening=[window], edges=edges), step=step))
    for number, piece in cuts.items():
        if piece.kind not in ("straight", "L", "notched"):
            continue
        cut, true = by_hand(piece, measures[number]), Polygon(piece.outer)
        assert cut.difference(true.buffer(EPS + 1e-6, join_style="mitre")).area < 1e-6, number
        assert true.difference(cut).buffer(-(job.step + EPS) / 2, join_style="mitre").is_empty, number


def test_inch_numbers_are_read_as_a_tape_reads() -> None:
    tile = {"name": "T", "length": "11 13/16", "width": "2 15/16", "thickness": "5/16", "sampled": 10,
            "variation": "1/32", "edge": "pressed", "box": 44}  # fmt: skip
    edges = {"left": BARE, "right": {"meets": "corner", "joint": "1/8"}, "bottom": BARE, "top": BARE}
    wall = wall_data("30", "8 15/16", edges=edges)
    _, cuts, measures = measured(job_data(wall, units="in", joint="1/16", sliver="1", tile={"t": tile}))
    # 30 less 1/8 less two modules of 11 7/8: 6 1/8
    assert measures["A1-3"].size == "6 1/8 x 2 15/16"
    assert measures["A1-3"].fence == ("x", Fraction("155.575"), "6 1/8")
    assert cuts["A1-3"].factory_edges == ("left", "bottom", "top")
    assert measures["A1-3"].dimension("height").full


def test_soft_joint_rounds_down_and_grout_joint_to_the_nearest() -> None:
    assert rounded(100.9, "down", Fraction(1)) == 100
    assert rounded(100.9, "nearest", Fraction(1)) == 101
    assert rounded(100.1, "up", Fraction(1)) == 101
    # a hair over or under a mark is that mark
    assert rounded(100.999999, "down", Fraction(1)) == 101
    assert rounded(100.000001, "up", Fraction(1)) == 100


def test_narrow_joints_are_rounded_to_half_a_step() -> None:
    assert grain("nearest", 2.0, 1.0) == Fraction(1, 2)
    assert grain("nearest", 2.5, 1.0) == 1
    assert grain("down", 1.0, 1.0) == Fraction(1, 2)
    assert grain("down", 1.5, 1.0) == 1


def test_a_hole_is_never_cut_past_its_plate() -> None:
    assert rounded(100.4, "up", Fraction(1)) == 101
    assert rounded(100.4, "up", Fraction(1), most=100.6) == Fraction("100.5")
    assert rounded(100.4, "up", Fraction(1), most=100.41) <= Fraction("100.5")


@given(
    st.tuples(st.floats(-50, 500), st.floats(-50, 500)),
    st.floats(3, 200),
    st.sampled_from([Fraction(1), Fraction(127, 80)]),
)
def test_printed_circle_takes_all_of_the_true_one(centre: tuple[float, float], radius: float, step: Fraction) -> None:
    x, y, r = (float(v) for v in rounded_circle(centre, radius, step, bigger=True))
    away = math.hypot(x - centre[0], y - centre[1])
    assert r >= radius + away - EPS
    assert r + away - radius <= float(step) + 2 * EPS
    x, y, r = (float(v) for v in rounded_circle(centre, radius, step, bigger=False))
    away = math.hypot(x - centre[0], y - centre[1])
    assert r + away <= radius + EPS
    assert radius - (r - away) <= float(step) + 2 * EPS


def test_curve_has_centre_and_radius_grown_by_the_joint() -> None:
    tub = {"id": "tub", "kind": "tub", "x": 0, "y": 0, "width": 700, "height": 400, "joint": 6, "radius": 40}
    _, cuts, measures = measured(job_data(wall_data(1500, 1200, fixture=[tub])))
    curved = {n: m for n, m in measures.items() if cuts[n].kind == "curved"}
    assert curved
    for number, m in curved.items():
        arc = m.rounds[0]
        assert not arc.hole
        assert m.dimensions[arc.r].mm == pytest.approx(46)
        x0, y0, x1, y1 = Polygon(cuts[number].outer).bounds
        dx, dy = m.dimensions[arc.x], m.dimensions[arc.y]
        assert (x0 + dx.mm if dx.origin == "left" else x1 - dx.mm) == pytest.approx(660)
        assert (y0 + dy.mm if dy.origin == "bottom" else y1 - dy.mm) == pytest.approx(360)


def test_taper_has_two_numbers_and_says_where() -> None:
    survey = {"down": [[0, 600], [2000, 600]], "up": [[0, 600], [2000, 580]], "left": [[-600, 0], [600, 0]],
              "right": [[-600, 2000], [600, 2000]]}  # fmt: skip
    edges = {"left": BARE, "right": BARE, "bottom": BARE, "top": {"meets": "ceiling", "joint": 5}}
    _, cuts, measures = measured(job_data(wall_data(survey=survey, edges=edges, datum=600)))
    first = measures["A8-1"]
    assert cuts["A8-1"].kind == "tapered"
    # 1200 less 5 less 7 courses of 153 is 124 at the left; the ceiling falls 1 in 100
    ends = sorted(d.mm for d in first.dimensions if d.axis == "y")
    assert ends == pytest.approx([124 - 3.0, 124], abs=0.02)
    assert {d.label for d in first.dimensions if d.axis == "y"} == {"height", "right height"}
    assert first.height == "121 to 124"


def test_mirrored_cuts_are_not_alike_but_repeated_ones_are() -> None:
    data = job_data(
        wall_data(1500, 1200, layout={"tile": "t", "pattern": "stacked", "start": {"x": "joint", "y": "bottom"}})
    )
    job, laid = laid_out(data)
    zones = make_pieces(job, laid)
    measures = measure_pieces(job, laid, zones, edge_runs(laid))
    cuts = {p.number: p for z in zones for p in z.pieces if p.number}
    left = [n for n in cuts if n.endswith("-1") and "top" in cuts[n].factory_edges]
    right = [n for n in cuts if n.endswith("-6") and "top" in cuts[n].factory_edges]
    assert left
    assert right
    assert all(alike(cuts[left[0]], cuts[n], measures) for n in left)
    assert not any(alike(cuts[left[0]], cuts[n], measures) for n in right)


def test_a_mitred_edge_is_said() -> None:
    edges = {"left": BARE, "right": {"trim": "m"}, "bottom": BARE, "top": BARE}
    data = job_data(wall_data(1000, 600, edges=edges), trim={"m": {"kind": "mitre", "joint": 0}})
    _, cuts, measures = measured(data)
    at_right = [n for n in cuts if "right" not in cuts[n].factory_edges]
    assert at_right
    assert all("mitre the right edge" in measures[n].remarks for n in at_right)


def test_a_taper_sawn_at_both_ends_is_told_by_its_two_lengths():
    # a jamb of one upright tile over a sill that falls 4 mm across it, its top sawn too: 196 and 200 high from the top
    data = job_data(wall_data(outline=[[0, 0], [140, 4], [140, 200], [0, 200]]))
    data["tile"]["t"].update(length=300, width=140)
    data["wall"][0]["layout"] = {"tile": "t", "pattern": "vertical-stack", "start": {"x": 0, "y": -50}}
    _, _, measures = measured(data)
    (measure,) = measures.values()
    assert measure.height == "196 to 200"
    assert measure.dimension("height").origin == "top"
    assert float(measure.dimension("right height").printed) == 196
    assert "no factory edge top: measured down from the cut" in measure.remarks
