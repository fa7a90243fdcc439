"""Cuts in cutting order: wall by wall, by the setting of the saw's fence, then by course; what is alike together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.geom import polygon
from elevation.job.models import Tile
from elevation.pieces import Piece
from elevation.pieces.measure import Measure, alike
from elevation.pieces.outline import Side
from elevation.plan import Plan

LARGEST_CORE = 102.0
"""Largest hole for which core bits and hole saws are usual, mm: 4 in."""
NARROW = 25.0
"""A strip narrower than this, mm, breaks when it is snapped: common practice."""

CAUTIONS = {
    "snap": "Score and snap: cut edges are sharp; cover your eyes and wear gloves.",
    "wet saw": "Wet saw: water on the blade at all times, an outlet with earth-leakage protection, eyes and ears"
    " covered, hands off the line of the blade.",
    "core bit": "Core bit or hole saw: wet, no hammer action, tile held down, light pressure.",
    "grinder": "Grinder: guard and extraction on, respirator, eyes and ears covered, tile clamped.",
    "nippers": "Nippers: chips fly; cover your eyes.",
}


@dataclass(frozen=True, slots=True)
class Tool:
    """How a cut is made.

    Attributes:
        text: Tools, in order of use.
        cautions: Keys of ``CAUTIONS``.
    """

    text: str
    cautions: tuple[str, ...]


class Alike:
    """Pieces that are cut alike, in the order of setting: what shares a sketch, or a template."""

    pieces: tuple[Piece, ...]

    @property
    def first(self) -> Piece:
        """The piece that is drawn."""
        return self.pieces[0]

    @property
    def numbers(self) -> tuple[str, ...]:
        """Where it goes, in the order of setting."""
        return tuple(str(p.number) for p in self.pieces)


@dataclass(frozen=True)
class CutGroup(Alike):
    """Pieces of one wall that are cut alike; they share a sketch."""

    wall: str
    pieces: tuple[Piece, ...]
    measure: Measure
    tile: Tile
    tool: Tool
    mitred: tuple[Side, ...] = ()


def cut_groups(plan: Plan) -> Iterator[tuple[str, tuple[CutGroup, ...]]]:
    """Yield every wall that has cuts, with its groups in cutting order."""
    for wall in plan.walls:
        groups: list[list[Piece]] = []
        by_size: dict[tuple[str, str, str], list[list[Piece]]] = {}
        for face in plan.faces_of(wall.face.id):
            for piece in plan.pieces_of(face.face.id):
                if piece.is_whole:
                    continue
                # only what prints the same size can be alike: keeps the search short on walls of many cuts
                near = by_size.setdefault((piece.tile, piece.kind, plan.measures[piece.id].size), [])
                mine = next((g for g in near if alike(g[0], piece, plan.measures)), None)
                if mine is None:
                    mine = []
                    groups.append(mine)
                    near.append(mine)
                mine.append(piece)
        found = [_group(plan, wall.face.id, g) for g in groups]
        if found:
            yield wall.face.id, tuple(sorted(found, key=_order))


def _group(plan: Plan, wall: str, pieces: Sequence[Piece]) -> CutGroup:
    tile = plan.tile(pieces[0])
    measure = plan.measures[pieces[0].id]
    mitred = plan.mitred.get(pieces[0].id, ())
    return CutGroup(wall, tuple(pieces), measure, tile, tool_for(pieces[0], measure, tile), mitred)


def _order(group: CutGroup) -> tuple[str, str, float, int, int]:
    """Return what cuts are sorted by: tile, direction, fence wide to narrow, then course and place."""
    fence = group.measure.fence
    axis, value = (fence[0], -float(fence[1])) if fence is not None else ("z", 0.0)
    return group.first.tile, axis, value, group.first.course, group.first.place


def tool_for(piece: Piece, measure: Measure, tile: Tile) -> Tool:
    """Return how a piece is cut; common practice."""
    if piece.kind in ("straight", "tapered"):
        slot = polygon(piece.slot).bounds
        waste = [v for v in (slot[2] - slot[0] - piece.width, slot[3] - slot[1] - piece.height) if v > 0.05]
        thin = min([piece.width, piece.height, *waste])
        if thin < max(NARROW, 2 * tile.thickness):
            return Tool("Wet saw", ("wet saw",))
        return Tool("Score and snap, or wet saw", ("snap", "wet saw"))
    if piece.kind == "L":
        return Tool("Wet saw, two cuts to the corner; the corner by grinder or nippers", ("wet saw", "grinder"))
    if piece.kind == "notched":
        return Tool("Wet saw, then grinder for the far side of the notch", ("wet saw", "grinder"))
    holes = [measure.dimensions[r.r] for r in measure.rounds if r.hole]
    if piece.kind == "holed":
        if holes and max(d.mm for d in holes) <= LARGEST_CORE and len(holes) == len(piece.holes):
            return Tool("Core bit or hole saw", ("core bit",))
        return Tool("Drill the corners, then grinder" if not holes else "Grinder", ("grinder",))
    if piece.kind == "curved" and holes:
        return Tool("Grinder to the line, nippers for the rest", ("grinder", "nippers"))
    if piece.kind == "curved":
        return Tool("Wet saw for the straight cuts, then grinder or nippers", ("wet saw", "grinder", "nippers"))
    return Tool("Wet saw and grinder", ("wet saw", "grinder"))
