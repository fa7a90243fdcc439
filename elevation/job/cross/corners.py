"""Outside corners: both walls must say the same of the corner that they share."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.features import Edge
from elevation.job.cross.view import View
from elevation.job.messages import Fault
from elevation.job.models import Wall
from elevation.job.paths import Path
from elevation.job.words import quoted

_OPPOSITE = {"left": "right", "right": "left"}


def outside_corners(view: View) -> Iterator[Fault]:
    """Find outside corners of which the two walls say different things, and ``with`` where no such corner can be."""
    walls = {wall.id: wall for _, wall in view.walls()}
    for at, wall in view.walls():
        for side, edge in wall.edges.items():
            if edge.with_ is None or edge.with_ == wall.id or edge.with_ not in walls:
                continue
            yield from _corner(view, (*at, "edges", side), wall, side, edge, walls[edge.with_])


def _corner(view: View, path: Path, wall: Wall, side: str, edge: Edge, other: Wall) -> Iterator[Fault]:
    if edge.meets != "outside":
        text = 'names the wall round an outside corner; write meets = "outside" beside it, or leave it out'
        yield Fault((*path, "with"), text)
        return
    if side in ("bottom", "top"):
        yield Fault(
            (*path, "with"), f"cannot be: at the {side} there is no wall round the corner; it is left or right"
        )
        return
    round_it = [s for s, e in other.edges.items() if e.with_ == wall.id and e.meets == "outside"]
    opposite = _OPPOSITE.get(side)
    if opposite is None or other.outline is not None:
        theirs = round_it[0] if len(round_it) == 1 else None
    else:
        if side in round_it:
            yield Fault(
                (*path, "with"),
                f"cannot be: wall {other.id} has this corner at its {side} too; seen from the room, one wall's right "
                "meets the other's left",
            )
            return
        theirs = opposite
    mine = other.edges.get(theirs) if theirs is not None else None
    if mine is None:
        return
    if mine.meets not in (None, "outside"):
        text = f"is not what wall {other.id} says: its {theirs} meets {quoted(mine.meets)}; make the two agree"
        yield Fault((*path, "with"), text)
    elif mine.with_ not in (None, wall.id):
        text = f"is not what wall {other.id} says: round its {theirs} is wall {mine.with_}; make the two agree"
        yield Fault((*path, "with"), text)
    else:
        yield from _mitre(view, path, edge, other, str(theirs), mine)


def _mitre(view: View, path: Path, edge: Edge, other: Wall, theirs: str, mine: Edge) -> Iterator[Fault]:
    """Find a mitre that only one of two tiles is told to take."""
    trim = view.job.trim.get(edge.trim or "")
    if trim is None or trim.kind != "mitre" or mine.trim == edge.trim:
        return
    has = f"trim {quoted(mine.trim)}" if mine.trim is not None else "no trim"
    if mine.trim is not None or mine.meets == "outside":
        yield Fault(
            (*path, "trim"),
            f"is a mitre, which takes both tiles, but the {theirs} of wall {other.id} has {has}; "
            f"write trim = {quoted(edge.trim or '')} there too",
        )
