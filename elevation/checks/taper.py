"""Rule: tapered cuts along an edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import ClassVar

import shapely
from shapely.geometry import LineString, Polygon

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import across, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.patterns.running_bond import RunningBond
from elevation.pieces import EdgeRun, Piece
from elevation.plan import Plan

_RAKE = 1 / 12
"""An edge that leans by more of its length was built so."""


class Taper(Rule):
    """Where cuts along an edge taper by more than a third of the smallest, the eye sees the wall run out.

    A larger cut hides the taper; so does a joint with a range that takes it up. At upright edges a running bond is
    left out, since its cuts differ anyway; so is a rake, an edge that leans by more than 1 in 12: nobody takes a
    sloped ceiling for a level one.
    """

    id: ClassVar[str] = "taper"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each edge with such a taper."""
        for run in plan.runs:
            axis = across(run)
            if not _leans(run, axis):
                continue
            pieces = [p for p in plan.along(run) if p.kind == "tapered" and plan.tile(p).chip is None]
            zones = {p.zone for p in pieces}
            patterns = [plan.face(run.face).zone(z).place.pattern for z in zones]
            if not pieces or (axis == 0 and any(isinstance(p, RunningBond) and p.shift > 0 for p in patterns)):
                continue
            ends = [e for p in pieces for e in _ends(p, axis)]
            least, most = min(ends), max(ends)
            if most - least > least / 3 + EPS:
                yield self.found(
                    run.name,
                    f"its cuts run from {text(plan, least)} to {text(plan, most)}, a taper of "
                    f"{text(plan, most - least)}. Start so that they are larger, or true up the wall",
                )


def _leans(run: EdgeRun, axis: int) -> bool:
    """Tell whether an edge is out of true, but no rake."""
    along = [p[axis] for line in run.line for p in line]
    length = sum(math.dist(p, q) for line in run.line for p, q in pairwise(line))
    return EPS < max(along) - min(along) <= max(EPS, length * _RAKE)


def _ends(piece: Piece, axis: int) -> tuple[float, float]:
    """Return how wide a piece is across an axis just inside either end of its own."""
    shape = Polygon(piece.outer, piece.holes)
    x0, y0, x1, y1 = shape.bounds
    out = []
    for share in (0.02, 0.98):
        if axis == 0:
            y = y0 + share * (y1 - y0)
            line = LineString([(x0 - 1, y), (x1 + 1, y)])
        else:
            x = x0 + share * (x1 - x0)
            line = LineString([(x, y0 - 1), (x, y1 + 1)])
        out.append(float(shapely.length(shape.intersection(line))))
    return out[0], out[1]
