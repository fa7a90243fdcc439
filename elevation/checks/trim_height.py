"""Rule: the height of profiles."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class TrimHeight(Rule):
    """A profile is as high as the tile and the bed under it.

    One lower than the tile itself leaves the tile standing proud of it with its raw edge in sight, and must not be
    ordered. One that takes the tile but not the whole bed works only where the bed is thinned towards it.
    """

    id: ClassVar[str] = "trim-height"
    level: ClassVar[Level] = "stop"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each profile and tile that do not go together."""
        for name, trim in plan.job.trim.items():
            if trim.kind != "profile":
                continue
            used = dict.fromkeys(p.tile for r in plan.runs if r.trim == name for p in plan.along(r))
            for tile_id in used:
                tile, bed = plan.job.tile[tile_id], plan.job.room.bed
                need = tile.thickness + bed
                wanted = (
                    f"{tile.name} and bed are {text(plan, tile.thickness)} + {text(plan, bed)} = {text(plan, need)}"
                )
                where = f"trim {name}"
                if trim.height is None:
                    yield self.found(where, f"its height is not given: {wanted}; write height", "note")
                elif trim.height < tile.thickness - EPS:
                    yield self.found(
                        where,
                        f"it is {text(plan, trim.height)} high, {text(plan, tile.thickness - trim.height)} less than "
                        f"the tile alone: {wanted}. Take a higher profile",
                    )
                elif trim.height < need - EPS:
                    yield self.found(
                        where,
                        f"it is {text(plan, trim.height)} high, {text(plan, need - trim.height)} less than it must "
                        f"take: {wanted}. Take a higher profile, or thin the bed towards it",
                        "advise",
                    )
