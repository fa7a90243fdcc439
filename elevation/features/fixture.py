"""What the tile stops at or goes around: a tub, a pan, a counter, a bench."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from elevation.features.base import BOX_SIDES, Cutout, Edge, Feature
from elevation.geom import box_ring
from elevation.spec import Gap, Length, Range, Reading, Signed, by_units


class Fixture(Feature):
    """A fixture by its outline as it stands against the wall.

    Attributes:
        kind: Tub, pan, counter or bench.
        x: Left side from the wall's lower left corner, mm; may lie beyond the wall.
        y: Lower side above the wall's lower left corner, mm.
        width: Width, mm.
        height: Height, mm: to its rim.
        joint: Soft joint round it, least and most, mm.
        edges: What happens at its sides, by left, right, bottom, top, where it differs from ``joint``.
        radius: Radius of its upper corners that stand clear of the wall's sides, mm.
        top: Its rim as found: stations from the plumb line and distances down from the datum, mm.
    """

    kind: Literal["tub", "pan", "counter", "bench"]
    x: Signed
    y: Signed
    width: Length
    height: Length
    joint: Range = by_units("1/4", "6")
    edges: dict[str, Edge] = {}
    radius: Gap = 0.0
    top: Annotated[list[Reading], Field(min_length=2)] | None = None

    def cutout(self) -> Cutout:
        """Return the fixture's outline; the joint lies outside it, and rounds its corners by radius + joint."""
        edges = {name: self._edge(name) for name in BOX_SIDES}
        ring = box_ring(self.x, self.y, self.width, self.height)
        return Cutout(ring, BOX_SIDES, edges, self.joint, self.radius)

    def _edge(self, name: str) -> Edge:
        said = self.edges.get(name, Edge())
        if said.joint is not None or said.trim is not None:
            return said
        return said.model_copy(update={"joint": self.joint})
