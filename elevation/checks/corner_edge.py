"""Rule: the edge of a tile shows at an outside corner without trim."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.errors import Finding, Level
from elevation.plan import Plan
from elevation.wall import outside_corners


@dataclass(frozen=True)
class CornerEdge(Rule):
    """At an outside corner with neither trim nor mitre the edge of one wall's tile shows over its whole height.

    A pressed tile seldom has glaze on its edge, and a sawn one none. Such an edge is ended with a profile or
    bullnose, mitred, or made of tile with a finished edge.
    """

    id: ClassVar[str] = "corner-edge"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each outside corner that nothing covers."""
        for corner in outside_corners(plan.job):
            if any(trim is not None for trim in corner.trims):
                continue
            by = corner.runs_by
            if by is None:
                where, whose = corner.name, "the edge of one wall's tile"
            else:
                where, whose = " ".join(by), f"the edge of wall {by[0]}'s tile, which laps the other's,"
            yield self.found(
                where,
                f"{whose} shows all the way up the outside corner: end it with a profile or bullnose, mitre both "
                "walls' tile, or take tile with a finished edge",
            )
