"""Rule: the joint of long tiles laid offset."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import limit, text
from elevation.checks.offset_limit import LONG
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.job.models import Tile
from elevation.patterns.running_bond import RunningBond
from elevation.plan import Plan


class OffsetJoint(Rule):
    """Tiles with a side over 15 in laid offset need a joint of 1/8 in when rectified, 3/16 in otherwise.

    The measured warpage of the longest edge is added to it. A narrow joint makes every step between bowed tiles show.
    """

    id: ClassVar[str] = "offset-joint"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("grout joint size in running bond and other offset patterns")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each zone with long tiles laid offset whose joint is too narrow."""
        for face in plan.faces:
            for zone in face.zones:
                pattern, tile = zone.place.pattern, plan.job.tile[zone.place.tile]
                offset = isinstance(pattern, RunningBond) and pattern.shift > 0
                if not offset or tile.length <= LONG or tile.chip is not None:
                    continue
                least = least_joint(plan, tile)
                if zone.joint < least - EPS / 10:
                    warp = "warpage not measured" if tile.warpage is None else f"warpage {text(plan, tile.warpage)}"
                    yield self.found(
                        face.face.id,
                        f"{tile.name}, {tile.edge}, {warp}, is laid offset with a joint of {text(plan, zone.joint)}; "
                        f"{text(plan, least)} is the least",
                    )


def least_joint(plan: Plan, tile: Tile) -> float:
    """Return the least joint of a long tile laid offset, mm."""
    base = limit(plan, 1 / 8, 3.0) if tile.edge == "rectified" else limit(plan, 3 / 16, 5.0)
    return base + (tile.warpage or 0.0)
