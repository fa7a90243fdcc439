"""Hole centres twice over: from the wall, and from two edges of each tile that a hole is cut in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from shapely.geometry import Polygon

from elevation.geom import Point, bounds
from elevation.layout import LaidFace
from elevation.layout.regions import cut_out_area
from elevation.pieces.measure import Measure
from elevation.pieces.outline import Side
from elevation.pieces.piece import Piece
from elevation.wall import CutOut
from elevation.wall.as_found import height_at

_TOUCHES = 1e-6


@dataclass(frozen=True, slots=True)
class FromEdge:
    """A distance of a hole's centre from one side of a piece; mm.

    Attributes:
        side: The side.
        mm: The distance; less than 0 where the centre lies beyond the side, in another tile or in the joint.
        of: Extent of the piece along it: a larger distance leads past the piece.
        from_factory: The side is a factory edge, in part at least.
        printed: The number that the cut sheet gives a round hole, mm: its centre and diameter are rounded together;
            ``None``: it gives none.
    """

    side: Side
    mm: float
    of: float
    from_factory: bool
    printed: Fraction | None = None


@dataclass(frozen=True, slots=True)
class InPiece:
    """A hole's centre in a piece that it is cut in: from an upright and from a level side."""

    piece: Piece
    across: FromEdge
    up: FromEdge


@dataclass(frozen=True, slots=True)
class HoleCentre:
    """A hole's centre; mm on the face.

    Attributes:
        id: Id of the hole.
        face: Id of the face.
        centre: The centre.
        size: Diameter, or width and height, of what is cut, the gap included.
        from_left: From the wall's left side at the height of the centre; from its lower left corner on an outline.
        above: Above the level line, or above the lower left corner of a wall without one.
        pieces: Every piece that it is cut in, in the order of the wall.
    """

    id: str
    face: str
    centre: Point
    size: float | tuple[float, float]
    from_left: float
    above: float
    pieces: tuple[InPiece, ...]


def hole_centres(
    laid: LaidFace, pieces: Sequence[Piece], shapes: Mapping[str, Polygon], measures: Mapping[str, Measure]
) -> tuple[HoleCentre, ...]:
    """Return the centre of every hole of a face.

    Args:
        laid: The face.
        pieces: Its pieces.
        shapes: Their outlines, by address.
        measures: Their printed numbers, by address: a centre is taken from the same sides.
    """
    return tuple(_centre(laid, cut, pieces, shapes, measures) for cut in laid.face.cutouts if cut.kind == "hole")


def _centre(
    laid: LaidFace,
    cut: CutOut,
    pieces: Sequence[Piece],
    shapes: Mapping[str, Polygon],
    measures: Mapping[str, Measure],
) -> HoleCentre:
    area = cut_out_area(cut, laid.edges)
    x0, y0, x1, y1 = area.bounds
    centre = cut.circle[0] if cut.circle is not None else ((x0 + x1) / 2, (y0 + y1) / 2)
    gap = laid.edges[cut.shape.borders[0]].offset
    left = next((b for b in laid.face.borders if not b.of and b.side == "left"), None)
    side = laid.face.bounds[0] if left is None else height_at(left.line, centre[1], 1)
    near = (p for p in pieces if not p.is_whole and shapes[p.id].distance(area) <= _TOUCHES)
    return HoleCentre(
        cut.id,
        laid.face.id,
        centre,
        2 * (cut.circle[1] + gap) if cut.circle is not None else (x1 - x0, y1 - y0),
        centre[0] - side,
        centre[1] - (laid.face.datum[1] if laid.face.has_datum else 0.0),
        tuple(InPiece(p, *_from_edges(p, cut.id, measures[p.id], centre)) for p in near),
    )


def _from_edges(piece: Piece, hole: str, measure: Measure, centre: Point) -> Iterator[FromEdge]:
    """Yield the distances of a centre from the upright and the level side that the piece is measured from."""
    low_x, low_y, high_x, high_y = bounds(piece.outer)
    at: dict[Side, float] = {
        "left": centre[0] - low_x, "right": high_x - centre[0], "bottom": centre[1] - low_y, "top": high_y - centre[1],
    }  # fmt: skip
    told = next((r for r in measure.rounds if r.hole and r.of == hole), None)
    for axis in ("x", "y"):
        first = next(d for d in measure.dimensions if d.axis == axis)
        assert first.origin
        printed = None if told is None else measure.dimensions[told.x if axis == "x" else told.y].printed
        extent = piece.width if axis == "x" else piece.height
        yield FromEdge(first.origin, at[first.origin], extent, first.from_factory, printed)
