"""Job and features become faces: outline as found, borders, cut-outs, zones."""

from __future__ import annotations

from elevation.wall.build import build_faces
from elevation.wall.face import FIELD, Border, CutOut, Face, Shape, ZonePlace, is_field, zone_words
from elevation.wall.framing import Framing, framing_of
from elevation.wall.laps import inside_corners
from elevation.wall.notes import wall_findings

__all__ = [
    "FIELD", "Border", "CutOut", "Face", "Framing", "Shape", "ZonePlace", "build_faces", "framing_of",
    "inside_corners", "is_field", "wall_findings", "zone_words",
]  # fmt: skip
