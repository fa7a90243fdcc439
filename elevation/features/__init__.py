"""What a wall may carry. One file each; adding one means adding it to ``FEATURES``, under its key of a wall."""

from __future__ import annotations

from elevation.features.base import Cutout, Edge, Feature, Id, Meets, Text, WallId
from elevation.features.corner_shelf import CornerShelf
from elevation.features.fixture import Fixture
from elevation.features.hole import Hole
from elevation.features.mark import WallMark
from elevation.features.niche import Niche, Shelf
from elevation.features.opening import Opening
from elevation.features.zone import Zone

FEATURES: dict[str, type[Feature]] = {
    "niche": Niche,
    "opening": Opening,
    "fixture": Fixture,
    "hole": Hole,
    "zone": Zone,
    "corner_shelf": CornerShelf,
    "mark": WallMark,
}

__all__ = [
    "FEATURES", "CornerShelf", "Cutout", "Edge", "Feature", "Fixture", "Hole", "Id", "Meets", "Niche", "Opening",
    "Shelf", "Text", "WallId", "WallMark", "Zone",
]  # fmt: skip
