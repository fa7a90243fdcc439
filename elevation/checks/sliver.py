"""Rule: no cut narrower than the job allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from shapely.geometry import MultiLineString
from shapely.geometry.base import BaseGeometry

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import across, counted, cut_side, listed, mover, narrowest, shown_shape, slot_size, text
from elevation.errors import Finding, Level
from elevation.geom import EPS, polygon
from elevation.pieces import EdgeRun, Piece
from elevation.plan import Plan

_ENDS = (("left", "right"), ("bottom", "top"))
_WAY = {"left": "to the right", "right": "to the left", "bottom": "up", "top": "down"}


class Sliver(Rule):
    """A cut that shows narrower than the job's ``sliver`` is hard to cut, breaks easily and looks like a mistake.

    Judged is what shows once every wall is tiled, on straight cuts by width and height, on notched and tapered ones
    by their narrowest part; holes that a plate hides are left out, and so is mosaic, which is cut by the chip.
    """

    id: ClassVar[str] = "sliver"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each edge along which there are slivers."""
        by_edge: dict[str, list[Narrow]] = {}
        for piece in plan.cuts:
            found = sliver(plan, piece)
            if found is not None:
                run = _edge(plan, found)
                by_edge.setdefault(run.name if run is not None else piece.face, []).append(found)
        runs = {r.name: r for r in plan.runs}
        for where, there in by_edge.items():
            worst = min(there, key=lambda n: n.width)
            cuts = f"{counted(len(there), 'cut')} under {text(plan, plan.job.sliver)}"
            which = f"the narrowest {text(plan, worst.width)}: {listed([n.piece for n in there])}"
            yield self.found(where, f"{cuts}, {which}. {_cure(plan, runs.get(where), worst)}")


@dataclass(frozen=True, slots=True)
class Narrow:
    """A cut that is too narrow.

    Attributes:
        piece: The cut.
        width: How wide it is at its narrowest, mm.
        axis: 0: its width; 1: its height; ``None``: a part of it.
        part: That part.
    """

    piece: Piece
    width: float
    axis: int | None = None
    part: BaseGeometry | None = None


def sliver(plan: Plan, piece: Piece) -> Narrow | None:
    """Return in what way a cut is too narrow; ``None``: it is wide enough."""
    tile = plan.tile(piece)
    if tile.chip is not None or min(piece.shown) <= EPS:
        return None
    least = min(plan.job.sliver, tile.width)
    sizes = slot_size(piece)
    reduced = [(piece.shown[a], a) for a in (0, 1) if piece.shown[a] < sizes[a] - EPS]
    if reduced and min(reduced)[0] < least - EPS:
        return Narrow(piece, *min(reduced))
    if piece.kind == "straight":
        return None
    found = narrowest(shown_shape(plan, piece), least - EPS)
    return None if found is None else Narrow(piece, found[0], None, found[1])


def _edge(plan: Plan, narrow: Narrow) -> EdgeRun | None:
    """Return the edge that makes a piece narrow: the one along most of its cut side, or of its narrow part."""
    piece = narrow.piece
    touched = [r for r in plan.runs if r.face == piece.face and piece in plan.along(r)]
    fitting = [r for r in touched if narrow.axis is None or across(r) == narrow.axis]
    part = narrow.part if narrow.part is not None else polygon(piece.outer)
    band = part.buffer(2 * EPS)
    return max(fitting, key=lambda r: MultiLineString(r.line).intersection(band).length, default=None)


def _borders_at(plan: Plan, narrow: Narrow) -> set[str]:
    """Return the sides of a narrow piece, or of its narrow part, at which a border stands."""
    band = (narrow.part if narrow.part is not None else polygon(narrow.piece.outer)).buffer(2 * EPS)
    near = [r for r in plan.runs if r.face == narrow.piece.face and narrow.piece in plan.along(r)]
    return {cut_side(plan, r) for r in near if MultiLineString(r.line).intersection(band).length > 8 * EPS}


def _cure(plan: Plan, run: EdgeRun | None, narrow: Narrow) -> str:
    need = text(plan, plan.job.sliver - narrow.width)
    x0, y0, x1, y1 = (narrow.part if narrow.part is not None else polygon(narrow.piece.outer)).bounds
    axis = narrow.axis if narrow.axis is not None else int(x1 - x0 > y1 - y0)
    own = narrow.axis is not None and not set(_ENDS[narrow.axis]) & set(narrow.piece.factory_edges)
    if own or set(_ENDS[axis]) <= _borders_at(plan, narrow):
        gap = text(plan, narrow.width)
        return f"It lies between two borders {gap} apart: only they can give way"
    way = f" {_WAY[cut_side(plan, run)]}" if run is not None else ""
    moved = "the start" if narrow.axis is None else mover(plan, narrow.piece, narrow.axis)
    return f"Moving {moved}{way} by {need} or more would cure it there"
