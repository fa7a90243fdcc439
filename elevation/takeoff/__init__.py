"""Quantities: areas, tiles, trims, soft joints, grout, mortar; each with what was assumed beside it."""

from __future__ import annotations

from elevation.takeoff.quantity import Quantity
from elevation.takeoff.take_off import take_off

__all__ = ["Quantity", "take_off"]
