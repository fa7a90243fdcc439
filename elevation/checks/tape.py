"""Rule: cuts that an error of the tape could turn into slivers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import text
from elevation.errors import Finding, Level
from elevation.plan import Plan
from elevation.wall import side_words


class Tape(Rule):
    """A reading may be off by the job's ``tape``; where that could make a sliver, the reading is taken again.

    The layout as drawn is kept, its lines measured from the level line and the plumb line; all readings may be off at
    once. Where whole tiles end at an edge, and the joint could not take up the error, a note says how wide a strip
    might stay open.
    """

    id: ClassVar[str] = "tape"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each edge where a sliver could appear, and one for a wall's strips."""
        strips: dict[str, list[str]] = {}
        for edge in plan.sensitivity:
            if edge.is_sliver and edge.drawn is not None and edge.worst is not None:
                again = " and ".join(r.words for r in edge.again)
                yield self.found(
                    edge.where,
                    f"its smallest cut is {text(plan, edge.drawn)} as drawn, but {text(plan, edge.worst)} if "
                    "readings are "
                    f"off by {text(plan, plan.job.tape)}: a sliver. Take {again} again before cutting",
                )
            if edge.drawn is None and edge.strip > plan.job.step:
                strips.setdefault(edge.wall, []).append(f"{side_words(edge.edge)} ({text(plan, edge.strip)})")
        for wall, edges in strips.items():
            yield self.found(
                wall,
                "whole tiles end there only if the readings are right; where they are off by the tape, a strip "
                "could stay "
                f"open beyond the joint: {', '.join(edges)}. Measure to the course line again before setting",
                "note",
            )
