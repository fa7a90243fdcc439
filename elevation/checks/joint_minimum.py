"""Rule: the least joint."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import limit, text
from elevation.checks.zones import joints
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class JointMinimum(Rule):
    """A grout joint is never less than 1/16 in (1.5 mm), however even the tile: grout cannot be packed into less."""

    id: ClassVar[str] = "joint-minimum"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("grout joint size")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each tile that is laid with less."""
        least = limit(plan, 1 / 16, 1.5)
        for (name, joint), walls in joints(plan).items():
            if joint < least - EPS / 10:
                yield self.found(
                    f"tile {name}",
                    f"the joint of {text(plan, joint)} on {', '.join(walls)} is {text(plan, least - joint)} under the "
                    f"least of {text(plan, least)}",
                )
