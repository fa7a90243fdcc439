"""A part of a wall with its own tile, pattern or joint: a band, a wainscot, a framed panel."""

from __future__ import annotations

from elevation.features.base import Cutout, Shaped
from elevation.patterns import AnyPattern


class Zone(Shaped):
    """A zone by the outside of its tiles and trims; the field stops one joint away.

    Attributes:
        layout: Its own layout table.
        restart: Whole tiles of the field resume beyond it, one joint from its outside: above a level band that runs
            from side to side, to the right of an upright one that runs from bottom to top. The field keeps its
            joints along the band; courses go on counting. Left out, the field goes on behind the band as before.
    """

    layout: AnyPattern
    restart: bool = False

    def cutout(self) -> Cutout:
        """Return the outside of the zone; the wall adds the field's joint."""
        ring, sides = self.shape()
        return Cutout(ring, sides, dict(self.edges), (0.0, 0.0))
