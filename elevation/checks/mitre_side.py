"""Rule: where two tiles can be mitred."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.cutting.trims import TrimRun
from elevation.errors import Finding, Level
from elevation.plan import Plan


@dataclass(frozen=True)
class MitreSide(Rule):
    """Tiles are mitred where a second tile, mitred too, meets them round an outside corner.

    That is round a niche, round an opening with tiled returns, and where two walls meet at an outside corner. Where
    the tile ends in the open, at a fixture or at a zone in the same plane nothing meets the bevel, and its raw edge
    shows. A mosaic has no edge to bevel, and along a curve the bevel must be ground by hand.
    """

    id: ClassVar[str] = "mitre-side"
    level: ClassVar[Level] = "stop"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each run of mitred tile that has nothing to meet, or cannot be bevelled."""
        for trim in plan.trims:
            if plan.job.trim[trim.trim].kind == "mitre":
                for run in trim.runs:
                    yield from self._run(plan, run)

    def _run(self, plan: Plan, run: TrimRun) -> Iterator[Finding]:
        laid = plan.face(run.face)
        border = next(e.border for e in laid.edges if (e.border.of, e.border.side) == (run.of, run.side))
        if (why := _alone(plan, run)) is not None:
            yield self.found(run.id, f"{why}. Take a profile or bullnose there")
        elif not run.of and border.round_corner is None:
            text = 'no wall is named round the corner, whose tile would meet its bevel: write with = "...", or take a '
            yield self.found(run.id, f"{text}profile or bullnose", "advise")
        elif (wall := border.round_corner) is not None and not _meets_mitre(plan, run.face, wall):
            yield self.found(
                run.id,
                f"the tile of wall {wall} is not mitred at this corner: give its edge there a trim of kind mitre, and "
                f'with = "{run.face}"',
                "advise",
            )
        if any(plan.job.tile[plan.by_id[t].tile].chip is not None for t in run.tiles):
            yield self.found(run.id, "a mosaic stands there, whose chips have no edge that can be bevelled")
        elif run.is_curved:
            yield self.found(run.id, "the side is bent: the bevel must be ground by hand, not sawn", "advise")


def _alone(plan: Plan, run: TrimRun) -> str | None:
    """Return why no tile can meet a bevel on something that a wall carries; ``None``: one does."""
    laid = plan.face(run.face)
    cut = next((c for c in laid.face.cutouts if c.id == run.of), None)
    if not run.of:
        return None
    if cut is None:
        return "the tile on its other side lies in the same plane"
    if any(f.face.of == run.of for f in plan.faces_of(laid.face.wall)):
        return None
    if cut.kind == "opening":
        return "the opening has no tiled return to meet its bevel: the job gives no depth"
    return f"no tile meets its bevel at the {cut.word}"


def _meets_mitre(plan: Plan, this: str, other: str) -> bool:
    """Tell whether a wall has a mitred edge at the corner with this one."""
    trims = plan.job.trim
    return any(
        b.round_corner == this and b.trim is not None and trims[b.trim].kind == "mitre"
        for b in plan.face(other).face.borders
    )
