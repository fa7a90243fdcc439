"""The tiles of a face as outlines only: all that a small picture of a layout that is not drawn in full needs."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon

from elevation.geom import Ring, parts
from elevation.layout import LaidFace
from elevation.pieces.make import moved
from elevation.pieces.shape import fills, without_spurs
from elevation.pieces.tiling import tile_region


@dataclass(frozen=True, slots=True)
class Preview:
    """Outlines, mm on the face: of whole tiles, and of cuts, each an outer ring and its holes; not in normal form."""

    whole: tuple[Ring, ...]
    cut: tuple[tuple[Ring, ...], ...]


def preview(face: LaidFace) -> Preview:
    """Return the outlines of the pieces of a face: the same that ``make_pieces`` counts and numbers."""
    whole: list[Ring] = []
    cut: list[tuple[Ring, ...]] = []
    for zone in face.zones:
        tiling = tile_region(zone.lattice, zone.origin, zone.region)
        slots = zone.lattice.motif
        for address, at in zip(tiling.whole.tolist(), tiling.whole_at.tolist(), strict=True):
            whole.append(moved(slots[address[2]].ring, at))
        for address, at, left in zip(tiling.cut.tolist(), tiling.cut_at.tolist(), tiling.left.tolist(), strict=True):
            slot = moved(slots[address[2]].ring, at)
            for area in (solid for part in parts(left) for solid in without_spurs(part)):
                rings = _rings(area)
                if fills(rings[0], rings[1:], slot):
                    whole.append(rings[0])
                else:
                    cut.append(rings)
    return Preview(tuple(whole), tuple(cut))


def _rings(area: Polygon) -> tuple[Ring, ...]:
    lines = [area.exterior, *area.interiors] if area.interiors else [area]
    return tuple(tuple((x, y) for x, y in shapely.get_coordinates(line).tolist()[:-1]) for line in lines)
