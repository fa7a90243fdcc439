"""Rule: zones stand one joint from each other and from what borders them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import ClassVar

import shapely
from shapely.geometry import Polygon

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS, parts, polygon
from elevation.layout import LaidFace
from elevation.layout.regions import face_region
from elevation.plan import Plan


@dataclass(frozen=True)
class ZoneJoints(Rule):
    """Zones side by side leave one joint between them, neither less nor so much more that nothing fills it.

    The outside of a zone is the outside of its tiles and trims; the field stops one joint away by itself, but nobody
    moves two zones apart. A gap wider than the joint and narrower than two joints has no room for the field.
    """

    id: ClassVar[str] = "zone-joints"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each pair of zones too close, and for each zone beside a gap that stays open."""
        for wall in plan.walls:
            shapes = {z.id: polygon(z.shape.ring) for z in wall.face.zones if z.shape is not None}
            yield from self._too_close(plan, wall, shapes)
            yield from self._open(plan, wall, shapes)

    def _too_close(self, plan: Plan, wall: LaidFace, shapes: dict[str, Polygon]) -> Iterator[Finding]:
        joint = wall.zones[0].joint
        for one, two in combinations(shapes, 2):
            apart = shapely.distance(shapes[one], shapes[two])
            if apart < joint - EPS:
                stands = f"stands {text(plan, apart)} from" if apart > EPS else "touches"
                yield self.found(
                    f"{wall.face.id} {two}",
                    f"{stands} zone {one}: there is no room for the joint of {text(plan, joint)} between them; move "
                    "one of the two, or make it smaller",
                )

    def _open(self, plan: Plan, wall: LaidFace, shapes: dict[str, Polygon]) -> Iterator[Finding]:
        if not shapes:
            return
        field = [z.region for z in wall.field]
        left = face_region(wall.face, wall.edges).difference(shapely.union_all([*field, *shapes.values()]))
        joint = wall.zones[0].joint
        # closed first: where two zones stand two joints apart, the field between them is a line of no width
        whole = left.buffer(EPS, join_style="mitre")
        for gap in parts(whole.buffer(-joint / 2 - 2 * EPS, join_style="mitre")):
            beside = [name for name, shape in shapes.items() if shapely.distance(shape, gap) < joint]
            x, y = gap.representative_point().coords[0]
            yield self.found(
                f"{wall.face.id} {' '.join(beside[:1])}".strip(),
                f"beside it a gap stays open, wider than the joint of {text(plan, joint)} and too narrow for the "
                f"field, at x {text(plan, x)}, y {text(plan, y)}: let the zone reach to one joint from what borders "
                "it, or leave room for a cut",
            )
