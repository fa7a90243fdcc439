"""Rule: lights over a tub or shower."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.checks.room import rims
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class LightZone(Rule):
    """Within 3 ft across and 8 ft up from the rim of a tub or shower, no light hangs, and others are listed for damp.

    Hanging, track and pendant lights and paddle fans are meant; fittings that get sprayed are listed for wet places. A
    licensed electrician decides.
    """

    id: ClassVar[str] = "light-zone"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source(
        "International Residential Code", "edition in force locally", "luminaires in bathtub and shower areas",
        "secondary source",
    )  # fmt: skip

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each light in that space."""
        across, up = limit(plan, 36, 914.0), limit(plan, 96, 2438.0)
        for wall in plan.walls:
            for mark in plan.job.wall_by_id(wall.face.id).mark:
                if mark.kind != "light":
                    continue
                for rim in rims(wall):
                    if rim.away(mark.x, mark.x + mark.width) <= across + EPS and mark.y - rim.height <= up + EPS:
                        yield self.found(
                            f"{wall.face.id} {mark.id}",
                            f"the light is {text(plan, mark.y - rim.height)} above the rim of the {rim.word}: within "
                            f"{text(plan, across)} across and {text(plan, up)} up nothing may hang; let an "
                            "electrician choose it",
                        )
                        break
