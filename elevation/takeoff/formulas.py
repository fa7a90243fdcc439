"""How much grout, mortar and sealant: geometry, in mm, and what a volume makes; no job is read here.

The formulas are geometry. What a bag or a cartridge makes of a volume is a figure of the trade and stands in
``materials``, where every use of it is printed as an assumption.
"""

from __future__ import annotations

import math


def grout_depth_per_area(length: float, width: float, joint: float, depth: float) -> float:
    """Return the volume of joint in a tiled area, mm³ per mm²: how deep the grout would stand without the tile.

    Exact for tiles in straight or broken courses: in a cell of (length + joint) by (width + joint), all that is not
    tile is joint. The common short form, depth * joint * (length + width) / (length * width), is 26 % high for a
    3/8 in mosaic.

    Args:
        length: Of a tile, or of a chip of a mosaic, mm.
        width: The same across, mm.
        joint: Joint, mm.
        depth: Depth of the joint that is filled, mm.
    """
    return depth * (1 - length * width / ((length + joint) * (width + joint)))


def bed_left(notch_width: float, notch_depth: float, land: float, angle: float = 90.0) -> float:
    """Return the mean bed that a square-notched trowel leaves, mm.

    Args:
        notch_width: Width of a notch, mm.
        notch_depth: Depth of a notch, mm.
        land: Width between notches, mm.
        angle: Between trowel and wall, degrees.
    """
    return notch_depth * math.sin(math.radians(angle)) * notch_width / (notch_width + land)


def bead_length(volume: float, width: float, depth: float) -> float:
    """Return how long a bead a volume makes, mm; volume in mm³, width and depth of the bead in mm."""
    return volume / (width * depth)


def bead_depth(width: float, least: float) -> float:
    """Return the depth of a bead of sealant, mm: half its width, but never less than ``least``."""
    return max(least, width / 2)


def whole_up(amount: float) -> int:
    """Return the next whole number up; noise of floats is not an extra box."""
    return math.ceil(amount - 1e-9)
