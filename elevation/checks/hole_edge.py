"""Rule: holes close to the edge of a tile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from shapely.geometry import LineString, Polygon

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS, parts, polygon, rings_of
from elevation.layout.regions import cut_out_area
from elevation.pieces import Piece
from elevation.plan import Plan


@dataclass(frozen=True)
class HoleEdge(Rule):
    """A hole whose rim comes within 1/4 in (6 mm) of a tile's edge leaves a bridge that splits when drilled or later.

    Best it lies well inside a tile, or is notched out of the tiles on both sides of a joint.
    """

    id: ClassVar[str] = "hole-edge"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each hole, at its weakest bridge."""
        least = limit(plan, 1 / 4, 6.0)
        for laid in plan.faces:
            for cut in laid.face.cutouts:
                if cut.kind != "hole":
                    continue
                area = cut_out_area(cut, laid.edges)
                bridges = [
                    (gap, p)
                    for p in plan.pieces_of(laid.face.id)
                    if not p.is_whole and plan.tile(p).chip is None
                    for gap in _bridges(p, area)
                    if EPS < gap < least - EPS
                ]
                if bridges:
                    gap, piece = min(bridges, key=lambda b: (b[0], b[1].id))
                    yield self.found(
                        f"{laid.face.id} {cut.id}",
                        f"its rim comes within {text(plan, gap)} of an edge of {piece.number}; under "
                        f"{text(plan, least)} the tile may split. Move the start, or notch it through to the edge",
                    )


def _bridges(piece: Piece, hole: Polygon) -> Iterator[float]:
    """Yield the distance from a hole to each side of a piece that it cuts into, as if the hole were filled."""
    inside = hole.intersection(polygon(piece.slot))
    whole = Polygon(piece.outer)
    if inside.is_empty or not inside.intersects(whole):
        return
    for part in parts(whole.union(inside).simplify(EPS / 5)):
        ring, _ = rings_of(part)
        for p, q in zip(ring, (*ring[1:], ring[0]), strict=True):
            yield hole.distance(LineString((p, q)))
