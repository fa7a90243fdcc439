"""What an elevation says of the shelves across its corners."""

from __future__ import annotations

from collections.abc import Callable

from elevation.features import CornerShelf
from elevation.plan import Plan

HOW = "let into the tile, on the membrane and never through it, sealed all round, falling a little towards the room"
"""How such a shelf is set: common practice."""


def shelf_notes(plan: Plan, wall: str, length: Callable[[float], str]) -> list[str]:
    """Return a note for each shelf across a corner of a wall, whichever of its two walls the job file names it on."""
    notes = []
    for owner in plan.job.wall:
        for shelf in owner.corner_shelf:
            other = plan.job.neighbour(owner.id, shelf.corner)
            if other is None or wall not in (owner.id, other.id):
                continue
            own = wall == owner.id
            notes.append(_note(shelf, shelf.leg if own else shelf.leg[::-1], other.id if own else owner.id, length))
    return notes


def _note(shelf: CornerShelf, legs: tuple[float, float], other: str, length: Callable[[float], str]) -> str:
    front = "straight front" if shelf.front == "straight" else "round front"
    here, there = (length(leg) for leg in legs)
    return (
        f"Shelf {shelf.id}: {length(shelf.thickness)} thick, {front}; {here} along this wall and {there} along wall "
        f"{other}, from the corner as measured. It is {HOW} (common practice)."
    )
