"""Which dimensions an elevation carries, side by side, and how they read.

Below: what stands on the floor, the first and last cuts of a typical course, the overall width. On the left: the
first and last courses, the overall height. Above: what the wall carries, hole centres. On the right: the same
upward, and the level line. A chain is closed; no length stands in two places.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.drawing.dimensions import Side, dimension_text
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.sheets.chains import NEAR, Chain, Length
from elevation.sheets.course_dimensions import across, heights
from elevation.sheets.course_list import CourseRow, Sizes
from elevation.sheets.wall_view import start_line
from elevation.units import Unit, close_chain, format_length
from elevation.wall import Face

LEVEL, PLUMB = "level line", "plumb line"
_ACROSS = 0.9  # share of a wall's width: a zone that reaches so far runs across it


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
    low = [s for s in spans if s.y[0] <= y0 + NEAR and s.y[1] < y1 - NEAR]
    high = [s for s in spans if s not in low]
    closed = _Closer(step, length)
    chains["bottom"] += _strands([s.x for s in low], (x0, x1), closed)
    chains["top"] += _strands([s.x for s in high], (x0, x1), closed)
    chains["right"] += _strands([s.y for s in spans], (y0, y1), closed)
    corners = outline_corners(laid.face)
    # where a surveyed wall bends by a hair is on its set-out sheet
    surveyed = laid.face.kind == "wall" and plan.job.wall_by_id(laid.face.wall).survey is not None
    if (len(corners) > 4 or laid.face.arcs) and not surveyed:
        chains["top"] += _points([p[0] for p in corners], (x0, x1), closed)
        chains["right"] += _points([p[1] for p in corners], (y0, y1), closed)
    if working:
        holes = [_middle(c.shape.ring) for c in laid.face.cutouts if c.kind == "hole"]
        holes += _mark_centres(plan, laid)
        chains["top"] += _points([x for x, _ in holes], (x0, x1), closed)
        chains["right"] += _points([y for _, y in holes], (y0, y1), closed)
        widest = max(laid.field, key=lambda z: round(z.region.bounds[2] - z.region.bounds[0]))
        far: dict[Side, list[Chain]] = {"top": [], "right": []}
        for zone in laid.field if laid.side_by_side else (widest,):
            own = [r for r in rows if r.zone == zone.place.id]
            rips = across(plan, own, sizes, length, zone.joint)
            chains["bottom"] += rips["bottom"]
            far["top"] += rips.get("top", [])
        bands = [z for z in laid.zones if z.region.bounds[2] - z.region.bounds[0] > _ACROSS * (x1 - x0)]
        zones = laid.field[:1] if laid.side_by_side else list(dict.fromkeys((*laid.field, *bands)))
        found = [heights(plan, [r for r in rows if r.zone == z.place.id], sizes, length, z.joint) for z in zones]
        chains["left"] += _upwards([f.get("left", []) for f in found], length)
        far["right"] += _upwards([f.get("right", []) for f in found], length)
        for side, extra in far.items():  # the other ends of tapers, nearest to the wall
            chains[side] = [*extra, *chains[side]]
        plumb = start_line(laid)
        # as fine as on the set-out sheet: the line is snapped once and every tile hangs from it
        said_of_it = dimension_text(format_length(plumb - x0, step / 2, unit))
        chains["top"].append(Chain((x0, plumb), ((said_of_it,),), end_note=PLUMB))
        if laid.face.has_datum and abs(laid.face.datum[1] - y0) > NEAR:
            ends = sorted((y0, laid.face.datum[1]))
            said = any(abs(a - b) < NEAR for c in chains["right"] for a, b in [(c.stations[1], ends[1])])
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
        key = tuple(round(s / NEAR) for s in chain.stations)
        if key not in seen:
            seen.add(key)
            kept.append(chain)
    return kept


def _features(laid: LaidFace) -> list[Interval]:
    """Return how far openings, niches, fixtures and zones reach, as far as they lie on the wall."""
    x0, y0, x1, y1 = laid.face.bounds
    rings = [c.shape.ring for c in laid.face.cutouts if c.kind != "hole"]
    rings += [z.shape.ring for z in laid.face.zones if z.shape is not None]
    out = _out_of_true(laid)
    found = []
    for ring in rings:
        xs, ys = [p[0] for p in ring], [p[1] for p in ring]
        # what ends at a crooked side ends at the side: a chain need not say by how much that is out
        a = x0 if min(xs) <= x0 + out["left"] else min(xs)
        b = x1 if max(xs) >= x1 - out["right"] else max(xs)
        c = y0 if min(ys) <= y0 + out["bottom"] else min(ys)
        d = y1 if max(ys) >= y1 - out["top"] else max(ys)
        if b - a > EPS and d - c > EPS:
            found.append(Interval((a, b), (c, d)))
    return found


def _out_of_true(laid: LaidFace) -> dict[str, float]:
    """Return how far each side of a face is out of level or plumb, mm."""
    out = dict.fromkeys(("left", "right", "bottom", "top"), 0.0)
    for border in (laid.face.borders[i] for i in set(laid.face.outline.borders)):
        if border.side in out:
            places = [p[0 if border.side in ("left", "right") else 1] for p in border.line]
            out[border.side] = max(places) - min(places)
    return out


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
        if not any(abs(span[0] - s[0]) < NEAR and abs(span[1] - s[1]) < NEAR for s in unlike):
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
        if place - found[-1] > NEAR and ends[1] - place > NEAR:
            found.append(place)
    return [*found, ends[1]]


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
