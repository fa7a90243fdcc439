"""Rule: whole tiles where they are asked for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import across, counted, slot_size, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan


class FullTile(Rule):
    """Where an edge says ``full = true``, the tiles along it are whole across it.

    Every second course of a running bond ends in a cut there; it is judged by its larger tiles.
    """

    id: ClassVar[str] = "full-tile"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = Source("asked for in the job file")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each edge that asks for whole tiles and has none."""
        for laid in plan.faces:
            wanted = {e.border.name for e in laid.edges if e.border.full}
            for run in plan.runs:
                name = f"{run.of} {run.side}".strip()
                if run.face != laid.face.id or name not in wanted:
                    continue
                axis, pieces = across(run), plan.along(run)
                short = [p for p in pieces if p.shown[axis] < slot_size(p)[axis] - EPS]
                if not short or (axis == 0 and len(short) < len(pieces) and _is_bond(plan, run.face)):
                    continue
                piece = max(short, key=lambda p: p.shown[axis])
                lost = slot_size(piece)[axis] - piece.shown[axis]
                yield self.found(
                    run.name,
                    f"whole tiles are asked for, but {counted(len(short), 'piece')} of {len(pieces)} are cut, by "
                    f"{text(plan, lost)} or more. Start there: a whole tile at that side",
                )


def _is_bond(plan: Plan, face: str) -> bool:
    return plan.face(face).zones[0].place.pattern.pattern == "running-bond"
