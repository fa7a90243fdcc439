"""Spare tiles: how many are added for breakage, and how many stay with the owner."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from elevation.spec import Spec

ACCEPTED_SPARES = 'a share of the tiles such as "5 %", a number of tiles such as 6, or boxes such as "1 box"'
MOST = 100_000
"""More tiles or boxes than this are a slip of the finger."""
_SPARES = re.compile(r"(?P<number>\d{1,9}(?:\.\d{1,6})?)\s*(?P<unit>%|percent|tiles?|box|boxes)?")


@dataclass(frozen=True, slots=True)
class Amount:
    """So many spare tiles: one of the three is set, the others are nothing.

    Attributes:
        share: Share of the tiles needed; 0.05 is 5 %.
        tiles: Number of tiles.
        boxes: Number of boxes.
    """

    share: Fraction = Fraction(0)
    tiles: int = 0
    boxes: int = 0

    def of(self, needed: int, box: int) -> int:
        """Return the number of tiles, parts rounded up.

        Args:
            needed: Tiles needed.
            box: Tiles a box.
        """
        return -(-self.share * needed // 1) + self.tiles + self.boxes * box

    def __str__(self) -> str:
        """Return ``5 %``, ``6 tiles``, ``1 box``."""
        if self.boxes:
            return f"{self.boxes} box" if self.boxes == 1 else f"{self.boxes} boxes"
        if self.tiles:
            return f"{self.tiles} tile" if self.tiles == 1 else f"{self.tiles} tiles"
        return f"{float(self.share * 100):g} %"


def _amount(value: Any) -> Amount:
    if isinstance(value, Amount):
        return value
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MOST:
        return Amount(tiles=value)
    match = _SPARES.fullmatch(value.strip().lower()) if isinstance(value, str) and len(value) <= 30 else None
    if match is None:
        raise ValueError(f"is not {ACCEPTED_SPARES}")
    number, unit = Fraction(match["number"]), match["unit"] or "tiles"
    if unit in ("%", "percent"):
        if number > 100:
            raise ValueError("is more than all tiles once again; 100 % is the most")
        return Amount(share=number / 100)
    if number.denominator != 1 or number > MOST:
        raise ValueError(f"is not {ACCEPTED_SPARES}; tiles and boxes are whole")
    return Amount(boxes=int(number)) if unit.startswith("box") else Amount(tiles=int(number))


Spare = Annotated[
    Amount,
    BeforeValidator(_amount),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "integer"}], "description": ACCEPTED_SPARES}),
]
"""Spare tiles: a share, a number of tiles, or boxes."""


class Spares(Spec):
    """Tiles bought beyond what is set.

    Attributes:
        breakage: Added for tiles that break or are miscut: a share, ``5 %``, or a number of tiles.
        attic: Stays with the owner for repairs, in whole boxes of its own: a share, a number of tiles, or ``1 box``.
    """

    # straight lay: the lower end of the published 5 to 10 %, since the cuts are counted one by one
    breakage: Spare = Amount(share=Fraction(1, 20))
    attic: Spare = Amount()
