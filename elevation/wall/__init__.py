"""Job and features become faces: outline as found, borders, cut-outs, zones."""

from __future__ import annotations

from elevation.wall.build import build_faces
from elevation.wall.face import FIELD, Border, CutOut, Face, Shape, ZonePlace, is_field, zone_words
from elevation.wall.framing import Framing, framing_of
from elevation.wall.laps import inside_corners
from elevation.wall.notes import wall_findings
from elevation.wall.recess import Recess, fall, recess_of

__all__ = [
    "FIELD", "Border", "CutOut", "Face", "Framing", "Recess", "Shape", "ZonePlace", "build_faces", "fall",
    "framing_of", "inside_corners", "is_field", "recess_of", "wall_findings", "zone_words",
]  # fmt: skip
