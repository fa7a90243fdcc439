"""What the rules of holes share: which holes are judged, which piece lies in a slot, the cure in words."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import MultiLineString

from elevation.checks.look import side_name, text
from elevation.geom import Point, bounds
from elevation.layout import LaidFace
from elevation.patterns import ByWall, Start
from elevation.pieces import Piece
from elevation.pieces.hole_place import HoleInZone, holes_in_zones
from elevation.pieces.hole_shift import Good, Shift, has_no_bridge, least_shifts
from elevation.plan import Plan
from elevation.wall import FIELD


def judged_holes(plan: Plan, laid: LaidFace, least: float) -> tuple[HoleInZone, ...]:
    """Return the holes of a face, zone by zone; mosaic is nipped chip by chip and not judged."""
    holes = holes_in_zones(laid, least)
    return tuple(h for h in holes if plan.job.tile[h.zone.place.tile].chip is None)


def piece_in_slot(plan: Plan, laid: LaidFace, hole: HoleInZone, slot: Point) -> Piece:
    """Return the piece in a slot that is nearest to a hole."""
    there = [
        p
        for p in plan.pieces_of(laid.face.id)
        if p.zone == hole.zone.place.id
        and abs(bounds(p.slot)[0] - slot[0]) < 1e-3
        and abs(bounds(p.slot)[1] - slot[1]) < 1e-3
    ]
    return min(there, key=lambda p: (plan.shapes[p.id].distance(hole.area), p.part))


def border_name(plan: Plan, laid: LaidFace, hole: HoleInZone) -> str:
    """Return the name of the edge that is nearest to a hole: ``tub top``, ``right``."""
    runs = [r for r in plan.runs if r.face == laid.face.id and r.of != hole.id]
    return side_name(min(runs, key=lambda r: (MultiLineString(r.line).distance(hole.area), r.name)))


def cure(plan: Plan, laid: LaidFace, hole: HoleInZone, holes: Sequence[HoleInZone], good: Good = has_no_bridge) -> str:
    """Return the least move of the layout that puts a hole well, in words."""
    zone = hole.zone.place.id
    of = f"beyond {hole.zone.place.beyond}" if hole.zone.place.beyond else f"of {zone}"
    what = "the layout" if zone == FIELD else f"the layout {of}"
    near = [h for h in holes if h.zone is hole.zone]
    shifts = least_shifts(hole, near, plan.job.step, good)
    moves = shifts.one or ((shifts.both,) if shifts.both is not None else ())
    inside = "puts it inside one tile" if good is not has_no_bridge else "cures it"
    if not moves:
        others = " and keeps the other holes clear of edges" if len(near) > 1 else ""
        rest = "Move the hole" if good is not has_no_bridge else "Move the hole, or notch it through to the edge"
        return f"No move of {what} {inside}{others}. {rest}"
    said = ", or ".join(_way(plan, s) for s in moves)
    tied = ", which takes the walls tied to its course lines along" if any(s.y for s in moves) else ""
    return f"Moving {what} {said} {inside}{tied if _is_tied(plan, laid.face.wall) and zone == FIELD else ''}"


def _way(plan: Plan, move: Shift) -> str:
    ways = []
    if move.x:
        ways.append(f"{text(plan, abs(move.x))} to the {'right' if move.x > 0 else 'left'}")
    if move.y:
        ways.append(f"{text(plan, abs(move.y))} {'up' if move.y > 0 else 'down'}")
    return " and ".join(ways)


def _is_tied(plan: Plan, wall: str) -> bool:
    """Tell whether a wall shares its course lines with another."""
    for w in plan.job.wall:
        start = w.layout.start
        if isinstance(start, Start) and isinstance(start.y, ByWall) and wall in (w.id, start.y.wall):
            return True
    return False
