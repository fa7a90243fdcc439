"""Rule: corners of trim that cannot be made as the job says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.errors import Finding, Level
from elevation.plan import Plan


@dataclass(frozen=True)
class TrimCorners(Rule):
    """Corner pieces are made for square corners of one trim; two trims that meet are mitred only where they are alike.

    Any other corner is mitred, or butted where two trims meet, and drawn so.
    """

    id: ClassVar[str] = "trim-corner"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each corner that is drawn otherwise than the job says."""
        for trim in plan.trims:
            for corner in trim.corners:
                if corner.said:
                    yield self.found(" and ".join(corner.runs), corner.said)
