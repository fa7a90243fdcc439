"""Rule: holes close to the edge of a tile."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.holes import border_name, cure, judged_holes, piece_in_slot
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.pieces.hole_place import Bridge
from elevation.plan import Plan


class HoleEdge(Rule):
    """A hole whose rim comes within 1/4 in (6 mm) of a tile's edge leaves a bridge that splits when drilled or later.

    Best it lies well inside a tile, or is notched out of the tiles on both sides of a joint. A round rim that only
    just reaches over an edge leaves two points that break off, and counts the same. The finding says by how much it
    is too close, and the least move of the layout of its zone that cures it without bringing another hole of the
    wall too close to an edge; what the move does to the cuts at the ends is not looked at.
    """

    id: ClassVar[str] = "hole-edge"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each hole, at its weakest bridge."""
        least = limit(plan, 1 / 4, 6.0)
        for laid in plan.faces:
            holes = judged_holes(plan, laid, least)
            for name in dict.fromkeys(h.id for h in holes):
                weak = [(h, b) for h in holes if h.id == name for b in h.bridges(h.zone.origin)]
                if not weak:
                    continue
                hole, bridge = min(weak, key=lambda w: (round(w[1].gap, 6), not w[1].sawn, w[1].slot))
                if bridge.sawn:
                    edge = f"the tile's border, {border_name(plan, laid, hole)}"
                    put_right = (
                        f"No move of the layout cures that: move the hole {text(plan, least - bridge.gap)} away, or "
                        "notch it through to the edge"
                    )
                else:
                    piece = piece_in_slot(plan, laid, hole, bridge.slot)
                    edge = f"an edge of {piece.number or piece.id}"
                    put_right = cure(plan, laid, hole, holes)
                told = f"{_told(plan, bridge, least, edge)}; under {text(plan, least)} the tile may split"
                yield self.found(f"{laid.face.id} {name}", f"{told}. {put_right}")


def _told(plan: Plan, bridge: Bridge, least: float, edge: str) -> str:
    if bridge.gap == 0:
        return f"its rim only just reaches over {edge}"
    short = text(plan, least - bridge.gap)
    return f"its rim comes within {text(plan, bridge.gap)} of {edge}, {short} too close"
