"""Something drawn and checked, but not cut: a stud, a grab bar, glass, a light, an outlet, a note."""

from __future__ import annotations

from typing import Literal

from elevation.features.base import Feature, Text
from elevation.spec import Gap, Signed


class WallMark(Feature):
    """A mark on a wall.

    Attributes:
        kind: Stud, bar (grab bar), glass, light, outlet or note.
        x: Left side from the wall's lower left corner, mm.
        y: Lower side above the wall's lower left corner, mm.
        width: Width, mm; 0 for a line or a point.
        height: Height, mm.
        text: What to write beside it; left out: its kind.
    """

    kind: Literal["stud", "bar", "glass", "light", "outlet", "note"]
    x: Signed
    y: Signed
    width: Gap = 0.0
    height: Gap = 0.0
    text: Text | None = None

    def cutout(self) -> None:
        """Return nothing: a mark takes no tile."""
