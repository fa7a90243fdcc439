"""A niche, or an opening with tiled returns, as its faces need it: corners, depth, fall, what is at its sides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.features import Edge, Niche, Opening
from elevation.geom import EPS, Point
from elevation.wall.face import Border, Face

FOOT = 304.8
SIDES = ("sill", "right", "head", "left")
"""Sides of a recess in the order of its corners, the lower left first."""
AGAINST = ("frame", "casing")
"""What the back of a return meets: said of a side whose return is tiled, it is said of the return."""


@dataclass(frozen=True, slots=True)
class Recess:
    """A niche or a tiled opening; mm on the wall.

    Attributes:
        id: Id of the niche or opening.
        word: What the sheets call it.
        corners: Of the clear opening at the front, counter-clockwise from the lower left.
        depth: Finished wall face to back, or to the frame.
        pitch: Fall of the sill, mm a foot.
        lap: Whose tile shows its edge.
        edges: By sill, head, left, right, as the user wrote them.
        names: What the wall calls these sides.
        into: Sides at which it runs into a corner: the jamb there lies in the plane of the other wall.
        niche: The niche, when it is one: it has a back.
    """

    id: str
    word: str
    corners: tuple[Point, Point, Point, Point]
    depth: float
    pitch: float
    lap: str
    edges: dict[str, Edge]
    names: dict[str, str]
    into: frozenset[str]
    niche: Niche | None

    @property
    def x(self) -> float:
        """Lower left corner, across."""
        return self.corners[0][0]

    @property
    def y(self) -> float:
        """Lower left corner, up: the front edge of the sill."""
        return self.corners[0][1]

    def length(self, side: str) -> float:
        """Return the clear length of a side at the front."""
        i = SIDES.index(side)
        return math.dist(self.corners[i], self.corners[(i + 1) % 4])

    @property
    def has_sill(self) -> bool:
        """Whether there is a sill to tile: a door has none."""
        return self.word != "door"

    @property
    def rise(self) -> float:
        """How much higher the sill is at the back."""
        return fall(self.pitch, self.depth) if self.has_sill else 0.0

    @property
    def slope(self) -> float:
        """True length of the sloping sill, front to back."""
        return math.hypot(self.depth, self.rise)


def fall(pitch: float, run: float) -> float:
    """Return by how much a sill or shelf falls over a run, both mm; ``pitch`` is mm a foot."""
    return pitch * run / FOOT


def is_tiled(feature: Niche | Opening) -> bool:
    """Tell whether it has faces of its own: every niche, and an opening with a depth."""
    return feature.depth is not None


def edges_on_wall(feature: Niche | Opening, edges: dict[str, Edge]) -> dict[str, Edge]:
    """Return what is said of the wall's own tile at the sides: what the returns meet is not said of it."""
    if isinstance(feature, Niche) or not is_tiled(feature):
        return edges
    return {
        name: edge.model_copy(update={"meets": None, "joint": None}) if edge.meets in AGAINST else edge
        for name, edge in edges.items()
    }


def recess_of(feature: Niche | Opening, face: Face) -> Recess | None:
    """Return the recess of a niche or of an opening with a depth; ``None``: it has no faces of its own.

    Args:
        feature: The niche or opening.
        face: The wall that carries it, its laps reckoned.

    Raises:
        ValueError: An opening by its outline that is not four-sided: its returns cannot be told apart.
    """
    if feature.depth is None:
        return None
    cutout = feature.cutout()
    if len(cutout.ring) != 4:
        raise ValueError(f"has {len(cutout.ring)} corners and a depth; returns are drawn of four-cornered openings")
    # an outline may start at any corner; its sill is the side that runs to the right
    runs = [(q[0] - p[0], q[1] - p[1]) for p, q in zip(cutout.ring, (*cutout.ring[1:], cutout.ring[0]), strict=True)]
    first = next((i for i, (dx, dy) in enumerate(runs) if dx >= abs(dy)), None)
    if first is None:
        raise ValueError("has no side that is nearly level; returns are drawn of openings with sill, head and jambs")
    a, b, c, d = (cutout.ring[(first + k) % 4] for k in range(4))
    into = []
    for side, this in (("left", (a, d)), ("right", (b, c))):
        corner = _corner_beside(face, side, this)
        if corner is None:
            continue
        into.append(side)
        if side == "left":
            a, d = (max(a[0], corner), a[1]), (max(d[0], corner), d[1])
        else:
            b, c = (min(b[0], corner), b[1]), (min(c[0], corner), c[1])
    names = {side: cutout.sides[(first + k) % 4] for k, side in enumerate(SIDES)}
    return Recess(
        id=feature.id,
        word="niche" if isinstance(feature, Niche) else feature.kind,
        corners=(a, b, c, d),
        depth=feature.depth,
        pitch=feature.pitch,
        lap=feature.lap,
        edges={side: cutout.edges.get(name, Edge()) for side, name in names.items()},
        names=names,
        into=frozenset(into),
        niche=feature if isinstance(feature, Niche) else None,
    )


def _corner_beside(face: Face, side: str, jamb: tuple[Point, Point]) -> float | None:
    """Return the place of the other wall's face where no tile stands between a jamb and that corner, else ``None``."""
    middle = (jamb[0][1] + jamb[1][1]) / 2
    x = (jamb[0][0] + jamb[1][0]) / 2
    beside = min(_upright(face, side, middle), key=lambda found: abs(found[0] - x), default=None)
    if beside is None or beside[1].kind != "soft":
        return None
    at, border = beside
    if abs(x - at) > border.gap[1] + EPS:
        return None
    return at + border.behind if side == "left" else at - border.behind


def _upright(face: Face, side: str, y: float) -> Iterator[tuple[float, Border]]:
    """Yield where the outline's left or right sides cross a height, and the border of each."""
    ring: Sequence[Point] = face.outline.ring
    for i, (x0, y0) in enumerate(ring):
        x1, y1 = ring[(i + 1) % len(ring)]
        upward = y1 > y0
        if y0 != y1 and min(y0, y1) <= y <= max(y0, y1) and upward == (side == "right"):
            yield x0 + (x1 - x0) * (y - y0) / (y1 - y0), face.borders[face.outline.borders[i]]
