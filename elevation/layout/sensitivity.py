"""How sure the cuts are: what the smallest cut of every edge comes to when readings are off by the tape.

The layout as drawn is kept: its course lines stand where the sheet says, measured from the level line, and its joints
where the plumb line puts them. Every reading may then be off by ``tape``, all at once and in any direction. Interval
reasoning gives for each edge the band in which it may stand (``wall.readings``), and the smallest cut anywhere in that
band, by arithmetic. That is a bound: no combination of errors gives less, and on a side without steps some combination
gives just that. Whether a joint with a range still takes up what is out of true is decided anew, either way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.geom import EPS
from elevation.job.models import Job
from elevation.layout.edge_cuts import across_of, courses_met
from elevation.layout.laid import LaidEdge, LaidFace, LaidZone
from elevation.layout.regions import facing_of
from elevation.layout.spans import Span, ZoneOutline, zone_outlines
from elevation.wall.readings import BorderReadings, Reading, border_readings

_MATTERS = 0.3
"""A reading that moves an edge by less than this share of its own error is not worth taking again."""
_MOST = 2
"""As many readings are named."""

Band = tuple[float, float]
"""How far an edge may stand from where it is drawn, towards the tile: least and most, mm."""


@dataclass(frozen=True, slots=True)
class EdgeSensitivity:
    """What the tape does to one edge; mm.

    Attributes:
        wall: Id of the wall.
        zone: Id of the zone.
        edge: Name of the edge: ``left``, ``tub top``.
        side: On which side of the tile it lies.
        drawn: Smallest cut as drawn, as shown; ``None``: whole tiles end there.
        worst: Smallest cut that may be left of it; ``None``: none, whatever happens; 0: it may vanish.
        strip: Widest strip that may be left open beyond whole tiles, joint taken off; 0: none. Nobody cuts a tile for
            it as long as the joint can take it, but the same layout drawn from the true reading would show a sliver.
        reach: How far the edge may stand from where it was read.
        is_sliver: A cut that is wide enough as drawn may be a sliver.
        again: The readings that count most for it, the greatest first.
    """

    wall: str
    zone: str
    edge: str
    side: str
    drawn: float | None
    worst: float | None
    strip: float
    reach: float
    is_sliver: bool
    again: tuple[Reading, ...]

    @property
    def where(self) -> str:
        """``B left``, ``B band top``."""
        return " ".join(part for part in (self.wall, self.edge) if part)


@dataclass(frozen=True, slots=True)
class NotJudged:
    """Tile whose edges are not judged against the tape.

    Attributes:
        wall: Id of the wall.
        what: Zone, or niche or opening: ``zone band``, ``n1``.
        why: In words.
    """

    wall: str
    what: str
    why: str


def not_judged(job: Job, laid: Sequence[LaidFace]) -> tuple[NotJudged, ...]:
    """Return what ``sensitivity`` leaves out and why, in the order of the faces, each once."""
    found: list[NotJudged] = []
    for face in laid:
        if face.face.kind != "wall":
            found.append(NotJudged(face.face.wall, face.face.of, "measured again once it is framed and boarded"))
            continue
        for zone in face.zones:
            why = _why_not(job, zone)
            what = f"zone {zone.place.id}" if zone.place.shape is not None else "the field"
            if why:
                found.append(NotJudged(face.face.wall, what, why))
    return tuple(dict.fromkeys(found))


def _why_not(job: Job, zone: LaidZone) -> str:
    """Return why the edges of a zone are not judged; empty: they are."""
    if job.tile[zone.place.tile].chip is not None:
        return "a mosaic is cut by the chip where it ends"
    if len(zone.lattice.motif) > 1:
        return "its pattern has cuts of many sizes at every edge: try each cut dry"
    return ""


def sensitivity(job: Job, laid: Sequence[LaidFace]) -> tuple[EdgeSensitivity, ...]:
    """Return what the tape does to every judged edge of every wall, in the order of the walls.

    Faces of niches, mosaics and patterns with more than one tile a cell are left out: see ``not_judged``.
    """
    found: list[EdgeSensitivity] = []
    for face in laid:
        if face.face.kind != "wall":
            continue
        readings = border_readings(job, face.face)
        outlines = zone_outlines(face.face, face.edges, [z.joint for z in face.zones])
        for zone, outline in zip(face.zones, outlines, strict=True):
            if not _why_not(job, zone):
                found += _of_zone(job, face, zone, outline, readings)
    return tuple(found)


def _of_zone(
    job: Job, face: LaidFace, zone: LaidZone, outline: ZoneOutline, readings: Sequence[BorderReadings]
) -> Iterator[EdgeSensitivity]:
    for border, side in dict.fromkeys((s.border, s.side) for s in outline.spans):
        mine = [s for s in outline.spans if (s.border, s.side) == (border, side)]
        drawn = [_worst(face, zone, s, readings, 0.0) for s in mine]
        worst = [_worst(face, zone, s, readings, job.tape) for s in mine]
        now = min((w.size for w in drawn if w.size is not None), default=None)
        critical = min(worst, key=lambda w: (math.inf if w.size is None else w.size, -w.reach))
        then = critical.size
        limit = min(job.sliver, job.tile[zone.place.tile].width)
        narrow = now is not None and now >= limit - EPS and then is not None and then < limit - EPS
        again = sorted(readings[border].at(critical.place), key=lambda rw: -rw[1])
        yield EdgeSensitivity(
            face.face.wall, zone.place.id, mine[0].edge, side, now, then, max(w.strip for w in worst), critical.reach,
            narrow, tuple(r for r, w in again if w >= _MATTERS)[:_MOST],
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Worst:
    """The least of one span: size, strip beyond whole tiles, where along the edge, and its reach there."""

    size: float | None
    strip: float
    place: float
    reach: float


def _worst(face: LaidFace, zone: LaidZone, span: Span, readings: Sequence[BorderReadings], tape: float) -> _Worst:
    ring = zone.lattice.motif[0].ring
    size = (ring[2][0] - ring[0][0], ring[2][1] - ring[0][1])
    tile = size[1] if span.is_level else size[0]
    ends = [v for s in span.near for v in (s.start, s.end)]
    reach = max(readings[span.border].reach(v, tape) for v in ends)
    far_reach = max(readings[span.far_border].reach(v, tape) for v in ends) if span.far_border >= 0 else 0.0
    across = max(0.0, _across(span) - reach - far_reach)
    edge = face.edges[span.border]
    # beside another zone the field ends a joint away from it, whatever that zone's own edge is
    own = edge.border.of == zone.place.id or edge.border.of not in {z.place.id for z in face.zones[1:]}
    bands = _bands(edge, reach, own=own) if tape else [(0.0, 0.0)]
    found: list[tuple[float | None, float, float]] = []
    if span.is_level:
        found += _in_bands(span, bands, span.low, span.high, zone.origin[1], zone.lattice.b[1], tile)
    else:
        slack = _end_reach(tape, span, readings)
        for j in courses_met(span.low - slack[0], span.high + slack[1], zone.origin[1], zone.lattice.b[1], size[1]):
            low = zone.origin[1] + j * zone.lattice.b[1]
            start = zone.origin[0] + j * zone.lattice.b[0]
            found += _in_bands(span, bands, low, low + size[1], start, zone.lattice.a[0], tile)
    sizes = [(min(s, across), place) for s, _, place in found if s is not None]
    if across < tile - EPS:  # the pieces there reach from edge to edge
        sizes.append((across, span.low))
    least, place = min(sizes, default=(None, span.low))
    return _Worst(least, max((s for _, s, _ in found), default=0.0), place, reach)


def _across(span: Span) -> float:
    """Return the distance to the edge opposite; beside a side that leans over an edge, nothing stands opposite."""
    steep = any(abs(s.at_end - s.at_start) > s.end - s.start for s in span.far)
    return math.inf if steep else across_of(span, 0, 0)


def _end_reach(tape: float, span: Span, readings: Sequence[BorderReadings]) -> tuple[float, float]:
    """Return how far the two ends of an upright edge may move: another course may then meet it."""

    def of(border: int) -> float:
        return max(readings[border].reach(v, tape) for v in (span.place, span.far_place)) if border >= 0 else 0.0

    return of(span.low_border), of(span.high_border)


def _bands(edge: LaidEdge, reach: float, *, own: bool) -> list[Band]:
    """Return the bands in which an edge may stand, from where it is drawn towards the tile.

    A joint with a range is decided anew: tight against the side wherever it then stands, or opened to the edge of a
    row of whole tiles, or cut to the taper where it no longer takes up what is out of true.
    """
    least, most = edge.border.gap
    slack = most - least
    if not own or slack <= 1e-9:
        return [(-reach, reach)]
    level = facing_of(edge.border.line) in ("bottom", "top")
    found = [p[1 if level else 0] for p in edge.border.line]
    crooked = max(found) - min(found)
    fixed = least - edge.border.joint[0]
    opened = edge.gap[0] + fixed - least if edge.line is not None or crooked <= 1e-9 else 0.0
    bands = [(-reach, reach)]
    if opened > EPS:
        # drawn at the edge of whole tiles; it stays there while the range allows, else it goes to the tight place
        bands = [(-opened - reach, -(slack - crooked)), (0.0, max(0.0, reach - opened))]
        bands = [(a, b) for a, b in bands if b >= a]
    if edge.line is not None and crooked + 2 * reach > slack:
        bands.append((-opened - crooked - reach, -opened + reach))
    elif edge.line is None and crooked > 1e-9 and crooked - 2 * reach <= slack:
        bands.append((-reach, crooked + reach))
    elif edge.line is None and crooked <= 1e-9 and 2 * reach > slack:
        bands.append((-opened - 2 * reach, -opened + reach))
    return bands


def _in_bands(
    span: Span, bands: Sequence[Band], low: float, high: float, start: float, module: float, tile: float
) -> Iterator[tuple[float | None, float, float]]:
    """Yield the least size, the widest strip, and the place, for each stretch and band between two places along it."""
    forward = span.side in ("bottom", "left")
    for s in span.near:
        a, b = max(s.start, low), min(s.end, high)
        if b - a <= 0:
            a, b = (s.start, s.start) if low > s.end else (s.end, s.end) if high < s.start else (a, a)
        slope = (s.at_end - s.at_start) / (s.end - s.start)
        values = [(s.at_start + slope * (v - s.start), v) for v in (a, b)]
        if not forward:
            values = [(-v, place) for v, place in values]
        first = start if forward else -start - tile
        (outer, _), (inner, place) = min(values), max(values)
        for band in bands:
            size, strip = _least(outer + band[0] - first, outer - first, inner + band[1] - first, module, tile)
            yield size, strip, place


def _least(outer: float, drawn: float, inner: float, module: float, tile: float) -> tuple[float | None, float]:
    """Return the least size of a cut whose edge may stand anywhere from ``outer`` to ``inner``, and the widest strip.

    Slots start at every multiple of the module, the tile lies towards plus. A strip is what an edge opens up in the
    slot before the one that it cuts, or ends at, as drawn; it counts apart from the cuts.
    """
    own = math.floor((drawn + EPS) / module)
    if drawn - own * module >= tile - EPS:
        own += 1  # it stands in a joint: the slot behind it is the first
    sizes: list[float] = []
    for k in range(own, math.floor(inner / module) + 1):
        a, b = max(outer - k * module, 0.0), min(inner - k * module, module)
        if b > EPS and a < tile - EPS:
            sizes.append(0.0 if b >= tile - EPS else tile - b)
    strip = tile - (outer - (own - 1) * module) if outer < own * module else 0.0
    return min(sizes, default=None), min(tile, strip) if strip > EPS else 0.0
