"""Rule: holes over a joint."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.holes import cure, judged_holes
from elevation.checks.look import counted, limit, listed, text
from elevation.errors import Finding, Level
from elevation.pieces.hole_shift import is_inside
from elevation.plan import Plan


class HoleJoint(Rule):
    """A hole over a joint is notched out of two tiles or four, where one tile drilled would do.

    Said only of a hole that fits in one tile with 1/4 in (6 mm) all round; a larger one has no choice. The finding
    says how far it reaches over the edge of the tile that holds the most of it, and the least move of the layout of
    its zone that puts it inside one tile and brings no other hole of the wall too close to an edge.
    """

    id: ClassVar[str] = "hole-joint"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each hole that need not stand on a joint."""
        least = limit(plan, 1 / 4, 6.0)
        for laid in plan.faces:
            holes = judged_holes(plan, laid, least)
            for hole in holes:
                over = hole.beyond(hole.zone.origin)
                # over the border of its zone it may be cut where no layout helps; the edge of the zone decides there
                if over == 0 or not hole.fits_a_tile() or [h.id for h in holes].count(hole.id) > 1:
                    continue
                cut = [p for p in plan.pieces_of(laid.face.id) if plan.shapes[p.id].distance(hole.area) <= 1e-6]
                told = (
                    f"stands over a joint, {text(plan, over)} beyond the edge of a tile: notched out of "
                    f"{counted(len(cut), 'tile')}, {listed(cut)}. "
                )
                yield self.found(f"{laid.face.id} {hole.id}", told + cure(plan, laid, hole, holes, is_inside))
