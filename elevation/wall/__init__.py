"""Job and features become faces: outline as found, borders, cut-outs, zones."""

from __future__ import annotations

from elevation.wall.build import build_faces
from elevation.wall.face import FIELD, Border, CutOut, Face, Shape, ZonePlace, is_field, side_words, zone_words
from elevation.wall.framing import Framing, framing_of
from elevation.wall.laps import inside_corners
from elevation.wall.notes import wall_findings
from elevation.wall.outside import OutsideCorner, corner_words, outside_corners
from elevation.wall.recess import Recess, fall, recess_of

__all__ = [
    "FIELD", "Border", "CutOut", "Face", "Framing", "OutsideCorner", "Recess", "Shape", "ZonePlace", "build_faces",
    "corner_words", "fall", "framing_of", "inside_corners", "is_field", "outside_corners", "recess_of",
    "side_words", "wall_findings", "zone_words",
]  # fmt: skip
