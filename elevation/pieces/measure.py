"""The numbers a piece is cut by: measured from its factory edges, rounded once, the same on every sheet and file.

Every corner of a piece stands at a distance from one upright and one level side that it keeps from the factory. Those
distances, each once, are its dimensions; arcs and round holes add a centre and a radius.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from elevation.geom import EPS
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces.make import ZonePieces
from elevation.pieces.mitres import mitred_sides
from elevation.pieces.outline import Outline, Side, Surroundings, trace
from elevation.pieces.piece import Piece
from elevation.pieces.runs import EdgeRun
from elevation.rounding import Way, grain, rounded, rounded_circle
from elevation.units import Unit, exact_step, format_length

Axis = Literal["x", "y", "r", "d"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """One number of a cut.

    Attributes:
        label: What it is: ``width``, ``left height``, ``hole centre from left``.
        mm: Exact, mm.
        printed: As printed, mm.
        text: As printed, in the job's unit.
        axis: Along x, along y, a radius or a diameter.
        origin: The side it is measured from; empty for a radius or diameter.
        from_factory: That side is a factory edge.
        way: How it was rounded.
        full: The piece is not cut in that direction: the tile's own size.
        sawn: A straight cut stands there.
        side: On which side of a sketch it is drawn; empty for a radius or diameter.
        at: For a height: where across, for a width: where up it is taken, mm from the piece's lower left corner.
    """

    label: str
    mm: float
    printed: Fraction
    text: str
    axis: Axis
    origin: Side | Literal[""]
    from_factory: bool
    way: Way
    full: bool = False
    sawn: bool = False
    side: Side | Literal[""] = ""
    at: float = 0.0


@dataclass(frozen=True, slots=True)
class Round:
    """An arc or a round hole: indices of its dimensions."""

    x: int
    y: int
    r: int
    of: str
    hole: bool


@dataclass(frozen=True, slots=True)
class Measure:
    """The one set of numbers of a piece.

    Attributes:
        dimensions: The numbers: overall width and height first.
        rounds: Arcs and round holes.
        width: Width as printed; both ends of a taper: ``6 1/8 to 6 1/4``.
        height: Height as printed.
        remarks: What else the saw must know: mitred edges, how far a cover plate reaches, where no factory edge is.
        fence: Axis and text of the setting of the saw's fence for the first cut; ``None`` when nothing is cut through.
    """

    dimensions: tuple[Dimension, ...]
    rounds: tuple[Round, ...]
    width: str
    height: str
    remarks: tuple[str, ...]
    fence: tuple[Literal["x", "y"], Fraction, str] | None

    @property
    def size(self) -> str:
        """Width by height, as printed: ``6 1/4 x 2 15/16``."""
        return f"{self.width} x {self.height}"

    def dimension(self, label: str) -> Dimension:
        """Return the dimension of that label.

        Raises:
            KeyError: There is none.
        """
        for d in self.dimensions:
            if d.label == label:
                return d
        raise KeyError(label)

    def taper(self, axis: Literal["x", "y"]) -> tuple[Dimension, Dimension] | None:
        """Return the two widths of a taper, at its lower and its upper end, or its two heights, left and right.

        ``None`` where the piece does not taper that way, or more than two numbers tell its shape.
        """
        ends: tuple[Side, Side] = ("bottom", "top") if axis == "x" else ("left", "right")
        word = "width" if axis == "x" else "height"
        sizes = [d for d in self.dimensions if d.axis == axis]
        found = {d.side: d for d in sizes if d.label == word or d.label in (f"{side} {word}" for side in ends)}
        if len(sizes) != 2 or any(side not in found for side in ends):
            return None
        return found[ends[0]], found[ends[1]]


def measure_pieces(
    job: Job, laid: Sequence[LaidFace], zones: Sequence[ZonePieces], runs: Sequence[EdgeRun]
) -> dict[str, Measure]:
    """Return the measure of every cut piece, by its address."""
    faces = {f.face.id: f for f in laid}
    mitred = mitred_sides(job, laid, zones, runs)
    found: dict[str, Measure] = {}
    for zone in zones:
        face = faces[zone.face]
        near_runs = [r for r in runs if r.face == zone.face]
        near = Surroundings(near_runs, face.zone(zone.zone).joint, job)
        for piece in zone.pieces:
            if not piece.is_whole:
                measure = _measure(job, face, piece, trace(piece, near, job), job.units)
                bevels = tuple(f"mitre the {side} edge" for side in mitred.get(piece.id, ()))
                found[piece.id] = replace(measure, remarks=(*bevels, *measure.remarks)) if bevels else measure
    return found


def _measure(job: Job, face: LaidFace, piece: Piece, outline: Outline, unit: Unit) -> Measure:
    step = exact_step(job.step)
    dims: list[Dimension] = []
    for axis in ("x", "y"):
        stations = outline.across if axis == "x" else outline.up
        origin = outline.ref_x if axis == "x" else outline.ref_y
        for station in stations:
            way: Way = station.way
            size = grain(way, station.joint, job.step)
            printed = rounded(station.mm if station.read is None else station.read, way, size, station.most)
            dims.append(
                Dimension(
                    station.label, station.mm, printed, _text(printed, step, unit), axis, origin,
                    origin in outline.factory, way, station.full, station.sawn, station.side, station.at,
                )
            )  # fmt: skip
    rounds: list[Round] = []
    for arc in outline.rounds:
        most = None
        if arc.hole:
            cover = face.face.cutout(arc.of).cover
            most = None if cover is None else (cover if isinstance(cover, float) else min(cover)) / 2
        x, y, r = rounded_circle((arc.x, arc.y), arc.radius, step, bigger=arc.tile_outside, most=most)
        first = len(dims)
        word = "hole" if arc.hole else "arc"
        suffix = f" {len(rounds) + 1}" if len(outline.rounds) > 1 else ""
        for value, exact, axis2, origin2 in ((x, arc.x, "x", outline.ref_x), (y, arc.y, "y", outline.ref_y)):
            label = f"{word}{suffix} centre from {origin2}"
            side: Side = "bottom" if axis2 == "x" else "right"
            dims.append(
                Dimension(label, exact, value, _text(value, step, unit), "x" if axis2 == "x" else "y", origin2,
                          origin2 in outline.factory, "nearest", False, False, side)
            )  # fmt: skip
        exact_r, printed_r, axis3 = (2 * arc.radius, 2 * r, "d") if arc.hole else (arc.radius, r, "r")
        label = f"{word}{suffix} {'diameter' if arc.hole else 'radius'}"
        dims.append(
            Dimension(label, exact_r, printed_r, _text(printed_r, step, unit), "d" if axis3 == "d" else "r", "", False,
                      "up" if arc.tile_outside else "down")
        )  # fmt: skip
        rounds.append(Round(first, first + 1, first + 2, arc.of, arc.hole))
    width, height = (_extent(dims, axis4) for axis4 in ("x", "y"))
    remarks = (*_remarks(face, outline, rounds, dims, step, unit),)
    return Measure(tuple(dims), tuple(rounds), width, height, remarks, _fence(dims))


def _text(value: Fraction, step: Fraction, unit: Unit) -> str:
    return format_length(value, step / 8, unit)


def _extent(dims: Sequence[Dimension], axis: str) -> str:
    """Return the extent along an axis as printed; both ends when it tapers."""
    ends = [d for d in dims if d.axis == axis and (d.label.endswith("width") or d.label.endswith("height"))]
    ends = [d for d in ends if "leg" not in d.label]
    texts = list(dict.fromkeys(d.text for d in sorted(ends, key=lambda d: d.printed)))
    return texts[0] if len(texts) == 1 else f"{texts[0]} to {texts[-1]}"


def _fence(dims: Sequence[Dimension]) -> tuple[Literal["x", "y"], Fraction, str] | None:
    """Return the setting for the first cut: across before up, the overall size before a notch."""
    sawn = [d for d in dims if d.sawn]
    for d in (*(d for d in sawn if d.label in ("width", "height")), *sawn):
        return ("x" if d.axis == "x" else "y"), d.printed, d.text
    return None


def _remarks(
    face: LaidFace, outline: Outline, rounds: Sequence[Round], dims: Sequence[Dimension], step: Fraction, unit: Unit
) -> list[str]:
    said = []
    for axis, ref in (("across", outline.ref_x), ("down" if outline.ref_y == "top" else "up", outline.ref_y)):
        if ref not in outline.factory:
            said.append(f"no factory edge {ref}: measured {axis} from the cut")
    for r in rounds:
        if not r.hole:
            continue
        cover = face.face.cutout(r.of).cover
        if cover is not None:
            least = cover if isinstance(cover, float) else min(cover)
            margin = Fraction(least).limit_denominator(10**6) / 2 - dims[r.r].printed / 2
            if margin >= step:
                hides = _text(rounded(float(margin), "down", step), step, unit)
                said.append(f"the cover plate of {r.of} hides {hides} all round")
    return said


def alike(one: Piece, two: Piece, measures: dict[str, Measure]) -> bool:
    """Tell whether two pieces are cut the same: congruent without turning or mirroring, same tile, same numbers."""
    if (one.tile, one.upright, one.kind, one.factory_edges) != (two.tile, two.upright, two.kind, two.factory_edges):
        return False
    if len(one.outer) != len(two.outer) or [len(h) for h in one.holes] != [len(h) for h in two.holes]:
        return False
    a, b = measures[one.id], measures[two.id]
    said = [(d.label, d.printed, d.origin) for d in a.dimensions]
    if said != [(d.label, d.printed, d.origin) for d in b.dimensions] or a.remarks != b.remarks:
        return False
    return all(
        abs((p[k] - o1[k]) - (q[k] - o2[k])) <= EPS
        for o1, o2 in [(_corner(one), _corner(two))]
        for ring1, ring2 in zip((one.outer, *one.holes), (two.outer, *two.holes), strict=True)
        for p, q in zip(ring1, ring2, strict=True)
        for k in (0, 1)
    )


def _corner(piece: Piece) -> tuple[float, float]:
    return min(p[0] for p in piece.outer), min(p[1] for p in piece.outer)
