"""A small picture that looks into a niche and names its faces, so that the faces drawn opened out are known again."""

from __future__ import annotations

from collections.abc import Sequence

from elevation.drawing.marks import Area, Mark, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.sheets.flow import Block, Fixed, Heading, Words

_WIDE = (30.0, 52.0)
_HIGH = (26.0, 28.0)
"""Least and most of the picture, mm of paper: it is no drawing to scale, and every name has to fit."""
_DEEP = 6.0
"""How far the picture's back stands inside its front, mm of paper."""


def key_blocks(width: float, height: float, *, back: bool, sill: bool, word: str) -> list[Block]:
    """Return heading, picture and how to read the faces.

    Args:
        width: Clear width, mm.
        height: Clear height, mm.
        back: Whether it has a back; without one a frame stands there.
        sill: Whether it has a sill.
        word: What the sheets call it.
    """
    middle = "Back" if back else "Frame"
    wide, high = _size(width, height)

    def make(x: float, top: float, _: float) -> Sequence[Mark]:
        return _picture(x + 2.0, top - high, wide, high, middle, sill=sill)

    return [
        Heading("How to read the faces"),
        Fixed(high + 1.0, make),
        Words(
            f"Looking into the {word}, not to scale. Beside it each face is drawn flat, laid open round the "
            f"{middle.lower()} on the side where it stands: the edge next to the {middle.lower()} is deep inside, the "
            "edge furthest from it is at the front, towards the room.",
            after=3.0,
        ),
    ]


def _size(width: float, height: float) -> tuple[float, float]:
    """Return width and height of the picture, as near to the true shape as its bounds let it be."""
    scale = min(_WIDE[1] / width, _HIGH[1] / height)
    return max(_WIDE[0], width * scale), max(_HIGH[0], height * scale)


def _picture(x: float, y: float, wide: float, high: float, middle: str, *, sill: bool) -> list[Mark]:
    x1, y1 = x + wide, y + high
    low = y + (_DEEP if sill else 0.0)
    inner = (x + _DEEP, low, x1 - _DEEP, y1 - _DEEP)
    a, b, c, d = inner
    corners = [(x, y1, a, d), (x1, y1, c, d), *([(x, y, a, b), (x1, y, c, b)] if sill else [])]
    marks: list[Mark] = [
        Area((((x, y), (x1, y), (x1, y1), (x, y1)),), "feature", "paper"),
        Area((((a, b), (c, b), (c, d), (a, d)),), "fine"),
        Segments(tuple(corners), "fine"),
        Text(((a + c) / 2, (b + d) / 2 - NUMBER / 2), middle, NUMBER, "middle"),
        Text(((a + c) / 2, d + (_DEEP - NUMBER) / 2), "Head", NUMBER, "middle"),
        Text((x + (_DEEP + NUMBER) / 2, (b + d) / 2), "Left jamb", NUMBER, "middle", angle=90.0),
        Text((c + (_DEEP + NUMBER) / 2, (b + d) / 2), "Right jamb", NUMBER, "middle", angle=90.0),
    ]
    if sill:
        marks.append(Text(((a + c) / 2, y + (_DEEP - NUMBER) / 2), "Sill", NUMBER, "middle"))
    return marks
