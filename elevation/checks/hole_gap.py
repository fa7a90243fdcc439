"""Rule: the gap round pipes and boxes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class HoleGap(Rule):
    """Tile keeps at least 1/8 in (3 mm) off pipes, valves and boxes, so that none of them presses on it."""

    id: ClassVar[str] = "hole-gap"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("gap at penetrations")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each hole with less."""
        least = limit(plan, 1 / 8, 3.0)
        for laid in plan.faces:
            for cut in laid.face.cutouts:
                gap = min(laid.edges[i].offset for i in cut.shape.borders)
                if cut.kind == "hole" and gap < least - EPS:
                    yield self.found(
                        f"{laid.face.id} {cut.id}",
                        f"the gap round it is {text(plan, gap)}, {text(plan, least - gap)} short of the least, "
                        f"{text(plan, least)}",
                    )
