"""The holes of a wall in two tables: their centres from the wall, and from the edges of the tiles they are cut in."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from elevation.drawing.table import Column
from elevation.layout import LaidFace
from elevation.pieces.hole_centres import FromEdge, HoleCentre
from elevation.plan import Plan
from elevation.sheets.flow import Block, Heading, Rows, Words

Say = Callable[[float], str]
"""Writes a length, mm."""


def hole_blocks(plan: Plan, laid: LaidFace, say: Say) -> Iterator[Block]:
    """Yield the tables of the holes of a wall; nothing for a wall without holes.

    Args:
        plan: The plan.
        laid: The wall.
        say: Writes a length, mm.
    """
    holes = [h for h in plan.hole_centres if h.face == laid.face.id]
    if not holes:
        return
    height = "Level line" if laid.face.has_datum else "Up"
    square = any(b.side == "left" for b in laid.face.borders if not b.of)
    side = "left side, at that height" if square else "lower left corner"
    yield Heading("Hole centres")
    yield Words(
        f"From the wall's {side}; from the {'level line, + is up' if laid.face.has_datum else 'lower left corner'}. "
        "Cut: with the gap round the body.",
        keep=True,
    )
    told = [(h.id, _size(h, say), say(h.from_left), _signed(h.above, say, laid)) for h in holes]
    columns = (
        Column("Hole", least=14), Column("Cut", "end"), Column("From left", "end", weight="semibold"),
        Column(height, "end", weight="semibold"),
    )  # fmt: skip
    yield Rows(columns, told)
    rows = [
        (h.id if n == 0 else "", p.piece.number or p.piece.id, _from_edge(p.across, say), _from_edge(p.up, say))
        for h in holes
        for n, p in enumerate(h.pieces)
    ]
    if not rows:
        return
    edges = [e for h in holes for p in h.pieces for e in (p.across, p.up)]
    said = "The same centres from the factory edges of the tile."
    if any(not e.from_factory for e in edges):
        said += " (cut): no factory edge there, measured from the cut."
    if any(e.mm > e.of for e in edges):
        said += " A length greater than the tile leads past its far side."
    if any(e.mm < 0 for e in edges):
        said += " Beyond: away from the tile."
    yield Words(said, keep=True)
    across, up = Column("Across", weight="semibold"), Column("Up or down", weight="semibold")
    yield Rows((Column("Hole", least=14), Column("Tile"), across, up), rows)


def _size(hole: HoleCentre, say: Say) -> str:
    if isinstance(hole.size, tuple):
        return f"{say(hole.size[0])} x {say(hole.size[1])}"
    return f"dia {say(hole.size)}"


def _signed(mm: float, say: Say, laid: LaidFace) -> str:
    text = say(abs(mm))
    if not laid.face.has_datum or text == "0":
        return text if mm >= 0 else f"-{text}"
    return f"{'+' if mm > 0 else '-'}{text}"


def _from_edge(edge: FromEdge, say: Say) -> str:
    cut = "" if edge.from_factory else " (cut)"
    beyond = " beyond" if edge.mm < 0 else ""
    size = edge.mm if edge.printed is None else float(edge.printed)
    return f"{say(abs(size))}{beyond} from {edge.side}{cut}"
