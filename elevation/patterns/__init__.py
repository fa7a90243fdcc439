"""The patterns a layout may name. One file each; adding one means adding it to ``AnyPattern`` and ``PATTERNS``."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from elevation.patterns.base import At, ByDatum, ByWall, Lattice, Pattern, Slot, Start
from elevation.patterns.running_bond import RunningBond
from elevation.patterns.stacked import Stacked
from elevation.patterns.vertical_stack import VerticalStack

PATTERNS: tuple[type[Pattern], ...] = (Stacked, RunningBond, VerticalStack)
AnyPattern = Annotated[Stacked | RunningBond | VerticalStack, Field(discriminator="pattern")]

__all__ = ["PATTERNS", "AnyPattern", "At", "ByDatum", "ByWall", "Lattice", "Pattern", "Slot", "Start"]
