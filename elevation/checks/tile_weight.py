"""Rule: what the tile weighs on the wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.errors import Finding, Level
from elevation.plan import Plan
from elevation.takeoff.weights import per_area, weight_on

_PLASTER = 20.0
_SOLID = 14.0


class TileWeight(Rule):
    """Tile, wet mortar and grout hang on the board or plaster behind them, which carries only so much.

    Said of every tile whose weight is given. Gypsum plaster is held to carry 20 kg/m2, and tile of more than 70 % of
    what its background carries, 14 kg/m2, is bedded solidly; what a board carries its maker says.
    """

    id: ClassVar[str] = "tile-weight"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = Source("BS 5385-1", "2018", "weight that a background carries", "secondary source")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each tile with a weight, at its heaviest zone."""
        for name in plan.job.tile:
            zones = [z for f in plan.faces for z in f.zones if z.place.tile == name]
            found = [w for z in zones if (w := weight_on(plan.job, z)) is not None]
            if not found:
                continue
            most = max(found, key=lambda w: w.total)
            said = f"hangs {per_area(plan.job, most.total)} on the wall with mortar and grout. "
            if most.total > _PLASTER:
                said += f"Gypsum plaster is held to carry {per_area(plan.job, _PLASTER)}: too little here. "
            elif most.tile > _SOLID:
                said += f"Over {per_area(plan.job, _SOLID)} of tile on gypsum plaster it is bedded solidly. "
            yield self.found(f"tile {name}", f"{said}Ask the engineer, or the board's maker, what the wall carries")
