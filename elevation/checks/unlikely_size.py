"""Rule: sizes that were likely read in the other unit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.errors import Finding, Level
from elevation.plan import Plan
from elevation.units import format_length

_WIDEST = 600 * 25.4
_HIGHEST = 300 * 25.4
_SMALLEST = 150.0
_SMALL_TILE = 40.0


class UnlikelySize(Rule):
    """A wall of an inch file over 50 ft wide or 25 ft high was likely measured in centimetres or millimetres.

    So was a wall of a metric file under 150 mm both ways, or a tile under 40 mm long that is no mosaic, measured in
    inches. A bare number is in the units of the file; one with its unit, "1524 mm" or "60 in", is taken as it says.
    """

    id: ClassVar[str] = "unlikely-size"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each wall and each tile that is used."""
        inch = plan.job.units == "in"
        other = "cm or mm" if inch else "inches"
        advice = f"if it was measured in {other}, write the unit behind it in quotes"
        for laid in plan.walls:
            x0, y0, x1, y1 = laid.face.bounds
            wide, high = x1 - x0, y1 - y0
            if (wide > _WIDEST or high > _HIGHEST) if inch else max(wide, high) < _SMALLEST:
                size = f"{self._say(plan, wide)} wide and {self._say(plan, high)} high"
                yield self.found(laid.face.id, f"is {size}; {advice}")
        for name in dict.fromkeys(z.place.tile for f in plan.faces for z in f.zones):
            tile = plan.job.tile[name]
            if not inch and tile.chip is None and tile.length < _SMALL_TILE:
                yield self.found(f"tile {name}", f"is {self._say(plan, tile.length)} long; {advice}")

    def _say(self, plan: Plan, mm: float) -> str:
        if plan.job.units == "in":
            return f"{mm / 304.8:.0f} ft"
        return f"{format_length(mm, 0.1, plan.job.units)} mm"
