"""Rule: outer cuts no narrower than half a tile."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source, a108
from elevation.checks.look import across, counted, cut_side, mover, slot_size, text
from elevation.checks.sliver import sliver
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.patterns.running_bond import RunningBond
from elevation.pieces import EdgeRun, Piece
from elevation.plan import Plan


class HalfTile(Rule):
    """Cuts at the outer edges should usually be no smaller than half a tile, with the layout centred and balanced.

    A running bond is judged as a whole: the ends of its courses differ by the shift, so at an upright edge some are
    under half whatever the start, and only slivers are held against it. What is already called a sliver is not told
    again; openings, and zones less than a tile across, are left out: what they leave cannot be chosen.
    """

    id: ClassVar[str] = "half-tile"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = a108("centring and balancing, smallest cut")

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each outer edge of a face or zone along which cuts are under half a tile."""
        for run in plan.runs:
            face = plan.face(run.face)
            if any(c.id == run.of for c in face.face.cutouts):
                continue
            axis = across(run)
            small = [p for p in plan.along(run) if _under_half(plan, run, p, axis)]
            if not small:
                continue
            piece = min(small, key=lambda p: p.shown[axis])
            size, shown = slot_size(piece)[axis], piece.shown[axis]
            zone = face.zone(piece.zone)
            more = (size + zone.joint) / 2
            moved = mover(plan, piece, axis)
            yield self.found(
                run.name,
                f"{counted(len(small), 'cut')} under half a tile, the smallest {text(plan, shown)} of "
                f"{text(plan, size)}. {moved[0].upper()}{moved[1:]} moved half a module, {text(plan, more)}, would "
                f"make it {text(plan, min(size, shown + more))} and change the other end as much",
            )


def _under_half(plan: Plan, run: EdgeRun, piece: Piece, axis: int) -> bool:
    if piece.is_whole or plan.tile(piece).chip is not None:
        return False
    zone = plan.face(piece.face).zone(piece.zone)
    pattern, bounds = zone.place.pattern, zone.region.bounds
    # less than a tile from border to border, as on the jamb of a niche: one piece, whatever the start
    if bounds[axis + 2] - bounds[axis] < slot_size(piece)[axis] + EPS:
        return False
    if axis == 0 and isinstance(pattern, RunningBond) and pattern.shift > 0:
        return False
    size, shown = slot_size(piece)[axis], piece.shown[axis]
    ends = ("left", "right") if axis == 0 else ("bottom", "top")
    # a piece that is cut at its other end is small because of that one
    cut = [e for e in ends if e not in piece.factory_edges]
    return EPS < shown < size / 2 - EPS and cut == [cut_side(plan, run)] and sliver(plan, piece) is None
