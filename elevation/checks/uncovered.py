"""Rule: nothing of the tiled area is left bare."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

import shapely
from shapely.geometry import Polygon

from elevation.checks.base import Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS, parts
from elevation.plan import Plan


@dataclass(frozen=True)
class Uncovered(Rule):
    """What no piece covers is nowhere wider than the joint.

    This is a check of the program's own work: where it speaks, the cut sheet is wrong and nothing may be cut from it.
    """

    id: ClassVar[str] = "uncovered"
    level: ClassVar[Level] = "stop"
    source: ClassVar[Source] = Source("this program, check of its own result")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each zone with a bare place."""
        for laid in plan.faces:
            for zone in laid.zones:
                pieces = [p for p in plan.pieces_of(laid.face.id) if p.zone == zone.place.id]
                covered = shapely.union_all([Polygon(p.outer, p.holes) for p in pieces])
                bare = zone.region.difference(covered)
                # mitred: at a crossing of joints the gap is wider than a joint from corner to corner, rightly
                left = parts(shapely.buffer(bare, -(zone.joint + EPS) / 2, join_style="mitre"))
                if left:
                    x, y = left[0].representative_point().coords[0]
                    yield self.found(
                        laid.face.id,
                        f"zone {zone.place.id}: {len(left)} places are covered by no tile, the first at "
                        f"x {text(plan, x)}, y {text(plan, y)}. Do not cut from this set, and "
                        "report it with the job file",
                    )
