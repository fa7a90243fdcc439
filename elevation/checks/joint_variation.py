"""Rule: the joint against the variation of the tile."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import text
from elevation.checks.zones import joints
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan

TIMES = 3


class JointVariation(Rule):
    """The joint should be at least three times the variation of the tile, largest minus smallest of the samples.

    A narrower joint cannot take up the differences in size, and the courses run out of line.
    """

    id: ClassVar[str] = "joint-variation"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("grout joint size")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each tile and joint that is under three times its variation."""
        for (name, joint), walls in joints(plan).items():
            tile = plan.job.tile[name]
            least = TIMES * tile.variation
            if joint < least - EPS / 10:
                yield self.found(
                    f"tile {name}",
                    f"the joint of {text(plan, joint)} on {', '.join(walls)} is under three times the variation of "
                    f"{text(plan, tile.variation)}; make it {text(plan, least)} or wider, or sort the tiles by size",
                )
