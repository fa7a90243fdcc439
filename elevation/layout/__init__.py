"""Where to start: the start of every zone, the gap of every edge, the region that tile may cover."""

from __future__ import annotations

from elevation.layout.choice import Candidate, RoomChoice, ZoneChoice
from elevation.layout.choice_notes import choice_findings, start_words
from elevation.layout.choose import choose, lay_out
from elevation.layout.laid import LaidEdge, LaidFace, LaidZone
from elevation.layout.notes import layout_findings
from elevation.layout.told_apart import told_apart

__all__ = [
    "Candidate", "LaidEdge", "LaidFace", "LaidZone", "RoomChoice", "ZoneChoice", "choice_findings", "choose",
    "lay_out", "layout_findings", "start_words", "told_apart",
]  # fmt: skip
