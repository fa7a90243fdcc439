"""Rule: outlets at a tub or shower."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import text
from elevation.checks.room import rims
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class OutletZone(Rule):
    """No receptacle or outlet is placed within or directly over a tub or shower.

    Only marks of the kind ``outlet`` are looked at. A licensed electrician decides.
    """

    id: ClassVar[str] = "outlet-zone"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = Source(
        "International Residential Code", "edition in force locally", "receptacle outlets, tubs and showers",
        "secondary source",
    )  # fmt: skip

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each such outlet."""
        for wall in plan.walls:
            for mark in plan.job.wall_by_id(wall.face.id).mark:
                over = [r for r in rims(wall) if mark.x + mark.width > r.left + EPS and mark.x < r.right - EPS]
                if mark.kind == "outlet" and over:
                    yield self.found(
                        f"{wall.face.id} {mark.id}",
                        f"the outlet is over the {over[0].word}, {text(plan, mark.y - over[0].height)} above its rim: "
                        "move it away from there",
                    )
