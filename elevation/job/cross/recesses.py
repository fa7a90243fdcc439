"""Niches and tiled returns: depths, falls and shelves that can be built, bays that hold the niche."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.features import Edge, Niche, Opening
from elevation.geom import EPS, Point
from elevation.job.cross.view import View
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path

_STEEPEST = 101.6
"""Fall of a sill, mm a foot, above which it is no sill: 4 in."""
_FOOT = 304.8
_DEEPEST = {"niche": 609.6, "opening": 1219.2}
"""Depth beyond which no wall is there to hold it, mm: 24 in, 48 in."""
_CORNERS = 4
_LEAN = 3.0
"""A side that leans more than 1 in 3 is neither sill or head nor jamb."""


def recess_depths(view: View) -> Iterator[Fault]:
    """Find niches and returns too deep for any wall or too shallow to tile, and outlines that have no four returns."""
    for at, wall in view.walls():
        recesses: list[tuple[Path, Niche | Opening]] = [
            *(((*at, "niche", i), niche) for i, niche in enumerate(wall.niche)),
            *(((*at, "opening", i), opening) for i, opening in enumerate(wall.opening)),
        ]
        for path, recess in recesses:
            if recess.depth is None:
                continue
            if isinstance(recess, Opening) and recess.outline is not None:
                yield from _outline((*path, "outline"), recess.outline)
            yield from _depth(view, wall, path, recess, recess.depth)
            yield from _pitch(view, (*path, "pitch"), recess.pitch, "sill")


def _outline(path: Path, outline: Sequence[Point]) -> Iterator[Fault]:
    """Find an outline whose sides are not one sill, one head and two jambs."""
    if len(outline) != _CORNERS:
        yield Fault(path, f"has {len(outline)} corners; with a depth it needs four, for sill, head and two jambs")
        return
    runs = [(q[0] - p[0], q[1] - p[1]) for p, q in zip(outline, [*outline[1:], outline[0]], strict=True)]
    level = [dx for dx, dy in runs if abs(dx) >= _LEAN * abs(dy)]
    upright = [dy for dx, dy in runs if abs(dy) >= _LEAN * abs(dx)]
    if any(len(sides) != 2 or sides[0] * sides[1] > 0 for sides in (level, upright)):
        yield Fault(path, "leans so much that sill, head and jambs cannot be told apart, which a depth asks for")


def _depth(view: View, wall: Wall, path: Path, recess: Niche | Opening, depth: float) -> Iterator[Fault]:
    where = (*path, "depth")
    kind = "niche" if isinstance(recess, Niche) else "opening"
    most = _DEEPEST[kind]
    if depth > most:
        usual = (
            f"a niche is {'3 to 6 in' if view.unit == 'in' else '75 to 150 mm'} deep, finished wall to finished back"
            if kind == "niche"
            else "depth is from the finished wall to the frame"
        )
        yield Fault(where, f"is more than {view.say(most)}, deeper than a wall; {usual}")
    taken = _front(view, wall, recess)
    if depth <= taken + EPS:
        yield Fault(
            where,
            f"leaves nothing of the return to tile: the wall's tile and a joint take {view.say(taken)} of it at the "
            "front; make it deeper",
        )


def _front(view: View, wall: Wall, recess: Niche | Opening) -> float:
    """Return the most that the wall's own tile and the joint before a return take of its depth, mm."""
    tile = view.tile_of(wall)
    if tile is None:
        return 0.0
    edges = recess.edges
    named = edges if isinstance(edges, dict) else {n: getattr(edges, n) for n in type(edges).model_fields}
    sides: list[Edge] = [*named.values(), *([Edge()] if len(named) < _CORNERS else [])]
    taken = 0.0
    for edge in sides:
        trim = view.job.trim.get(edge.trim or "")
        if trim is not None:
            taken = max(taken, trim.joint if trim.kind == "mitre" else tile.thickness + trim.joint)
        elif recess.lap == "wall":
            taken = max(taken, tile.thickness + (wall.layout.joint or view.job.joint)[0])
    return taken


def _pitch(view: View, where: Path, pitch: float, word: str) -> Iterator[Fault]:
    if pitch > _STEEPEST:
        usual = "1/4 in" if view.unit == "in" else "6 mm"
        text = f"is a fall of more than {view.say(_STEEPEST)} a foot; a {word} falls by about {usual} a foot"
        yield Fault(where, f"{text} of depth, written as a length, not in degrees")


def niche_insides(view: View) -> Iterator[Fault]:
    """Find shelves that are not in their niche, sills that rise to the head, and bays that do not hold the niche."""
    for at, wall in view.walls():
        for i, niche in enumerate(wall.niche):
            path = (*at, "niche", i)
            rise = niche.pitch * niche.depth / _FOOT
            if niche.pitch <= _STEEPEST and rise >= niche.height:
                text = (
                    f"lifts the back of the sill by {view.say(rise)}; the niche is only {view.say(niche.height)} high"
                )
                yield Fault((*path, "pitch"), text)
            yield from _shelves(view, path, niche)
            yield from _bay(view, path, niche)


def _shelves(view: View, path: Path, niche: Niche) -> Iterator[Fault]:
    # underside and top of each shelf before, at the front and at the back; all from the front edge of the sill
    before: list[tuple[tuple[float, float], tuple[float, float]]] = []
    sill = niche.pitch * niche.depth / _FOOT
    for k, shelf in enumerate(niche.shelf):
        where = (*path, "shelf", k, "y")
        pitch = niche.pitch if shelf.pitch is None else shelf.pitch
        rise = pitch * niche.depth / _FOOT
        front = shelf.y - shelf.thickness, shelf.y
        back = front[0] + rise, front[1] + rise
        if shelf.pitch is not None:
            yield from _pitch(view, (*path, "shelf", k, "pitch"), shelf.pitch, "shelf")
        if pitch > _STEEPEST:
            continue
        thick = f"a shelf {view.say(shelf.thickness)} thick"
        if front[1] >= niche.height:
            yield Fault(where, f"is at or above the niche's head, {view.say(niche.height)} above its sill")
        elif back[1] >= niche.height:
            text = f"reaches the niche's head at the back, where the shelf stands {view.say(rise)} higher"
            yield Fault(where, f"{text}; the head is {view.say(niche.height)} above the sill")
        elif front[0] < -EPS:
            yield Fault(where, f"puts the underside below the sill; {thick} has its top at that or more")
        elif back[0] < sill - EPS:
            least = view.say(shelf.thickness + sill - rise)
            yield Fault(
                where,
                f"puts the underside below the sill at the back, where the sill has risen {view.say(sill)}; "
                f"{thick} has its top at {least} or more",
            )
        elif any(_overlap(front, f) or _overlap(back, b) for f, b in before):
            yield Fault(where, "is inside another shelf of this niche; y is the top of the shelf above the sill")
        elif any((front[0] > f[0]) != (back[0] > b[0]) for f, b in before):
            yield Fault(where, "runs through another shelf of this niche, which falls more or less than this one")
        before.append((front, back))


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] - EPS and one[1] > other[0] + EPS


def _bay(view: View, path: Path, niche: Niche) -> Iterator[Fault]:
    if niche.bay is None:
        return
    left, right = niche.bay
    if niche.width > right - left + EPS:
        yield Fault(
            (*path, "bay"),
            f"is {view.say(right - left)} between studs, narrower than the niche's {view.say(niche.width)}",
        )
        return
    move = niche.move.x if niche.move is not None else (0.0, 0.0)
    if niche.x + move[1] < left - EPS or niche.x + niche.width + move[0] > right + EPS:
        yield Fault(
            (*path, "bay"),
            f"does not hold the niche, which stands from {view.say(niche.x)} to {view.say(niche.x + niche.width)}"
            f"{' and cannot move so far' if niche.move is not None else ''}; "
            "both are measured from the wall's lower left corner",
        )
