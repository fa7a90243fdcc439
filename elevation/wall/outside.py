"""Outside corners: which wall's tile runs by, which one stops at it, and how far the finished corner stands out.

Where a wall ends at an outside corner, the build-up of the wall round it comes on top of its own length. What fills
the square where the two build-ups meet is settled by common practice:

- A mitre on both: both tiles run to the finished corner, bevelled.
- A trim on one wall: it covers the edge of that wall's tile, which runs by to the other wall's finished face; the
  other tile stops beside it, a joint off.
- A trim on both: the two trims meet at the corner, and both tiles stop at them.
- No trim: the wall in ``[room] first`` is tiled first and stops at the corner; the other wall's tile laps its edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from elevation.job.models import Job, Trim, Wall
from elevation.wall.build_up import build_up, in_front
from elevation.wall.face import Border, Face

How = Literal["mitre", "left runs by", "right runs by", "trims meet", "not said"]
Place = tuple[str, str]
"""Id of a wall and name of its side."""

_OPPOSITE = {"left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class OutsideCorner:
    """An outside corner, seen from the room.

    Attributes:
        left: The wall left of it and the side that ends there.
        right: The wall right of it.
        how: What happens there.
        trims: Trim of the left wall's side and of the right one's; a mitre stands on both though only one names it.
    """

    left: Place
    right: Place
    how: How
    trims: tuple[str | None, str | None]

    @property
    def name(self) -> str:
        """``B-C``."""
        return f"{self.left[0]}-{self.right[0]}"

    @property
    def runs_by(self) -> Place | None:
        """The side whose tile covers the other's edge; ``None``: neither, or both."""
        return {"left runs by": self.left, "right runs by": self.right}.get(self.how)


def outside_corners(job: Job) -> Iterator[OutsideCorner]:
    """Yield every outside corner whose two walls are told (``meets = "outside", with = "C"``), each once.

    The wall round the corner may be silent about its own side, which is then the opposite one.
    """
    seen: set[frozenset[Place]] = set()
    walls = {w.id: w for w in job.wall}
    for wall in job.wall:
        for side, edge in wall.edges.items():
            other = walls.get(edge.with_ or "")
            if edge.meets != "outside" or other is None:
                continue
            theirs = side_round(wall, side, other)
            if theirs is None:
                continue
            here, there = (wall.id, side), (other.id, theirs)
            if frozenset((here, there)) in seen:
                continue
            seen.add(frozenset((here, there)))
            trims = {here: edge.trim, there: other.edges[theirs].trim if theirs in other.edges else None}
            # of two numbered sides the wall that comes first in the file is taken as the left one
            left, right = (there, here) if side == "left" else (here, there)
            yield _settled(job, left, right, trims)


def side_round(wall: Wall, side: str, other: Wall) -> str | None:
    """Return the side of the other wall that ends at the same corner; ``None`` when it cannot be told."""
    named = [s for s, e in other.edges.items() if e.meets == "outside" and e.with_ == wall.id]
    opposite = _OPPOSITE.get(side)
    if opposite in named or (not named and opposite is not None and other.outline is None):
        return opposite
    return named[0] if len(named) == 1 and (opposite is None or other.outline is not None) else None


def _settled(job: Job, left: Place, right: Place, trims: dict[Place, str | None]) -> OutsideCorner:
    names = trims[left], trims[right]
    kinds = [job.trim[t].kind if t is not None else None for t in names]
    if "mitre" in kinds:
        mitre = names[kinds.index("mitre")]
        return OutsideCorner(left, right, "mitre", (names[0] or mitre, names[1] or mitre))
    if names[0] is not None and names[1] is not None:
        return OutsideCorner(left, right, "trims meet", names)
    if names[0] is not None or names[1] is not None:
        return OutsideCorner(left, right, "left runs by" if names[0] is not None else "right runs by", names)
    first = [w for w, _ in (left, right) if w in job.room.first]
    if len(first) != 1:
        return OutsideCorner(left, right, "not said", names)
    # tiled first, it stops at the corner; the other one laps its edge
    return OutsideCorner(left, right, "right runs by" if first[0] == left[0] else "left runs by", names)


def round_corners(job: Job, faces: Sequence[Face]) -> dict[Place, Border]:
    """Return the borders that change at outside corners, by wall and side.

    Without ``[room] first`` no build-up is reckoned and nothing changes but that a mitre stands on both walls.
    """
    changes: dict[Place, Border] = {}
    for corner in outside_corners(job):
        pairs = ((corner.left, corner.right, 0), (corner.right, corner.left, 1))
        for here, there, k in pairs:
            border = _border(faces, here)
            if border is None or _border(faces, there) is None:
                continue
            trim, theirs = (job.trim[t] if t is not None else None for t in (corner.trims[k], corner.trims[1 - k]))
            other = job.wall_by_id(there[0])
            changed = replace(border, meets="outside", round_corner=there[0])
            said = job.wall_by_id(here[0]).edges.get(here[1])
            if border.trim is None and (said is None or said.joint is None):
                changed = replace(changed, kind="bare", joint=(0.0, 0.0))
            if corner.how == "mitre" and border.trim is None and trim is not None:
                changed = replace(
                    changed, kind="trim", trim=corner.trims[k], trim_width=trim.face + trim.joint, joint=(0.0, 0.0)
                )
            if job.room.first and corner.how != "not said":
                changed = _reckoned(job, changed, corner, here, other, trim, theirs)
            changes[here] = changed
    return changes


def _reckoned(
    job: Job, border: Border, corner: OutsideCorner, here: Place, other: Wall, trim: Trim | None, theirs: Trim | None
) -> Border:
    past, cover = build_up(job, other), in_front(job, other)
    if corner.how == "mitre" or corner.runs_by == here:
        return replace(border, behind=-past, past=past)
    if corner.how == "trims meet":
        assert trim is not None
        return replace(border, behind=max(0.0, cover - trim.face) - past, past=past)
    # it stops beside the tile or the trim of the wall that runs by
    joint = (theirs.joint, theirs.joint) if theirs is not None and border.joint == (0.0, 0.0) else border.joint
    return replace(border, behind=cover - past, past=past, joint=joint)


def _border(faces: Sequence[Face], place: Place) -> Border | None:
    face = next(f for f in faces if f.id == place[0])
    return next((b for b in face.borders if not b.of and b.side == place[1]), None)


def corner_words(corner: OutsideCorner) -> str:
    """Return what happens at an outside corner, in a setter's words."""
    if corner.how == "mitre":
        return f"both tiles are mitred and meet at the corner, {corner.trims[0]}"
    if corner.how == "trims meet":
        return "a trim on each wall; the two meet at the corner, both tiles stop at them"
    if corner.runs_by is None:
        return "nothing says whose tile runs by; both stop at the reading"
    by = corner.runs_by
    stops = corner.right if by == corner.left else corner.left
    trim = corner.trims[0 if by == corner.left else 1]
    if trim is not None:
        return f"wall {by[0]}'s tile runs by, its edge covered by trim {trim}; wall {stops[0]}'s stops beside it"
    return (
        f"wall {stops[0]} is tiled first and stops at the corner; wall {by[0]}'s tile laps its edge, and shows its own"
    )
