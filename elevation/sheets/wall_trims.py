"""Trim on an elevation: its strips, the cuts where runs meet, the joints of its pieces, tags beside the runs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.cutting.trims import TrimCorner, TrimPlan, TrimRun
from elevation.drawing.labels import EDGE, EVERY_WAY, PAD, Box, Request, place_labels
from elevation.drawing.marks import Area, Line, Mark, Point, Ring
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.pieces import EdgeRun
from elevation.plan import Plan

_SHOWS = 0.45
"""Least width on paper at which the two edges of a trim leave white between them, mm."""
_CUT = 1.8
"""Least length of the line that marks a mitre or a joint, mm of paper."""
_CORNER = 1.2
"""Least side of the square that marks a corner piece, mm of paper."""


def trim_marks(plan: Plan, laid: LaidFace, view: View, *, working: bool) -> list[Mark]:
    """Return every trim of a face with its corners and joints; what is too thin to show is drawn as one line.

    Args:
        plan: The plan.
        laid: The face.
        view: Takes the face to the paper.
        working: Draw corners and joints large enough to be told, however thin the trim.
    """
    least = (_CUT, _CORNER) if working else (0.0, 0.0)
    marks: list[Mark] = []
    for trim in plan.trims:
        for run in trim.runs:
            if run.face == laid.face.id:
                marks += _strip(run, view)
                marks += [_across(view, j, least[0]) for j in _joints(trim, run)]
        for corner in trim.corners:
            if corner.face == laid.face.id:
                marks += _corner(corner, view, *least)
    return marks


def _strip(run: TrimRun, view: View) -> Iterator[Mark]:
    if run.near == run.far:
        yield Line(view.ring(run.tile), "feature")
    elif _width(run, view) >= _SHOWS:
        near, far = view.ring(run.near), view.ring(run.far)
        yield from (Line(line, "feature") for line in (near, far, (near[0], far[0]), (near[-1], far[-1])))
    else:
        pairs = zip(view.ring(run.near), view.ring(run.far), strict=True)
        yield Line(tuple(_between(a, b) for a, b in pairs), "feature")


def _width(run: TrimRun, view: View) -> float:
    near, far = run.across(run.length / 2)
    return view.length(math.dist(near, far))


def _between(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _joints(trim: TrimPlan, run: TrimRun) -> Iterator[tuple[Point, Point]]:
    """Yield the joints of a run: between its pieces, or between the lengths of a long one."""
    own = [p for p in trim.pieces if p.run == run.id]
    for before, after in pairwise(own):
        yield run.across((before.start + before.length + after.start) / 2)
    for long in trim.long:
        if long.run == run.id:
            for joint in long.joints:
                yield run.across(joint)


def _across(view: View, joint: tuple[Point, Point], least: float) -> Mark:
    """Return the line of a joint, at least so long that it is seen across a thin profile."""
    p, q = view.ring(joint)
    grow = max(1.0, least / max(math.dist(p, q), EPS))
    return Line(tuple(_scaled(v, _between(p, q), grow) for v in (p, q)), "fine")


def _corner(corner: TrimCorner, view: View, cut: float, side: float) -> Iterator[Mark]:
    """Yield the line of a mitre, or a corner piece; of a butt the strips themselves show which run goes through."""
    ring = view.ring(corner.ring)
    middle = (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))
    if corner.kind == "mitre":
        p, q = view.ring(corner.cut)
        grow = max(1.0, cut / max(math.dist(p, q), EPS))
        yield Line(tuple(_scaled(v, middle, grow) for v in (p, q)), "feature")
    elif corner.kind == "piece":
        size = max(p[0] for p in ring) - min(p[0] for p in ring)
        grow = max(1.0, side / max(size, EPS))
        yield Area((tuple(_scaled(v, middle, grow) for v in ring),), "feature", "paper")


def _scaled(p: Point, middle: Point, by: float) -> Point:
    return middle[0] + (p[0] - middle[0]) * by, middle[1] + (p[1] - middle[1]) * by


@dataclass(frozen=True, slots=True)
class Tags:
    """The tags of a face in their places.

    Attributes:
        marks: What is drawn.
        boxes: What they cover, mm of paper.
        left_out: Tags for which there was no place.
    """

    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    left_out: tuple[str, ...]


def place_tags(
    plan: Plan, laid: LaidFace, view: View, shown: Box, bounds: Box, obstacles: Sequence[Box]
) -> Tags:  # fmt: skip
    """Return the tags of the runs that frame an opening, inside it where there is room.

    Args:
        plan: The plan.
        laid: The face.
        view: Takes the face to the paper.
        shown: What of the face is shown, mm of paper.
        bounds: Where tags may stand, mm of paper.
        obstacles: What none may touch.
    """
    requests = []
    for run in (r for t in plan.trims for r in t.runs if r.face == laid.face.id and r.outer == "near"):
        x, y = view.point(_middle(run))
        if shown[0] <= x < shown[2] and shown[1] <= y < shown[3]:
            requests.append(Request(run.tag, (_box((x, y)),), _ways(run), outside=True))
    cuts = [_bounds(view.ring(p.outer)) for p in plan.pieces_of(laid.face.id) if not p.is_whole]
    placed = place_labels(requests, obstacles, bounds, crossable=cuts)
    marks = [m for label in placed.labels for m in label.marks("regular")]
    boxes = [label.box for label in placed.labels]
    boxes += [_bounds(label.leader) for label in placed.labels if label.leader is not None]
    return Tags(tuple(marks), tuple(boxes), tuple(requests[i].text for i in placed.left_out))


def border_words(plan: Plan, laid: LaidFace, view: View) -> list[Request]:
    """Return the tags of the runs that frame no opening, and the numbers of cut pieces that have room for theirs.

    The schedule has the numbers of all.
    """
    found: list[Request] = []
    for trim in plan.trims:
        border = [r for r in trim.runs if r.face == laid.face.id and r.outer == "far"]
        found += [Request(r.tag, (_box(view.point(_middle(r))),), _ways(r), outside=True) for r in border]
        on_face = {r.id for r in trim.runs if r.face == laid.face.id}
        cut = [(p.number, view.ring(p.ring)) for p in trim.pieces if p.number and p.run in on_face]
        found += [Request(number, (ring,)) for number, ring in cut if _fits(number, ring)]
    return found


def _bounds(points: Sequence[Point]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def _fits(number: str, ring: Ring) -> bool:
    """Tell whether a number fits its piece, level or turned; where it does not, the schedule has it alone."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    long = text_width(number, NUMBER, "semibold") + 2 * (PAD + EDGE)
    short = NUMBER + 2 * (PAD + EDGE)
    sizes = sorted((max(xs) - min(xs), max(ys) - min(ys)))
    return sizes[0] >= short and sizes[1] >= long


def _middle(run: TrimRun) -> Point:
    """Return a place on a run for the end of its tag's leader: off its middle, where joints and lines often are."""
    near, far = run.across(run.length * 0.4)
    return _between(near, far)


def _ways(run: TrimRun) -> tuple[Point, ...]:
    """Return the ways in which a tag may stand off its run: into the opening that it frames, else over the tile."""
    near, far = run.across(run.length * 0.4)
    if math.dist(near, far) < EPS:
        return EVERY_WAY
    away = ((far[0] - near[0]) / math.dist(near, far), (far[1] - near[1]) / math.dist(near, far))
    back = (-away[0], -away[1])
    first, second = (away, back) if run.outer == "near" else (back, away)
    return first, second, (away[1], -away[0]), (-away[1], away[0])


def _box(at: Point) -> Ring:
    x, y = at
    return (x - 0.2, y - 0.2), (x + 0.2, y - 0.2), (x + 0.2, y + 0.2), (x - 0.2, y + 0.2)


def trim_words(plan: Plan, edge: EdgeRun) -> str:
    """Return what the sheets call the trim of an edge: kind, id, and the tags of its runs: ``profile end, B-T2``."""
    assert edge.trim is not None
    return ", ".join([trim_name(plan, edge.trim), *(r.tag for r in trim_runs_at(plan, edge))])


def trim_runs_at(plan: Plan, edge: EdgeRun) -> list[TrimRun]:
    """Return the runs of trim that stand at an edge."""
    place = (edge.face, edge.of, edge.side)
    return [r for t in plan.trims for r in t.runs if (r.face, r.of, r.side) == place]


def trim_name(plan: Plan, trim: str) -> str:
    """Return what the sheets call a trim: its kind and id, ``profile end``."""
    kind = plan.job.trim[trim].kind
    return kind if kind == trim else f"{kind} {trim}"


def legend_words(plan: Plan, laid: LaidFace) -> str:
    """Return what the legend adds to the word trim: what its tags and the marks at its corners say."""
    corners = {c.kind for t in plan.trims for c in t.corners if c.face == laid.face.id}
    tag = next((r.tag for t in plan.trims for r in t.runs if r.face == laid.face.id), "")
    words = [f", {tag}: its tag"]
    words += ["; slanting line: mitred"] if "mitre" in corners else []
    words += ["; square: corner piece"] if "piece" in corners else []
    return "".join(words)
