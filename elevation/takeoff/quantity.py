"""A line of the take-off: an amount of something, where it goes, and what was assumed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity.

    Attributes:
        group: Heading it stands under: ``tile``, ``trim``, ``soft joint``, ``grout``, ``mortar``, ``area``.
        item: Id or name of what is counted: ``field``, ``end``, ``1/8 sealant``.
        description: In words, as the sheet prints it.
        amount: The total.
        unit: ``tiles``, ``boxes``, ``sticks``, ``m``, ``ft``, ``m2``, ``ft2``, ``L``, ``kg``, ``lb``.
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
