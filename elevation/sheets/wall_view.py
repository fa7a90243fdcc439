"""What an elevation shows besides the tile: the wall itself, its edges, what it carries, its level and plumb lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import shapely
from shapely.geometry import LineString
from shapely.geometry import Point as Dot

from elevation.drawing.labels import Request
from elevation.drawing.marks import Area, Circle, Line, Mark, Ring, Segments
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View
from elevation.features import WallMark
from elevation.fonts import text_width
from elevation.geom import EPS, Point, parts, rings_of
from elevation.layout import LaidFace
from elevation.layout.regions import cut_out_area
from elevation.pieces import EdgeRun
from elevation.pieces.mitres import is_mitre
from elevation.plan import Plan
from elevation.sheets.wall_tiles import light_tiles
from elevation.sheets.wall_trims import trim_marks
from elevation.wall import CutOut

SOFT_ASIDE = 1.1
"""How far beyond the side that the tile ends at a soft joint's line is drawn, mm of paper: clear of its outline."""
MITRE_INSIDE = 0.9
"""How far inside the tile's edge the line of a mitre is drawn, mm of paper."""
_SOFT_SHOWS = 2.2  # mm of paper: least gap in which the line stands clear of both sides
_PAST = 5.0  # mm of paper that level and plumb lines run past the wall
START = 1.6
"""Radius of the mark of the start, mm of paper."""

_MARK_PENS = {"stud": "hidden", "bar": "feature", "glass": "centre", "light": "hidden", "outlet": "hidden",
              "note": "fine"}  # fmt: skip


@dataclass
class Drawn:
    """What has been drawn so far.

    Attributes:
        marks: The marks, in order.
        names: Names that still want a place.
        used: What occurs, for the legend.
        keep: Boxes that words stay off, mm of paper.
    """

    marks: list[Mark] = field(default_factory=list)
    names: list[Request] = field(default_factory=list)
    used: set[str] = field(default_factory=set)
    keep: list[tuple[float, float, float, float]] = field(default_factory=list)


def wall_marks(plan: Plan, laid: LaidFace, view: View, drawn: Drawn, *, working: bool) -> None:
    """Draw everything but the tile.

    Args:
        plan: The plan.
        laid: The wall.
        view: Takes the wall to the paper.
        drawn: Collects marks, names and what the legend has to explain.
        working: Draw what only the people at work need: soft joints, centres, level and plumb lines.
    """
    wall = plan.job.wall_by_id(laid.face.wall)
    for cut in laid.face.cutouts:
        _cut_out(plan, laid, cut, view, drawn, working=working)
    _zones(laid, view, drawn)
    for run in plan.runs:
        if run.face == laid.face.id:
            draw_edge(plan, laid, run, view, drawn, working=working)
    if trims := trim_marks(plan, laid, view, working=working):
        drawn.marks += trims
        drawn.used.add("trim")
    for mark in wall.mark if laid.face.kind == "wall" else ():
        _mark(mark, view, drawn, working=working)
    drawn.marks.append(Area((view.ring(laid.face.built),), "wall"))
    if working:
        _set_out(laid, view, drawn)


def body_ring(laid: LaidFace, cut: CutOut) -> Ring:
    """Return the clear outline of what a wall carries, its corners rounded; mm on the face."""
    bare = [replace(e, offset=0.0, line=None) for e in laid.edges]
    area = cut_out_area(cut, bare)
    return tuple((float(x), float(y)) for x, y in area.exterior.coords[:-1])


def start_line(laid: LaidFace) -> float:
    """Return where the plumb line of the start stands, mm on the face: a left edge of tiles, clear of the sides.

    A start at a side is carried inward by whole modules, for nobody plumbs a line in a corner; as near the middle as
    the first course has tile there, clear of a vanity or a tub.
    """
    zone = laid.zones[0]
    x0, y0, x1, y1 = zone.region.bounds
    module, x = zone.lattice.a[0], zone.origin[0]
    if x0 + module / 2 < x < x1 - module / 2:
        return x
    middle = (x0 + x1) / 2
    inward = x + round((middle - x) / module) * module
    up = min(max(zone.origin[1], y0), y1 - 1.0) + 0.5
    count = int((x1 - x0) / module)
    places = sorted((inward + k * module for k in range(-count, count + 1)), key=lambda v: (abs(v - middle), v))
    clear = (v for v in places if x0 + module / 2 < v < x1 - module / 2 and zone.region.covers(Dot(v + 0.5, up)))
    return next(clear, inward)


def _cut_out(plan: Plan, laid: LaidFace, cut: CutOut, view: View, drawn: Drawn, *, working: bool) -> None:
    if cut.kind == "hole":
        _hole(cut, view, drawn, working=working)
        return
    ring = body_ring(laid, cut)
    clipped = _inside(laid, ring)
    if not clipped:
        return
    paper = tuple(view.ring(r) for r in clipped)
    drawn.marks.append(Area(paper[:1], None, "paper"))
    name = cut.word if cut.word == cut.id else f"{cut.word} {cut.id}"
    if cut.kind == "niche":
        _niche(plan, laid, cut, view, drawn)
    drawn.marks += [Area((r,), "feature") for r in paper]
    drawn.names.append(Request(name, (paper[0],)))
    if cut.kind == "niche" and working:
        drawn.names += _own_cuts(plan, laid, cut, paper[0])


def _inside(laid: LaidFace, ring: Ring) -> list[Ring]:
    """Return what of a ring lies on the wall: a tub may run past its end."""
    found = shapely.intersection(shapely.Polygon(ring), shapely.Polygon(laid.face.built))
    return [
        tuple((float(x), float(y)) for x, y in p.exterior.coords[:-1])
        for p in shapely.get_parts(found).tolist()
        if p.geom_type == "Polygon" and not p.is_empty
    ]


def _niche(plan: Plan, laid: LaidFace, cut: CutOut, view: View, drawn: Drawn) -> None:
    """Draw the tile of a niche's back, thin: it has numbers of its own."""
    for back in plan.faces_of(laid.face.wall):
        if back.face.of == cut.id and back.face.kind == "back":
            at = view.point(back.face.at)
            drawn.marks += light_tiles(plan.pieces_of(back.face.id), View(view.ratio, (0.0, 0.0), at, view.unit))
            drawn.used.add("back")


def _own_cuts(plan: Plan, laid: LaidFace, cut: CutOut, paper: Ring) -> list[Request]:
    """Return the tag that says how the niche's own cuts are numbered, as full as there is room for."""
    faces = [f for f in plan.faces_of(laid.face.wall) if f.face.of == cut.id]
    numbers = [p.number for f in faces for p in plan.pieces_of(f.face.id) if p.number is not None]
    if not numbers:
        return []
    says = [f"cuts {numbers[0]} to {numbers[-1]}", f"cuts from {numbers[0]}", f"cuts {laid.face.id}{cut.id}"]
    room = max(x for x, _ in paper) - min(x for x, _ in paper) - 3.0
    return [Request(next((s for s in says if text_width(s, NUMBER, "semibold") <= room), says[-1]), (paper,))]


def _hole(cut: CutOut, view: View, drawn: Drawn, *, working: bool) -> None:
    xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
    middle = cut.circle[0] if cut.circle is not None else ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    x, y = view.point(middle)
    half = (view.length(max(xs) - min(xs)) / 2, view.length(max(ys) - min(ys)) / 2)
    if cut.circle is not None:
        drawn.marks.append(Circle((x, y), view.length(cut.circle[1]), "feature", "paper"))
    else:
        drawn.marks.append(Area((view.ring(cut.shape.ring),), "feature", "paper"))
    reach = half
    if cut.cover is not None:
        drawn.used.add("cover")
        if isinstance(cut.cover, tuple):
            reach = (view.length(cut.cover[0]) / 2, view.length(cut.cover[1]) / 2)
            drawn.marks.append(Area((_box(x, y, *reach),), "hidden"))
        else:
            reach = (view.length(cut.cover) / 2,) * 2
            drawn.marks.append(Circle((x, y), reach[0], "hidden"))
    if working:
        drawn.used.add("hole")
        out = (max(reach[0], half[0]) + 1.5, max(reach[1], half[1]) + 1.5)
        drawn.marks.append(Segments(((x - out[0], y, x + out[0], y), (x, y - out[1], x, y + out[1])), "fine"))
    drawn.names.append(Request(cut.id, (_box(x, y, *(max(r, 0.5) for r in reach)),), outside=True))


def _box(x: float, y: float, half_width: float, half_height: float) -> Ring:
    return (
        (x - half_width, y - half_height),
        (x + half_width, y - half_height),
        (x + half_width, y + half_height),
        (x - half_width, y + half_height),
    )


def _zones(laid: LaidFace, view: View, drawn: Drawn) -> None:
    for zone in laid.zones:
        shape = zone.place.shape
        if shape is None:
            continue
        drawn.used.add("zone")
        drawn.marks.append(Area((view.ring(shape.ring),), "feature"))
        # a niche may stand in it: the name goes on what is left of it
        widest = max(parts(zone.region), key=lambda p: p.area)
        drawn.names.append(Request(f"zone {zone.place.id}", (view.ring(rings_of(widest)[0]),)))


def draw_edge(plan: Plan, laid: LaidFace, run: EdgeRun, view: View, drawn: Drawn, *, working: bool) -> None:
    """Draw a soft joint, or the line of a mitre, along the edge of the tile."""
    cut = next((c for c in laid.face.cutouts if c.id == run.of), None)
    if working and is_mitre(plan.job, run, plan.faces):
        drawn.marks += [
            Line(view.ring(_into_tile(laid, line, MITRE_INSIDE * view.ratio)), "fine") for line in run.line
        ]
        drawn.used.add("mitre")
    # what seals a hole lies under its plate and is no line that anybody sets out
    if run.kind != "soft" or not working or (cut is not None and cut.kind == "hole"):
        return
    gap = next(e.offset for e in laid.edges if (e.border.of, e.border.side) == (run.of, run.side))
    for line in run.line:
        drawn.marks.append(Line(view.ring(_beside(laid, line, soft_place(gap, view))), "soft"))
        drawn.used.add("soft")


def _into_tile(laid: LaidFace, line: Sequence[Point], distance: float) -> tuple[Point, ...]:
    """Return a line shifted into the tile."""
    region = shapely.union_all([z.region for z in laid.zones])
    line = _without_hooks(line)
    ways = [shapely.offset_curve(LineString(line), d, join_style="mitre") for d in (distance, -distance)]
    moved = max(ways, key=lambda w: float(shapely.length(shapely.intersection(w, region))))
    return tuple((float(x), float(y)) for x, y in moved.coords)


def soft_place(gap: float, view: View) -> float:
    """Return how far from the tile the line of a soft joint of a width is drawn, mm on the face."""
    return gap / 2 if view.length(gap) >= _SOFT_SHOWS else gap + SOFT_ASIDE * view.ratio


def _beside(laid: LaidFace, line: Sequence[Point], distance: float) -> tuple[Point, ...]:
    """Return a line shifted away from the tile."""
    line = _without_hooks(line)
    if distance == 0 or len(line) < 2:
        return tuple(line)
    region = shapely.union_all([z.region for z in laid.zones])
    for signed in (distance, -distance):
        moved = shapely.offset_curve(LineString(line), signed, join_style="mitre", mitre_limit=5.0)
        probe = shapely.offset_curve(LineString(line), signed * min(1.0, 0.5 / distance), join_style="mitre")
        if not region.contains(probe.interpolate(0.5, normalized=True)) and not moved.is_empty:
            return tuple((float(x), float(y)) for x, y in moved.coords)
    return tuple(line)


def _without_hooks(line: Sequence[Point]) -> Sequence[Point]:
    """Return a line without end segments that are not there: a corner nicked by a hair would grow when shifted."""
    first, last = 0, len(line) - 1
    while last - first > 1 and math.dist(line[first], line[first + 1]) < EPS:
        first += 1
    while last - first > 1 and math.dist(line[last], line[last - 1]) < EPS:
        last -= 1
    return line[first : last + 1]


def _mark(mark: WallMark, view: View, drawn: Drawn, *, working: bool) -> None:
    pen = _MARK_PENS[mark.kind]
    x0, y0 = view.point((mark.x, mark.y))
    x1, y1 = view.point((mark.x + mark.width, mark.y + mark.height))
    if mark.width and mark.height:
        drawn.marks.append(Area((((x0, y0), (x1, y0), (x1, y1), (x0, y1)),), pen))
    elif mark.width or mark.height:
        drawn.marks.append(Line(((x0, y0), (x1, y1)), pen))
    else:
        drawn.marks.append(Segments(((x0 - 1.5, y0, x0 + 1.5, y0), (x0, y0 - 1.5, x0, y0 + 1.5)), pen))
    if mark.kind == "stud" and mark.text is None:
        drawn.used.add("stud")
        return
    if mark.kind == "glass":
        drawn.used.add("glass")
        # the strip of a screen is too narrow for its name: the legend has it, where there is one
        if working and mark.text in (None, mark.kind):
            return
    word = mark.text or f"{mark.kind} {mark.id}"
    middle, half = ((x0 + x1) / 2, (y0 + y1) / 2), (max((x1 - x0) / 2, 0.5), max((y1 - y0) / 2, 0.5))
    drawn.names.append(Request(word, (_box(*middle, *half),)))


def _set_out(laid: LaidFace, view: View, drawn: Drawn) -> None:
    """Draw the level line, the plumb line of the start, and the start itself."""
    x0, y0, x1, y1 = laid.face.bounds
    if laid.face.has_datum:
        y = view.y(laid.face.datum[1])
        drawn.marks.append(Line(((view.x(x0) - 1.0, y), (view.x(x1) + _PAST, y)), "centre"))
        drawn.used.add("level")
    plumb = start_line(laid)
    x = view.x(plumb)
    drawn.marks.append(Line(((x, view.y(y0) - 1.0), (x, view.y(y1) + _PAST)), "centre"))
    drawn.used.add("plumb")
    up = laid.zones[0].origin[1]
    _, b0, _, b1 = laid.zones[0].region.bounds
    if b0 - 1 <= up <= b1 + 1:
        y = view.y(up)
        drawn.marks += start_mark((x, y))
        drawn.keep.append((x - START, y - START, x + START, y + START))
        drawn.used.add("start")


def start_mark(at: Point) -> tuple[Mark, ...]:
    """Return the mark of the start: a ring with its upper right quarter filled, where the first tile stands."""
    x, y = at
    quarter = ((x, y), (x + START, y), (x + 0.924 * START, y + 0.383 * START),
               (x + 0.707 * START, y + 0.707 * START), (x + 0.383 * START, y + 0.924 * START),
               (x, y + START))  # fmt: skip
    return Circle(at, START, "fine", "paper"), Area((quarter,), None, "ink")
