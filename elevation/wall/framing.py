"""The rough opening of a niche: what the framer leaves so that the clear opening comes out at the tile's face.

Round the clear opening stand the tile of the returns, its bed, the membrane and the board, so on each side::

    rough width  = clear width  + 2 * (tile + bed + membrane + board)
    rough height = clear height + 2 * (tile + bed + membrane + board)

The framing under the sill is level: the pitch is made up in the bed, which is thickest at the back. Where the niche
runs into a corner its jamb lies in the plane of the other wall, with that wall's build-up: nothing is added there.

The depth runs from the finished face of the wall to the finished back. Behind that back stand its own tile, bed,
membrane and board, before the studs the wall's::

    rough depth from the face of the studs = depth + build-up of the back - build-up of the wall

which is the clear depth where both carry the same tile. Whose tile laps, and what trim ends it, moves no finished
face and so changes no rough opening. All is in mm, in the frame of the wall.
"""

from __future__ import annotations

from dataclasses import dataclass

from elevation.errors import JobError, Problem
from elevation.features import Niche
from elevation.geom import EPS
from elevation.job.models import Job
from elevation.wall.face import Face


@dataclass(frozen=True, slots=True)
class Framing:
    """A niche as the framer needs it; mm, positions in the frame of the wall.

    Attributes:
        niche: The niche.
        build: Tile, bed, membrane and board of its returns.
        back: The same of its back.
        left: Left side of the rough opening.
        bottom: Its lower side.
        width: Its width.
        height: Its height.
        depth: Its depth from the face of the studs to the framing, or the board's support, at the back.
        from_face: Its depth from the finished face of the wall.
        from_datum: Its lower side above the level line, negative below it; ``None``: the job gives no datum.
        to_left: From the wall's left side, as measured, to its left side.
        to_right: From its right side to the wall's right side, as measured.
    """

    niche: Niche
    build: float
    back: float
    left: float
    bottom: float
    width: float
    height: float
    depth: float
    from_face: float
    from_datum: float | None
    to_left: float
    to_right: float

    @property
    def right(self) -> float:
        """Right side of the rough opening."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Upper side of the rough opening."""
        return self.bottom + self.height

    @property
    def slack(self) -> tuple[float, float] | None:
        """Free space to the stud at the left and at the right; negative: it cuts into the stud. ``None``: no bay."""
        if self.niche.bay is None:
            return None
        return self.left - self.niche.bay[0], self.niche.bay[1] - self.right

    @property
    def too_wide(self) -> float:
        """By how much it is wider than the bay; 0 where it would fit, or where no bay is given."""
        return 0.0 if self.slack is None else max(0.0, -sum(self.slack))


def framing_of(job: Job, face: Face, niche: Niche) -> Framing:
    """Return the rough opening of a niche.

    Args:
        job: For the tiles, and for bed, membrane and board of the room.
        face: The wall that carries the niche.
        niche: One of its niches.

    Raises:
        JobError: The depth leaves no room for what stands behind the back.
    """
    wall = job.wall_by_id(face.wall)
    behind = job.room.bed + job.room.membrane + job.room.board
    build = job.tile[wall.layout.tile or ""].thickness + behind
    own = niche.layout.tile if niche.layout is not None else None
    back = job.tile[own or wall.layout.tile or ""].thickness + behind
    depth = niche.depth + back - build
    if depth <= 0:
        where = f'wall "{wall.id}", niche "{niche.id}"'
        raise JobError([Problem(where, "is so shallow that the wall's own build-up is deeper than its recess")])
    # the framer measures to the wall as found
    xs = [p[0] for p in face.outline.ring]
    x0, x1 = min(xs), max(xs)
    left = niche.x - (build if niche.x > x0 + EPS else 0.0)
    right = niche.x + niche.width + (build if niche.x + niche.width < x1 - EPS else 0.0)
    bottom = niche.y - build
    return Framing(
        niche=niche,
        build=build,
        back=back,
        left=left,
        bottom=bottom,
        width=right - left,
        height=niche.height + 2 * build,
        depth=depth,
        from_face=niche.depth + back,
        from_datum=bottom - face.datum[1] if face.has_datum else None,
        to_left=left - x0,
        to_right=x1 - right,
    )
