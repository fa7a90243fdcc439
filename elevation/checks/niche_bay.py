"""Rule: a niche between its studs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.plan import Plan
from elevation.wall import framing_of


class NicheBay(Rule):
    """The rough opening of a niche fits between its studs, with 1/4 in (6 mm) to spare.

    The rough opening is the clear opening and, on each side, tile, bed, membrane and board. One that is wider than the
    bay, or that reaches into a stud, means cutting or moving studs: ask whoever answers for the frame first. With less
    to spare, a stud that is bowed or out of plumb already is in the way.
    """

    id: ClassVar[str] = "niche-bay"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each niche with a bay that does not take it easily."""
        least = limit(plan, 0.25, 6.0)
        for laid in plan.walls:
            for niche in plan.job.wall_by_id(laid.face.id).niche:
                rough = framing_of(plan.job, laid.face, niche)
                if niche.bay is None or rough.slack is None:
                    continue
                left, right = rough.slack
                bay = niche.bay[1] - niche.bay[0]
                said = f"its rough opening is {text(plan, rough.width)} wide"
                where = f"{laid.face.id} {niche.id}"
                if rough.too_wide > EPS:
                    yield self.found(
                        where,
                        f"{said}, {text(plan, rough.too_wide)} more than the {text(plan, bay)} between the studs. "
                        "Make it narrower, or have the studs reframed; cut no stud before it is known what it bears",
                    )
                elif min(left, right) < -EPS:
                    side, way = ("left", "right") if left < 0 else ("right", "left")
                    yield self.found(
                        where,
                        f"{said} and would fit the bay, {text(plan, bay)}, but reaches "
                        f"{text(plan, -min(left, right))} into the {side} stud. Move it to the {way}, "
                        "or have the stud moved",
                    )
                elif left + right < least - EPS:
                    yield self.found(
                        where,
                        f"{said}, only {text(plan, left + right)} less than the {text(plan, bay)} between the studs; "
                        f"{text(plan, least)} to spare lets for studs out of plumb. Measure the bay at sill and head",
                    )
