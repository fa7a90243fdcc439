"""A dimension chain beside a wall before it has its place on the paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

NEAR = 1.0
"""Stations closer than this are one, mm."""

Length = Callable[[float], str]
"""Writes a length, mm, as a dimension."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A chain on a side of the wall.

    Attributes:
        stations: Along x (above, below) or y (left, right), mm on the face, ascending.
        texts: One a span; for each, what to fall back on when there is no room, longest first.
        note: Written beside the line, at its beginning.
        end_note: Written beside the line, at its end.
    """

    stations: tuple[float, ...]
    texts: tuple[tuple[str, ...], ...]
    note: str = ""
    end_note: str = ""

    def choose(self, room: Sequence[float], width: Callable[[str], float]) -> tuple[str, ...]:
        """Return one text a span: the longest for which there is room, else the shortest.

        Args:
            room: Length of each span on paper, mm.
            width: Function that measures a text, mm.
        """
        return tuple(
            next((t for t in texts if width(t) <= r - 2.0), texts[-1])
            for texts, r in zip(self.texts, room, strict=True)
        )
