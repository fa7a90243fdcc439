"""Rule: how high tile goes over a tub or in a shower."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.checks.room import floor_level, rims, tile_top
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class WetHeight(Rule):
    """Over a tub with a shower, and in a shower, codes ask for a surface that takes up no water.

    It reaches 72 in (1829 mm) above the floor. Plumbing codes ask besides for 70 in (1778 mm) above the drain, and
    both must hold. The drain is not in the job file; it lies below the rim, so tile that reaches 70 in above the rim
    is high enough for it. Local code decides.
    """

    id: ClassVar[str] = "wet-height"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source(
        "International Residential Code and International Plumbing Code", "edition in force locally",
        "bathtub and shower spaces", "secondary source",
    )  # fmt: skip

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each wall at a tub or pan whose tile may not reach high enough."""
        above_floor, above_drain = limit(plan, 72, 1829.0), limit(plan, 70, 1778.0)
        asked = (
            f"{text(plan, above_floor)} above the floor and {text(plan, above_drain)} above the drain are asked for; "
            "confirm locally"
        )
        for wall in plan.walls:
            found = rims(wall)
            if not found:
                continue
            top, rim = tile_top(wall), max(r.height for r in found)
            floor = floor_level(plan, wall)
            over_rim = f"tile reaches {text(plan, top - rim)} above the rim of the {found[0].word}"
            if floor is None and top - rim < above_floor - EPS:
                yield self.found(
                    wall.face.id, f"{over_rim}; how far that is above the floor the job file does not tell. {asked}"
                )
            elif floor is not None and top - floor < above_floor - EPS:
                short = text(plan, above_floor - (top - floor))
                yield self.found(
                    wall.face.id, f"tile reaches {text(plan, top - floor)} above the floor, {short} too low: {asked}"
                )
            elif top - rim < above_drain - EPS:
                yield self.found(wall.face.id, f"{over_rim}: measure from the drain on site. {asked}")
