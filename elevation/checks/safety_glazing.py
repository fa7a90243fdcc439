"""Rule: windows near a tub or shower."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.checks.room import floor_level, rims
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class SafetyGlazing(Rule):
    """Glass low down near a tub or shower is safety glass.

    Meant is glass with its lower edge under 60 in above where one stands, within 60 in of the tub or shower.
    Where the floor is not known, the height is taken from the foot of the wall. Local code decides.
    """

    id: ClassVar[str] = "safety-glazing"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source(
        "International Residential Code", "edition in force locally", "glazing in hazardous locations, wet surfaces",
        "secondary source",
    )  # fmt: skip

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each such window."""
        far = limit(plan, 60, 1524.0)
        for wall in plan.walls:
            floor = floor_level(plan, wall)
            foot = wall.face.bounds[1] if floor is None else floor
            for cut in wall.face.cutouts:
                if cut.word != "window":
                    continue
                xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
                near = [r for r in rims(wall) if r.away(min(xs), max(xs)) <= far + EPS]
                height = min(ys) - foot
                if near and height < far - EPS:
                    from_where = "the foot of the wall" if floor is None else "the floor"
                    yield self.found(
                        f"{wall.face.id} {cut.id}",
                        f"its lower edge is {text(plan, height)} above {from_where} and it is within "
                        f"{text(plan, far)} of the {near[0].word}: safety glass is asked for; confirm locally",
                    )
