"""Rule: joints of a niche and those of the wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.errors import Finding, Level
from elevation.geom import EPS, polygon
from elevation.layout import LaidFace, LaidZone
from elevation.plan import Plan
from elevation.wall import FIELD, is_field, zone_words


class NicheJoints(Rule):
    """The joints of a niche's back and jambs line up with the wall's.

    On the back, level and upright joints go on from the wall's; on a jamb the level ones do. A back with a tile, a
    pattern or a start of its own cannot do so everywhere: it is no fault, but nobody should find out while setting.
    A niche that stands in a zone, or across the border of one, is held against the tile that is really beside it.
    """

    id: ClassVar[str] = "niche-joints"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each back or jamb whose joints do not line up, and say which."""
        for laid in plan.faces:
            if laid.face.kind not in ("back", "left", "right"):
                continue
            wall = plan.face(laid.face.wall)
            # across a border the back alone tells of the other zone: its jambs would only say it again
            beside = _beside(laid, wall)
            for zone in beside if laid.face.kind == "back" else beside[:1]:
                level, upright = _lines_up(laid, zone)
                lost = [] if level else ["level joints"]
                if laid.face.kind == "back" and not upright:
                    lost.append("upright joints")
                if lost:
                    yield self.found(f"{wall.face.id} {laid.face.of}", _text(laid, zone.place.id, lost))


def _text(laid: LaidFace, zone: str, lost: list[str]) -> str:
    part = {"back": "back", "left": "left jamb", "right": "right jamb"}[laid.face.kind]
    joints = f"the {' and '.join(lost)} of the {part} do not line up with"
    if zone == FIELD:
        return f"{joints} the wall's; give it the wall's tile, pattern and start where they should"
    if is_field(zone):
        return f"{joints} the wall's {zone_words(zone)}, where whole tiles resume; it can follow one of the two only"
    return f"{joints} those of zone {zone} beside it; give the niche a layout of its own where they should"


def _beside(laid: LaidFace, wall: LaidFace) -> list[LaidZone]:
    """Return the zones of a wall whose tile ends at the recess that a face belongs to."""
    ring = polygon(wall.face.cutout(laid.face.of).shape.ring)
    near = ring.buffer(max(e.offset for e in wall.edges if e.border.of == laid.face.of) + EPS, join_style="mitre")
    return [z for z in wall.zones if z.region.intersection(near).length > EPS]


def _lines_up(laid: LaidFace, field: LaidZone) -> tuple[bool, bool]:
    """Return whether level and upright joints of a face fall on a zone's, as both would be drawn on the wall."""
    own = laid.zones[0]
    dx = own.origin[0] + laid.face.at[0] - field.origin[0]
    dy = own.origin[1] + laid.face.at[1] - field.origin[1]
    # a jamb has the wall's courses, each starting at the front
    same = own.lattice in (field.lattice, field.lattice.straight())
    rise, step = field.lattice.b[1], field.lattice.a[0]
    courses = round(dy / rise)
    level = same and abs(dy - courses * rise) <= EPS
    # each course of the lattice stands b[0] further along than the one below
    across = dx - courses * field.lattice.b[0]
    return level, same and abs(across - round(across / step) * step) <= EPS
