"""Which dimensions an elevation carries, side by side, and how they read.

Below: what stands on the floor, the first and last cuts of a typical course, the overall width. On the left: the
first and last courses, the overall height. Above: what the wall carries, hole centres. On the right: the same
upward, and the level line. A chain is closed; no length stands in two places.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.drawing.dimensions import Side, dimension_text
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.sheets.course_list import CourseRow, Sizes, is_cut_across, is_cut_in_height
from elevation.sheets.wall_view import plumb_place
from elevation.units import Unit, close_chain, format_length
from elevation.wall import Face

LEVEL, PLUMB = "level line", "plumb line"
_NEAR = 1.0  # mm: stations closer than this are one
_ACROSS = 0.9  # share of a wall's width: a zone that reaches so far runs across it


Length = Callable[[float], str]
"""Writes a length, mm, as a dimension."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A chain on a side of the wall.

    Attributes:
        stations: Along x (above, below) or y (left, right), mm on the face, ascending.
        texts: One a span; for each, what to fall back on when there is no room, longest first.
        note: Written beside the line, at its beginning.
        end_note: Written beside the line, at its end.
    """

    stations: tuple[float, ...]
    texts: tuple[tuple[str, ...], ...]
    note: str = ""
    end_note: str = ""

    def choose(self, room: Sequence[float], width: Callable[[str], float]) -> tuple[str, ...]:
        """Return one text a span: the longest for which there is room, else the shortest.

        Args:
            room: Length of each span on paper, mm.
            width: Function that measures a text, mm.
        """
        return tuple(
            next((t for t in texts if width(t) <= r - 2.0), texts[-1])
            for texts, r in zip(self.texts, room, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Interval:
    """How far something reaches along x and along y; a hole is its centre only."""

    x: tuple[float, float]
    y: tuple[float, float]


def wall_chains(
    plan: Plan, laid: LaidFace, rows: Sequence[CourseRow], sizes: Sizes, step: float, unit: Unit, *, working: bool
) -> dict[Side, list[Chain]]:
    """Return the chains of a wall, near to far, by side.

    Args:
        plan: The plan.
        laid: The wall.
        rows: Its courses.
        sizes: Width and height of a piece as printed.
        step: Rounding step, mm.
        unit: Unit of the texts.
        working: With everything an installer needs; else the overall lengths and what the wall carries.
    """

    def length(value: float) -> str:
        return dimension_text(format_length(value, step, unit))

    x0, y0, x1, y1 = laid.face.bounds
    chains: dict[Side, list[Chain]] = {"bottom": [], "left": [], "top": [], "right": []}
    spans = _features(laid)
    low = [s for s in spans if s.y[0] <= y0 + _NEAR and s.y[1] < y1 - _NEAR]
    high = [s for s in spans if s not in low]
    closed = _Closer(step, length)
    chains["bottom"] += _strands([s.x for s in low], (x0, x1), closed)
    chains["top"] += _strands([s.x for s in high], (x0, x1), closed)
    chains["right"] += _strands([s.y for s in spans], (y0, y1), closed)
    corners = outline_corners(laid.face)
    if len(corners) > 4 or laid.face.arcs:
        chains["top"] += _points([p[0] for p in corners], (x0, x1), closed)
        chains["right"] += _points([p[1] for p in corners], (y0, y1), closed)
    if working:
        holes = [_middle(c.shape.ring) for c in laid.face.cutouts if c.kind == "hole"]
        holes += _mark_centres(plan, laid)
        chains["top"] += _points([x for x, _ in holes], (x0, x1), closed)
        chains["right"] += _points([y for _, y in holes], (y0, y1), closed)
        widest = max(laid.field, key=lambda z: round(z.region.bounds[2] - z.region.bounds[0]))
        for zone in laid.field if laid.side_by_side else (widest,):
            chains["bottom"] += _typical([r for r in rows if r.zone == zone.place.id], sizes, length, zone.joint)
        bands = [z for z in laid.zones if z.region.bounds[2] - z.region.bounds[0] > _ACROSS * (x1 - x0)]
        across = laid.field[:1] if laid.side_by_side else list(dict.fromkeys((*laid.field, *bands)))
        found = [_heights([r for r in rows if r.zone == z.place.id], sizes, length, z.joint) for z in across]
        chains["left"] += _upwards(found, length)
        plumb = plumb_place(laid)
        if plumb is not None:
            chains["top"].append(Chain((x0, plumb), ((length(plumb - x0),),), end_note=PLUMB))
        if laid.face.has_datum and abs(laid.face.datum[1] - y0) > _NEAR:
            ends = sorted((y0, laid.face.datum[1]))
            said = any(abs(a - b) < _NEAR for c in chains["right"] for a, b in [(c.stations[1], ends[1])])
            if not said:
                text = ((length(ends[1] - ends[0]),),)
                chains["right"].append(Chain(tuple(ends), text, end_note=LEVEL))
    chains["bottom"].append(Chain((x0, x1), ((length(x1 - x0),),)))
    chains["left"].append(Chain((y0, y1), ((length(y1 - y0),),)))
    return {side: _once(found) for side, found in chains.items()}


def outline_corners(face: Face) -> list[tuple[float, float]]:
    """Return the corners between the sides of a wall, and the crown of every arc; not the chords it is drawn with."""
    ring, sides = face.outline.ring, face.outline.borders
    curved = {border for _, _, border in face.arcs}
    corners = [p for i, p in enumerate(ring) if sides[i - 1] != sides[i] or sides[i] not in curved]
    for (x, y), radius, border in face.arcs:
        (ax, ay), (bx, by) = face.borders[border].line[0], face.borders[border].line[-1]
        reach = radius / math.hypot(bx - ax, by - ay)
        corners.append((x + (by - ay) * reach, y - (bx - ax) * reach))
    return corners


def _once(chains: Sequence[Chain]) -> list[Chain]:
    """Return the chains without those that say again what another says."""
    seen: set[tuple[int, ...]] = set()
    kept = []
    for chain in chains:
        key = tuple(round(s / _NEAR) for s in chain.stations)
        if key not in seen:
            seen.add(key)
            kept.append(chain)
    return kept


def _features(laid: LaidFace) -> list[Interval]:
    """Return how far openings, niches, fixtures and zones reach, as far as they lie on the wall."""
    x0, y0, x1, y1 = laid.face.bounds
    rings = [c.shape.ring for c in laid.face.cutouts if c.kind != "hole"]
    rings += [z.shape.ring for z in laid.face.zones if z.shape is not None]
    found = []
    for ring in rings:
        xs, ys = [p[0] for p in ring], [p[1] for p in ring]
        a, b = max(min(xs), x0), min(max(xs), x1)
        c, d = max(min(ys), y0), min(max(ys), y1)
        if b - a > EPS and d - c > EPS:
            found.append(Interval((a, b), (c, d)))
    return found


def _mark_centres(plan: Plan, laid: LaidFace) -> list[tuple[float, float]]:
    if laid.face.kind != "wall":
        return []
    wall = plan.job.wall_by_id(laid.face.wall)
    marks = [m for m in wall.mark if m.kind in ("bar", "light", "outlet")]
    return [(m.x + m.width / 2, m.y + m.height / 2) for m in marks]


def _middle(ring: Sequence[tuple[float, float]]) -> tuple[float, float]:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


class _Closer:
    """Makes a closed chain of stations."""

    def __init__(self, step: float, length: Length) -> None:
        self.step, self.length = step, length

    def __call__(self, stations: Sequence[float]) -> Chain:
        parts = [b - a for a, b in pairwise(stations)]
        rounded, _ = close_chain(parts, self.step)
        return Chain(tuple(stations), tuple((self.length(float(r)),) for r in rounded))


def _strands(spans: Sequence[tuple[float, float]], ends: tuple[float, float], closed: _Closer) -> list[Chain]:
    """Return chains from end to end over spans; those that overlap go to a chain of their own."""
    unlike: list[tuple[float, float]] = []
    for span in sorted(spans):
        if not any(abs(span[0] - s[0]) < _NEAR and abs(span[1] - s[1]) < _NEAR for s in unlike):
            unlike.append(span)
    strands: list[list[tuple[float, float]]] = []
    for span in unlike:
        home = next((s for s in strands if s[-1][1] <= span[0] + EPS), None)
        if home is None:
            strands.append([span])
        else:
            home.append(span)
    chains = []
    for strand in strands:
        stations = _stations([v for span in strand for v in span], ends)
        if len(stations) > 2:
            chains.append(closed(stations))
    return chains


def _points(places: Sequence[float], ends: tuple[float, float], closed: _Closer) -> list[Chain]:
    stations = _stations(places, ends)
    return [closed(stations)] if places and len(stations) > 2 else []


def _stations(places: Sequence[float], ends: tuple[float, float]) -> list[float]:
    """Return the ends and what lies between them, ascending, each once."""
    found = [ends[0]]
    for place in sorted(places):
        if place - found[-1] > _NEAR and ends[1] - place > _NEAR:
            found.append(place)
    return [*found, ends[1]]


def typical_row(rows: Sequence[CourseRow]) -> CourseRow | None:
    """Return the lowest course of the kind that occurs most, those without a break first."""
    plain = [r for r in rows if not any(p.kind == "break" for p in r.parts)] or list(rows)
    if not plain:
        return None
    most = Counter(r.text for r in plain).most_common(1)[0][0]
    return next(r for r in plain if r.text == most)


def _typical(rows: Sequence[CourseRow], sizes: Sizes, length: Length, joint: float) -> list[Chain]:
    """Return the first and last cuts of a typical course and what lies between them."""
    row = typical_row(rows)
    if row is None or len(row.pieces) < 2:
        return []
    pieces = row.pieces
    place = [min(p[0] for p in piece.outer) for piece in pieces]
    first, last = (is_cut_across(p) and p.kind == "straight" for p in (pieces[0], pieces[-1]))
    stations, texts = [place[0]], list[tuple[str, ...]]()
    middle = list(pieces)
    if first:
        stations.append(place[0] + pieces[0].width)
        texts.append((dimension_text(sizes(pieces[0])[0]),))
        middle = middle[1:]
    if last:
        middle = middle[:-1]
    end = place[-1] if last else place[-1] + pieces[-1].width
    if middle and end - stations[-1] > _NEAR:
        tile = max(p[0] for p in middle[0].slot) - min(p[0] for p in middle[0].slot)
        said = _repeat("whole", len(middle), len(middle) - 1 + first + last, (tile, joint), end - stations[-1], length)
        texts.append((*said, "") if first or last else said)
        stations.append(end)
    elif last:
        stations.append(end)
        texts.append(("",))
    if last:
        stations.append(place[-1] + pieces[-1].width)
        texts.append((dimension_text(sizes(pieces[-1])[0]),))
    return [Chain(tuple(stations), tuple(texts), f"course {row.label}")] if first or last else []


def _repeat(
    word: str, count: int, joints: int, module: tuple[float, float], whole: float, length: Length
) -> tuple[str, ...]:
    """Return what is written over tiles that repeat, in full and shorter; only the length where they do not.

    Args:
        word: What repeats.
        count: How many.
        joints: How many joints lie between and beside them.
        module: Tile and joint, mm.
        whole: What they take together, mm.
        length: Writes a length.
    """
    text = length(whole)
    if abs(count * module[0] + joints * module[1] - whole) > _NEAR:
        return (text,)
    if joints <= 0:
        return (f"{count} {word} = {text}", text)
    # the bare length would be read as that of a tile
    return (
        f"{count} {word} + {joints} joint{'s' * (joints != 1)} = {text}",
        f"{count} {word} + joints = {text}",
        f"{count} {word}",
    )


def _upwards(parts: Sequence[Sequence[Chain]], length: Length) -> list[Chain]:
    """Return the heights of the zones that run across a wall: one chain where they stand one above the other."""
    found = sorted((chain for part in parts for chain in part), key=lambda c: c.stations[0])
    if len(found) < 2 or any(a.stations[-1] > b.stations[0] for a, b in pairwise(found)):
        return found
    stations, texts = found[0].stations, found[0].texts
    for chain in found[1:]:
        stations, texts = (
            (*stations, *chain.stations),
            (*texts, (length(chain.stations[0] - stations[-1]),), *chain.texts),
        )
    return [Chain(stations, texts)]


def _heights(rows: Sequence[CourseRow], sizes: Sizes, length: Length, joint: float) -> list[Chain]:
    """Return the heights of the first and last courses and what lies between them."""
    if len(rows) < 2:
        return []
    first, last = rows[0], rows[-1]
    bottom = min(p[1] for piece in first.pieces for p in piece.outer)
    top = max(p[1] for piece in last.pieces for p in piece.outer)
    stations, texts = [bottom], list[tuple[str, ...]]()
    cut_low, cut_high = (all(is_cut_in_height(p) for p in r.pieces) for r in (first, last))
    between = list(rows[cut_low : len(rows) - cut_high])
    low, high = (max(r.pieces, key=lambda p: p.height) for r in (first, last))
    if cut_low:
        stations.append(bottom + low.height)
        texts.append((dimension_text(sizes(low)[1]),))
    end = top - high.height if cut_high else top
    if between:
        count = between[-1].course - between[0].course + 1
        module = (between[0].high - between[0].low, joint)
        word = "course" if count == 1 else "courses"
        said = _repeat(word, count, count - 1 + cut_low + cut_high, module, end - stations[-1], length)
        texts.append((*said, "") if cut_low or cut_high else said)
    else:
        texts.append(("",))
    stations.append(end)
    if cut_high:
        stations.append(top)
        texts.append((dimension_text(sizes(high)[1]),))
    return [Chain(tuple(stations), tuple(texts))]
