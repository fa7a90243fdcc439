"""Every cut made again from what the cut sheet prints: the texts of its numbers, and the shape the sketch shows."""

from __future__ import annotations

import math
import tomllib
from collections import Counter

import pytest
import shapely
from hypothesis import HealthCheck, Phase, assume, given, settings
from shapely.geometry import Polygon

from elevation.errors import JobError
from elevation.pieces import Piece
from elevation.pieces.measure import Measure
from elevation.plan import Plan
from elevation.units import parse_length
from tests.planning import EXAMPLES, plan_of
from tests.sheets.jobs import crooked
from tests.strategies import job_of, jobs

EPS = 0.05
Point = tuple[float, float]


class Setter:
    """Knows the tile, the shape of the sketch and the printed texts; measures from the sides that the texts name."""

    def __init__(self, piece: Piece, measure: Measure, unit: str) -> None:
        self.piece, self.measure, self.unit = piece, measure, unit
        xs, ys = [p[0] for p in piece.outer], [p[1] for p in piece.outer]
        self.box = (min(xs), min(ys), max(xs), max(ys))
        self.circles = []
        for r in measure.rounds:
            dx, dy, dr = (measure.dimensions[i] for i in (r.x, r.y, r.r))
            exact = self.from_side(dx.mm, dx.origin), self.from_side(dy.mm, dy.origin)
            made = self.from_side(self.read(dx.text), dx.origin), self.from_side(self.read(dy.text), dy.origin)
            half = 2 if r.hole else 1
            self.circles.append((exact, dr.mm / half, made, self.read(dr.text) / half))

    def read(self, text: str) -> float:
        return float(parse_length(text, self.unit))  # type: ignore[arg-type]

    def from_side(self, value: float, side: str) -> float:
        low, high = (self.box[0], self.box[2]) if side in ("left", "right") else (self.box[1], self.box[3])
        return low + value if side in ("left", "bottom") else high - value

    def along(self, value: float, axis: str) -> float:
        """Return where a corner comes to stand along an axis: on the side measured from, or at a printed distance."""
        found = [d for d in self.measure.dimensions if d.axis == axis and not d.label.startswith(("arc", "hole c"))]
        origin = found[0].origin
        away = abs(value - self.from_side(0.0, origin))
        if away <= EPS:
            return value
        near = min(found, key=lambda d: abs(d.mm - away))
        if abs(near.mm - away) <= EPS:
            # what is not cut is as long as the tile
            return value if near.full else self.from_side(self.read(near.text), origin)
        slot = [p[0 if axis == "x" else 1] for p in self.piece.slot]
        assert min(abs(value - v) for v in slot) <= EPS, f"{self.piece}: no number for a corner at {axis} {value}"
        return value

    def corner(self, p: Point) -> Point:
        for centre, radius, made, r in self.circles:
            if abs(math.dist(p, centre) - radius) < EPS:
                k = r / math.dist(p, centre)
                return made[0] + (p[0] - centre[0]) * k, made[1] + (p[1] - centre[1]) * k
        return self.along(p[0], "x"), self.along(p[1], "y")

    def cut(self) -> Polygon:
        shape = Polygon(self.piece.outer, self.piece.holes)
        if not self.circles:
            shape = shape.simplify(EPS)  # a bend of a hair is none
        rings = [list(r.coords)[:-1] for r in (shape.exterior, *shape.interiors)]
        outer, *holes = ([self.corner(p) for p in ring] for ring in rings)
        return Polygon(outer, holes)


def rebuilt(plan: Plan) -> Counter[str]:
    """Compare every cut with the plan; return how many of each kind there were."""
    kinds: Counter[str] = Counter()
    step = plan.job.step
    for piece in plan.cuts:
        kinds[piece.kind] += 1
        measure = plan.measures[piece.id]
        if min(piece.width, piece.height) < 2 * step:
            continue  # dust: rounding may leave nothing of it; the sliver rule speaks of it
        made = Setter(piece, measure, plan.job.units).cut()
        true = Polygon(piece.outer, piece.holes)
        assert made.is_valid, piece.number
        over = made.difference(true.buffer(step / 2 + EPS, join_style="mitre"))
        assert over.area < 1e-6, (piece.number, over.wkt)
        under = true.difference(made.buffer(step + EPS, join_style="mitre"))
        assert under.area < 1e-6, (piece.number, under.wkt)
        # a hair over a mark is that mark, and a rake is read in the middle of the joint: a tolerance each
        runs = [shapely.LineString(line) for run in plan.runs if run.face == piece.face for line in run.line]
        region = plan.face(piece.face).zone(piece.zone).region.buffer(2 * EPS, join_style="mitre")
        for part in shapely.get_parts(made.difference(region)).tolist():
            # past the region is past the joint: only towards a neighbour zone's joint, never at a soft joint or a trim
            edge = shapely.union_all(runs).buffer(EPS * 4, cap_style="flat")
            assert part.intersection(edge).length < 4 * step, (piece.number, part.wkt)
    return kinds


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_examples(path):
    kinds = rebuilt(plan_of(tomllib.loads(path.read_text()), findings=False))
    assert kinds["straight"] > 10


def test_a_wall_of_tapers_notches_and_holes():
    kinds = rebuilt(plan_of(crooked(), findings=False))
    assert {"straight", "tapered", "holed"} <= set(kinds)


@settings(
    max_examples=6, deadline=None, phases=(Phase.explicit, Phase.generate), suppress_health_check=list(HealthCheck)
)
@given(jobs())
def test_random_jobs(job):
    try:
        plan = plan_of(job, findings=False)
    except JobError:
        assume(False)
    rebuilt(plan)


def test_the_comparison_finds_a_wrong_number():
    plan = plan_of(tomllib.loads(EXAMPLES[0].read_text()), findings=False)
    piece = next(p for p in plan.cuts if p.kind == "straight")
    setter = Setter(piece, plan.measures[piece.id], plan.job.units)
    right = setter.read
    setter.read = lambda text: right(text) + plan.job.step * 2  # type: ignore[method-assign]
    true = Polygon(piece.outer)
    assert setter.cut().difference(true.buffer(plan.job.step / 2 + EPS, join_style="mitre")).area > 1
    assert job_of(crooked()).units == "mm"
