"""Rule: how flat the wall must be for large tile."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import text
from elevation.checks.nominal_tile import used_tiles
from elevation.errors import Finding, Level
from elevation.plan import Plan

LARGE = 15 * 25.4


class Flatness(Rule):
    """For tile with a side of 15 in or more the wall is flat within 1/8 in in 10 ft and 1/16 in in 24 in.

    Mortar is not there to level: a wall that is not flat is made so before the tile is set.
    """

    id: ClassVar[str] = "flatness"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source("ANSI A108.01", "current edition", "subsurface flatness", "secondary source")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each large tile."""
        flat = "1/8 in in 10 ft and 1/16 in in 24 in" if plan.job.units == "in" else "3 mm in 3 m and 1.6 mm in 600 mm"
        for name in used_tiles(plan):
            tile = plan.job.tile[name]
            if tile.length >= LARGE and tile.chip is None:
                yield self.found(
                    f"tile {name}",
                    f"{tile.name} is {text(plan, tile.length)} long: check that the walls are flat within {flat}, "
                    "and flatten them first where they are not",
                )
