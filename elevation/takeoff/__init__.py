"""Quantities."""

from __future__ import annotations

from elevation.takeoff.quantity import Quantity

__all__ = ["Quantity"]
