"""Where to start: the start of every zone, the gap of every edge, the region that tile may cover."""

from __future__ import annotations

from elevation.layout.laid import LaidEdge, LaidFace, LaidZone
from elevation.layout.lay import lay_out
from elevation.layout.notes import layout_findings

__all__ = ["LaidEdge", "LaidFace", "LaidZone", "lay_out", "layout_findings"]
