"""A recess in a wall, with back, sill, head and two jambs."""

from __future__ import annotations

from typing import Literal

from elevation.features.base import Cutout, Edge, Feature
from elevation.geom import box_ring
from elevation.patterns import AnyPattern
from elevation.spec import Gap, Length, Signed, Span, Spec, by_units


class Shelf(Spec):
    """A ledge in a niche.

    Attributes:
        y: Its top, at its front edge, above the front edge of the sill, mm.
        thickness: Its own thickness, mm.
        pitch: Its fall towards the room, mm a foot of run; left out: the niche's.
    """

    y: Length
    thickness: Length
    pitch: Gap | None = None


class Move(Spec):
    """How far a niche that is not framed yet may move.

    Attributes:
        x: To the left (negative) and to the right, mm.
        y: Down (negative) and up, mm.
    """

    x: Span = (0.0, 0.0)
    y: Span = (0.0, 0.0)


class NicheEdges(Spec):
    """The four sides of a niche.

    Attributes:
        sill: Its lower side.
        head: Its upper side.
        left: Its left jamb.
        right: Its right jamb.
    """

    sill: Edge = Edge()
    head: Edge = Edge()
    left: Edge = Edge()
    right: Edge = Edge()


class Niche(Feature):
    """A niche by its clear opening, tile face to tile face.

    Attributes:
        x: Lower left corner of the clear opening, from the wall's lower left corner, mm.
        y: Front edge of the sill above the wall's lower left corner, mm.
        width: Clear width, mm.
        height: Clear height at the front edge, mm.
        depth: Finished wall face to finished back, mm.
        pitch: Fall of the sill towards the room, mm a foot of run.
        move: How far it may move, when it is not framed yet.
        bay: Clear between studs, left and right, from the wall's lower left corner, mm.
        lap: Whose tile shows its edge where there is no trim.
        edges: Trims of its four sides.
        layout: Layout of the back; left out: the wall's.
        shelf: Its shelves.
    """

    x: Signed
    y: Signed
    width: Length
    height: Length
    depth: Length
    pitch: Gap = by_units("1/4", "6")
    move: Move | None = None
    bay: Span | None = None
    lap: Literal["wall", "return"] = "wall"
    edges: NicheEdges = NicheEdges()
    layout: AnyPattern | None = None
    shelf: list[Shelf] = []

    def cutout(self) -> Cutout:
        """Return the clear opening; its sides are sill, right, head and left."""
        edges = {"sill": self.edges.sill, "head": self.edges.head, "left": self.edges.left, "right": self.edges.right}
        ring = box_ring(self.x, self.y, self.width, self.height)
        return Cutout(ring, ("sill", "right", "head", "left"), edges, (0.0, 0.0))
