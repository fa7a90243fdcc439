"""How far a reading may be off before a sliver appears, edge by edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from elevation.job.models import Job
from elevation.layout.choice import Candidate
from elevation.layout.laid import LaidFace
from elevation.layout.spans import LEVEL, Span, zone_outlines
from elevation.layout.terms import NOISE, EdgeCut
from elevation.units import format_length
from elevation.wall import Border


@dataclass(frozen=True, slots=True)
class EdgeMargin:
    """How far one edge may stand from where it was measured, the pattern staying where it is.

    Attributes:
        face: Id of the face.
        edge: Name of the edge.
        reading: Which reading says where it is.
        inward: How far the edge may stand further into the tile before it is cut to a sliver, mm.
        outward: How far it may stand further out.
    """

    face: str
    edge: str
    reading: str
    inward: float
    outward: float

    @property
    def least(self) -> float:
        """The less of the two, mm."""
        return min(self.inward, self.outward)


def margins(job: Job, candidate: Candidate) -> tuple[EdgeMargin, ...]:
    """Return the margin of every judged edge of the walls' fields, the least first.

    The pattern keeps its place: it hangs on the plumb line and the level line, not on the edge that is off. An edge
    that is a sliver already has no margin. Spacing of joints, and readings that are off together, are not looked at.
    """
    found: dict[tuple[str, str], EdgeMargin] = {}
    for laid in candidate.laid:
        judged = candidate.zones.get((laid.face.id, laid.zones[0].place.id))
        if judged is None or laid.face.of:
            continue
        outline = zone_outlines(laid.face, laid.edges, [z.joint for z in laid.zones])[0]
        for span, record in zip(outline.spans, judged.records, strict=True):
            inward, outward = _room(laid, span, record, job.sliver)
            key = (laid.face.id, span.edge)
            old = found.get(key)
            if old is not None:
                inward, outward = min(inward, old.inward), min(outward, old.outward)
            found[key] = EdgeMargin(laid.face.id, span.edge, reading_of(laid, span), inward, outward)
    return tuple(sorted(found.values(), key=lambda m: (round(m.least, 4), m.face, m.edge)))


def _room(laid: LaidFace, span: Span, record: EdgeCut, sliver: float) -> tuple[float, float]:
    """Return how far an edge may move into the tile, and out of it."""
    zone = laid.zones[0]
    ring = zone.lattice.motif[0].ring
    level = span.side in LEVEL
    tile = ring[2][1] - ring[0][1] if level else ring[2][0] - ring[0][0]
    if record.size is None:
        inner = sliver_free(laid, span, tile)
        return tile - sliver, inner
    if record.size < sliver - NOISE:
        return 0.0, 0.0
    grown = min(sliver_free(laid, span, tile), tile - record.size + zone.joint)
    return record.size - sliver, grown


def sliver_free(laid: LaidFace, span: Span, tile: float) -> float:
    """Return how far an edge may move outward before it reaches the next tile, in the course that comes first, mm."""
    zone = laid.zones[0]
    (u, v), pitch, (lean, rise) = zone.origin, zone.lattice.a[0], zone.lattice.b
    forward = span.side in ("bottom", "left")
    if span.side in LEVEL:
        return _outward(span.place, v, rise, tile, forward)
    height = zone.lattice.motif[0].ring[2][1]
    first = int((span.low - height - v) // rise)
    last = int((span.high - v) // rise) + 1
    met = [j for j in range(first, last + 1) if v + j * rise + height > span.low and v + j * rise < span.high]
    return min(_outward(span.place, u + j * lean, pitch, tile, forward) for j in met)


def _outward(place: float, start: float, module: float, tile: float, forward: bool) -> float:
    """Return the way outward from an edge to the near side of the next tile out."""
    if not forward:
        place, start = -place, -start - tile
    rest = (place - start) % module
    if module - rest < 1e-6:
        rest = 0.0
    # the next tile out ends a joint before this slot begins; inside a joint, at the joint's far side
    return rest + module - tile if rest < tile - 1e-6 else rest - tile


def reading_of(laid: LaidFace, span: Span) -> str:
    """Return which reading says where an edge is."""
    border = laid.face.borders[span.border]
    if border.of:
        words = {c.id: c.word for c in laid.face.cutouts}
        return f"{words.get(border.of, 'zone')} {border.of}, its {border.side}"
    return _own(border, laid.face.id)


def _own(border: Border, wall: str) -> str:
    names = {"right": "width", "top": "height", "left": "left side", "bottom": "lower side"}
    return f"wall {wall}, {names.get(border.side, 'side ' + border.side)}"


def in_words(job: Job, found: Sequence[EdgeMargin]) -> str:
    """Return which reading matters most and how far it may be off."""
    if not found:
        return "no edge is judged"
    first = found[0]
    unit = "in" if job.units == "in" else "mm"
    if max(first.inward, first.outward) <= NOISE:
        return f"{first.reading}: cut to a sliver as it is"
    way = "further into the tile" if first.inward <= first.outward else "further away from the tile"
    if first.least <= NOISE:
        return f"{first.reading}: any {way} and a sliver appears; measure it again"
    size = format_length(first.least, job.step, job.units)
    text = f"{first.reading}: may stand {size} {unit} {way} before a sliver appears; no other reading has less room"
    if first.least < 2 * job.tape:
        text += "; measure it again, that is less than the tape may be off twice over"
    return text
