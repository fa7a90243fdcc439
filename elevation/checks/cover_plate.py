"""Rule: a plate hides its hole."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.wall import CutOut


class CoverPlate(Rule):
    """The plate over a valve, an arm or an outlet must hide the hole and the gap round the body.

    Less than 1/8 in (3 mm) of overlap leaves no room for a chipped edge.
    """

    id: ClassVar[str] = "cover-plate"
    level: ClassVar[Level] = "stop"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each hole that its plate does not hide, or only just."""
        least = limit(plan, 1 / 8, 3.0)
        for laid in plan.faces:
            for cut in laid.face.cutouts:
                if cut.kind != "hole" or cut.cover is None:
                    continue
                over = overlap(laid, cut)
                where = f"{laid.face.id} {cut.id}"
                if over < -EPS:
                    yield self.found(
                        where,
                        f"the plate does not hide the hole: {text(plan, -over)} of the gap would show on a side. Take "
                        f"{_plate(plan, laid, cut, least)} or larger; moving the layout does not help",
                    )
                elif over < least - EPS:
                    yield self.found(
                        where,
                        f"the plate covers the tile by {text(plan, max(0.0, over))} only, {text(plan, least - over)} "
                        f"short: {text(plan, least)} or more would hide a chipped edge. "
                        f"{_plate(plan, laid, cut, least).capitalize()} or larger would do",
                        "advise",
                    )


def _plate(plan: Plan, laid: LaidFace, cut: CutOut, least: float) -> str:
    """Return the smallest plate that would do, in words."""
    half = _half(laid, cut)
    if isinstance(cut.cover, tuple):
        return f"a plate of {text(plan, 2 * (half[0] + least))} x {text(plan, 2 * (half[1] + least))}"
    return f"a round plate of {text(plan, 2 * (_reach(laid, cut) + least))}"


def _half(laid: LaidFace, cut: CutOut) -> tuple[float, float]:
    """Return half the width and height of a hole with its gap, mm."""
    gap = laid.edges[cut.shape.borders[0]].offset
    xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
    return (max(xs) - min(xs)) / 2 + gap, (max(ys) - min(ys)) / 2 + gap


def _reach(laid: LaidFace, cut: CutOut) -> float:
    """Return how far a hole with its gap reaches from its centre at most, mm."""
    if cut.circle is not None:
        return cut.circle[1] + laid.edges[cut.shape.borders[0]].offset
    return math.hypot(*_half(laid, cut))


def overlap(laid: LaidFace, cut: CutOut) -> float:
    """Return by how much a plate covers the tile round its hole, at the least, mm; negative: the hole shows."""
    assert cut.cover is not None
    half = _half(laid, cut)
    if isinstance(cut.cover, tuple):
        return min(cut.cover[0] / 2 - half[0], cut.cover[1] / 2 - half[1])
    return cut.cover / 2 - _reach(laid, cut)
