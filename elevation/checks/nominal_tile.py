"""Rule: tile sizes are measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.errors import Finding, Level
from elevation.plan import Plan


class NominalTile(Rule):
    """A tile's size is measured on the tiles that will be set, not taken from its name.

    A nominal size is only approximate; a pressed tile may be off by 3 % of it, which adds up course by course.
    """

    id: ClassVar[str] = "nominal-tile"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = Source("ANSI A137.1", "current edition", "nominal size", "secondary source")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each tile of which none was measured."""
        for name in used_tiles(plan):
            tile = plan.job.tile[name]
            if tile.sampled == 0:
                yield self.found(
                    f"tile {name}",
                    f"{tile.name} was not measured, its size is nominal: measure 10 tiles on site and write length, "
                    "width, variation and sampled before anything is cut",
                )


def used_tiles(plan: Plan) -> tuple[str, ...]:
    """Return the ids of the tiles that are laid somewhere, in the order of the job."""
    used = {z.place.tile for f in plan.faces for z in f.zones}
    return tuple(name for name in plan.job.tile if name in used)
