"""What a plan tells of the room: which walls get wet, where the rim of a tub is, where the floor is."""

from __future__ import annotations

from dataclasses import dataclass

from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.layout.regions import facing_of
from elevation.plan import Plan

WET = ("tub", "pan")


@dataclass(frozen=True, slots=True)
class Rim:
    """A tub or pan on or under a wall: what it is, from where to where, and the height of its rim; mm on the face."""

    word: str
    left: float
    right: float
    height: float

    def away(self, left: float, right: float) -> float:
        """Return the level distance from a stretch to it, mm; 0 above it."""
        return max(0.0, self.left - right, left - self.right)


def rims(laid: LaidFace) -> tuple[Rim, ...]:
    """Return the tubs and pans of a wall: its fixtures, and those that its own bottom stands on."""
    found = []
    for cut in laid.face.cutouts:
        if cut.kind == "fixture" and cut.word in WET:
            xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
            found.append(Rim(cut.word, min(xs), max(xs), max(ys)))
    for edge in laid.edges:
        b = edge.border
        if not b.of and b.meets in WET and facing_of(b.line) == "bottom":
            xs, ys = [p[0] for p in b.line], [p[1] for p in b.line]
            found.append(Rim(b.meets or "", min(xs), max(xs), max(ys)))
    return tuple(found)


def is_wet(laid: LaidFace) -> bool:
    """Tell whether a wall stands at a tub or pan."""
    return bool(rims(laid))


def floor_level(plan: Plan, laid: LaidFace) -> float | None:
    """Return the height of the room's finished floor on a wall, mm; ``None`` when the job does not tell.

    A wall whose bottom meets the floor, or that a tub stands before, tells it; the datum carries it to the others.
    """
    own = _own_floor(laid)
    if own is not None:
        return own + plan.job.room.floor
    if not laid.face.has_datum:
        return None
    for other in plan.walls:
        there = _own_floor(other)
        if there is not None and other.face.has_datum:
            return there - other.face.datum[1] + laid.face.datum[1] + plan.job.room.floor
    return None


def _own_floor(laid: LaidFace) -> float | None:
    at_floor = [p[1] for e in laid.edges if not e.border.of and e.border.meets == "floor" for p in e.border.line]
    if at_floor:
        return min(at_floor)
    bottom = laid.face.bounds[1]
    for cut in laid.face.cutouts:
        lowest = min(p[1] for p in cut.shape.ring)
        if cut.kind == "fixture" and cut.word == "tub" and lowest <= bottom + EPS:
            return lowest
    return None


def tile_top(laid: LaidFace) -> float:
    """Return the height of the highest tile on a wall, mm."""
    return max(z.region.bounds[3] for z in laid.zones)
