"""Rule: joints of a niche and those of the wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.plan import Plan


class NicheJoints(Rule):
    """The joints of a niche's back and jambs line up with the wall's.

    On the back, level and upright joints go on from the wall's; on a jamb the level ones do. A back with a tile, a
    pattern or a start of its own cannot do so everywhere: it is no fault, but nobody should find out while setting.
    """

    id: ClassVar[str] = "niche-joints"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each back or jamb whose joints do not line up, and say which."""
        for laid in plan.faces:
            if laid.face.kind not in ("back", "left", "right"):
                continue
            level, upright = _lines_up(laid, plan.face(laid.face.wall))
            lost = [] if level else ["level joints"]
            if laid.face.kind == "back" and not upright:
                lost.append("upright joints")
            if lost:
                part = {"back": "back", "left": "left jamb", "right": "right jamb"}[laid.face.kind]
                yield self.found(
                    f"{laid.face.wall} {laid.face.of}",
                    f"the {' and '.join(lost)} of the {part} do not line up with the wall's; give it the wall's tile, "
                    "pattern and start where they should",
                )


def _lines_up(laid: LaidFace, wall: LaidFace) -> tuple[bool, bool]:
    """Return whether level and upright joints of a face fall on the wall's, as both would be drawn on the wall."""
    own, field = laid.zones[0], wall.zones[0]
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
