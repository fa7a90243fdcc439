"""Rule: a niche in the depth of its wall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan
from elevation.wall import framing_of


class NicheDepth(Rule):
    """The recess of a niche is no deeper than the studs, usually 3 1/2 in (89 mm).

    Behind the finished back stand tile, bed, membrane and board. A recess deeper than the studs reaches into what is
    behind the wall: another room's board, pipes, or the sheathing and insulation of an outside wall.
    """

    id: ClassVar[str] = "niche-depth"
    level: ClassVar[Level] = "note"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one note for each niche that needs deeper framing."""
        usual = limit(plan, 3.5, 89.0)
        for laid in plan.walls:
            for niche in plan.job.wall_by_id(laid.face.id).niche:
                rough = framing_of(plan.job, laid.face, niche)
                if rough.depth > usual + EPS:
                    yield self.found(
                        f"{laid.face.id} {niche.id}",
                        f"its recess is {text(plan, rough.depth)} deep from the face of the studs, "
                        f"{text(plan, rough.depth - usual)} more than a stud of {text(plan, usual)}: make sure that "
                        "the wall is deep enough, and what is behind it",
                    )
