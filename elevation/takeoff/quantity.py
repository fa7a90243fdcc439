"""A line of the take-off: an amount of something, where it goes, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from elevation.units import close_chain

DECIMALS = 4
"""Amounts are kept to so many decimals, so that what is printed and added up again agrees."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity.

    Attributes:
        group: Heading it stands under: ``area``, ``tile``, ``trim``, ``soft joint``, ``grout``, ``mortar``,
            ``backing``, ``weight``.
        item: Id or name of what is counted: ``field``, ``end``, ``1/8 sealant``.
        description: In words, as the sheet prints it.
        amount: The total.
        unit: ``tiles``, ``sheets``, ``pieces``, ``boxes``, ``sticks``, ``cartridges``, ``bags``, ``m``, ``ft``,
            ``m2``, ``ft2``, ``L``, ``kg``, ``lb``.
        by_wall: The same by wall, where it can be shared out; the amounts add up to ``amount``.
        assumptions: What was assumed, one short sentence each; empty for what is counted exactly.
    """

    group: str
    item: str
    description: str
    amount: float
    unit: str
    by_wall: tuple[tuple[str, float], ...] = ()
    assumptions: tuple[str, ...] = ()

    def rounded(self, decimals: int) -> tuple[float, tuple[tuple[str, float], ...]]:
        """Return the total and the shares of the walls, rounded so that the shares still add up to the total."""
        step = Fraction(1, 10**decimals)
        if not self.by_wall:
            return float(close_chain([self.amount], step)[1]), ()
        shares, total = close_chain([amount for _, amount in self.by_wall], step)
        return float(total), tuple((wall, float(v)) for (wall, _), v in zip(self.by_wall, shares, strict=True))


def shared_out(
    group: str,
    item: str,
    description: str,
    unit: str,
    by_wall: Iterable[tuple[str, float]],
    assumptions: tuple[str, ...] = (),
) -> Quantity:
    """Return a quantity whose total is the sum over its walls; walls with nothing are left out."""
    shares = tuple((wall, round(v, DECIMALS)) for wall, v in by_wall if round(v, DECIMALS) > 0)
    total = round(sum(v for _, v in shares), DECIMALS)
    return Quantity(group, item, description, total, unit, shares, assumptions)
