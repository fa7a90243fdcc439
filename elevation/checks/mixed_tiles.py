"""Rule: tiles of two sizes with one joint."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.layout import LaidZone
from elevation.plan import Plan


class MixedTiles(Rule):
    """Tiles of two sizes share one joint only where so many of the small one and their joints make up the large one.

    Elsewhere their joints do not meet, and it shows; a trim or a joint of its own parts such zones.
    """

    id: ClassVar[str] = "mixed-tiles"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source("ANSI A137.1", "current edition", "modularity of tile sizes", "secondary source")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each zone whose courses do not fit those of the field."""
        for wall in plan.walls:
            field = wall.zones[0]
            for zone in wall.zones[1:]:
                if zone.place.beyond or zone.place.tile == field.place.tile or abs(zone.joint - field.joint) > EPS:
                    continue
                ours, theirs = _course(zone), _course(field)
                small, large = min(ours, theirs), max(ours, theirs)
                n = max(1, round((large + zone.joint) / (small + zone.joint)))
                fit = n * small + (n - 1) * zone.joint
                if abs(fit - large) > EPS:
                    yield self.found(
                        f"{wall.face.id} {zone.place.id}",
                        f"its courses of {text(plan, ours)} do not fit the field's of {text(plan, theirs)} with one "
                        f"joint of {text(plan, zone.joint)}: {n} of the smaller come to {text(plan, fit)}",
                    )


def _course(zone: LaidZone) -> float:
    """Return the height of a course of tile, mm."""
    ys = [y for _, y in zone.lattice.motif[0].ring]
    return max(ys) - min(ys)
