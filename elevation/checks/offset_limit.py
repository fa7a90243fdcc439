"""Rule: how far long tiles may be offset."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.patterns.running_bond import RunningBond
from elevation.plan import Plan

LONG = 15 * 25.4
"""Tiles with a side over this are long; the standard counts nominal sizes."""


class OffsetLimit(Rule):
    """Tiles over 15 in long are offset by a third of their length at most.

    A long tile is bowed most at its middle; a half offset puts that beside the ends of its neighbours, and the edges
    step. More than a third wants a mock-up that the owner has approved.
    """

    id: ClassVar[str] = "offset-limit"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("running bond and other offset patterns")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each zone with long tiles that is offset by more than a third."""
        for face in plan.faces:
            for zone in face.zones:
                pattern, tile = zone.place.pattern, plan.job.tile[zone.place.tile]
                if not isinstance(pattern, RunningBond) or tile.length <= LONG or tile.chip is not None:
                    continue
                offset = min(pattern.shift, 1 - pattern.shift)
                if offset > 1 / 3 + 1e-6:
                    yield self.found(
                        face.face.id,
                        f"{tile.name} is {text(plan, tile.length)} long and offset by {offset:.0%}; over "
                        f'{text(plan, LONG)} a third is the most: write shift = "1/3", or have a mock-up approved',
                    )
