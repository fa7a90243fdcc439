"""The plan: the frozen bundle of what the stages found out, and its shape as plan.json."""

from __future__ import annotations

from elevation.plan.model import Plan

__all__ = ["Plan"]
