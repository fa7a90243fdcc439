"""Rule: a shelf across a corner stands on a course line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import ClassVar

from shapely.geometry import box

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.features import CornerShelf
from elevation.geom import EPS
from elevation.layout import LaidFace, LaidZone
from elevation.plan import Plan


class ShelfCourse(Rule):
    """A shelf across a corner has its top a joint below a course line, so that whole tiles stand upon it.

    Elsewhere the tile above it is notched or ripped, on both walls, at eye height. The shelf is easily moved before
    it is set; the finding says how far, up or down.
    """

    id: ClassVar[str] = "shelf-course"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each shelf that is off the course lines, or on those of one wall only."""
        for wall in plan.job.wall:
            for shelf in wall.corner_shelf:
                other = plan.job.neighbour(wall.id, shelf.corner)
                if other is None:
                    continue
                off = {w: _off(plan.face(w), shelf) for w in (wall.id, other.id)}
                known = {w: v for w, v in off.items() if v is not None}
                if all(min(v) <= EPS for v in known.values()):
                    continue
                here, there = off[wall.id], off[other.id]
                if here is not None and there is not None and abs(here[0] - there[0]) > EPS:
                    ways = ", ".join(f"wall {w} {_ways(plan, v)}" for w, v in known.items())
                    yield self.found(
                        f"{wall.id} {shelf.id}",
                        f"its top stands on no course line common to walls {wall.id} and {other.id}, whose courses do "
                        f"not meet there: {ways}",
                    )
                    continue
                move = here or there
                assert move is not None
                yield self.found(
                    f"{wall.id} {shelf.id}",
                    f"its top is not on a course line of walls {wall.id} and {other.id}: {_ways(plan, move)}, and "
                    "whole tiles stand a joint above it",
                )


def _ways(plan: Plan, move: tuple[float, float]) -> str:
    up, down = move
    if min(move) <= EPS:
        return "has one"
    return f"raise it {text(plan, up)} or lower it {text(plan, down)}"


def _off(wall: LaidFace, shelf: CornerShelf) -> tuple[float, float] | None:
    """Return how far the tile above a shelf is from the next course line up, and down, mm; ``None``: no tile there."""
    cut = wall.face.cutout(shelf.id)
    top = next(wall.edges[i] for i in cut.shape.borders if wall.edges[i].border.side == "top")
    xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
    line = max(ys) + top.offset
    strip = box(min(xs), line, max(xs), line + 1.0)
    zone = max(wall.zones, key=lambda z: z.region.intersection(strip).area)
    if zone.region.intersection(strip).area <= EPS or abs(zone.lattice.a[1]) > EPS:
        return None
    places = [_to_next(zone, min(y for _, y in slot.ring), line) for slot in zone.lattice.motif]
    up, down = min(up for up, _ in places), min(down for _, down in places)
    return (0.0, 0.0) if min(up, down) <= EPS else (up, down)


def _to_next(zone: LaidZone, slot: float, line: float) -> tuple[float, float]:
    rise = zone.lattice.b[1]
    share = (line - zone.origin[1] - slot) / rise
    down = (share - math.floor(share)) * rise
    return rise - down, down
