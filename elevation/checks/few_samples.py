"""Rule: how many tiles are measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.nominal_tile import used_tiles
from elevation.errors import Finding, Level
from elevation.plan import Plan

ENOUGH = 10


class FewSamples(Rule):
    """Ten tiles are measured for their average size; fewer may miss the largest and the smallest."""

    id: ClassVar[str] = "few-samples"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source("ISO 10545-2", "", "determination of dimensions", "secondary source")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each tile with fewer than ten samples."""
        for name in used_tiles(plan):
            tile = plan.job.tile[name]
            if 0 < tile.sampled < ENOUGH:
                yield self.found(
                    f"tile {name}",
                    f"{tile.name}: {tile.sampled} measured; measure {ENOUGH - tile.sampled} more, from several boxes",
                )
