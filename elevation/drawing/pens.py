"""Named pens, fills, colours and lettering heights: the look of every sheet, in one place.

Widths follow the ISO 128 series (wide to narrow at least 2:1); heights the ISO 3098 series. See each entry.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pen:
    """A way to draw a line: width in mm, dashes in mm (drawn, gap, ...), colour by name."""

    width: float
    dashes: tuple[float, ...] = ()
    colour: str = "ink"


COLOURS = {"ink": "#000000", "grey": "#767676", "pale": "#d9d9d9", "paper": "#ffffff", "accent": "#0072B2"}

PENS: dict[str, Pen] = {
    "hatch": Pen(0.13),
    "fine": Pen(0.18),  # dimensions, extension lines, leaders
    "whole": Pen(0.25),  # whole tiles
    "cut": Pen(0.5),  # cut tiles: twice the whole ones
    "wall": Pen(0.7),  # the wall's outline, the frame
    "frame": Pen(0.7),
    "feature": Pen(0.35),  # openings, fixtures, holes, trims
    "rule": Pen(0.25),  # tables, title block
    "centre": Pen(0.18, (4.32, 0.54, 0.09, 0.54)),  # level line, plumb line, centre lines: 24 d, 3 d, dot, 3 d
    "hidden": Pen(0.18, (2.16, 0.54)),  # covered or by others: 12 d, 3 d
    "soft": Pen(0.5, (1.2, 0.8)),  # soft joints have a line type of their own
    "match": Pen(0.35, (6.0, 1.5)),
}

DIMENSION = 3.5
"""Capital height of every dimension on an installer's sheet, mm: readable at arm's length."""
NUMBER = 2.5
"""Capital height of a cut's number and of notes, mm."""
SMALL = 1.8
"""Capital height of numbers inside slivers only, mm; the least of all."""
HEADING = 5.0
"""Capital height of a view's title, mm."""
HATCH_SPACING = 1.6
"""Clear distance between hatch lines of a cut, mm."""
