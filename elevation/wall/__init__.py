"""Job and features become faces: outline as found, borders, cut-outs, zones."""

from __future__ import annotations

from elevation.wall.build import FIELD, build_faces
from elevation.wall.face import Border, CutOut, Face, Shape, ZonePlace
from elevation.wall.framing import Framing, framing_of
from elevation.wall.laps import inside_corners
from elevation.wall.notes import wall_findings

__all__ = [
    "FIELD", "Border", "CutOut", "Face", "Framing", "Shape", "ZonePlace", "build_faces", "framing_of",
    "inside_corners", "wall_findings",
]  # fmt: skip
