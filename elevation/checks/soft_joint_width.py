"""Rule: the width of soft joints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.checks.base import Rule, Source
from elevation.checks.look import limit, text
from elevation.errors import Finding, Level
from elevation.geom import EPS
from elevation.pieces import EdgeRun
from elevation.plan import Plan

MOVEMENT = Source("TCNA Handbook, EJ171", "current edition", "movement joints", "secondary source")
SOFT = ("corner", "tub", "pan", "floor", "counter", "cabinet", "ceiling", "frame", "casing")


class SoftJointWidth(Rule):
    """Where tile changes plane or meets something else, a soft joint of at least 1/8 in (3 mm) takes the movement.

    At an inside corner it is also no narrower than the grout joint. It is filled with sealant, not with grout.
    """

    id: ClassVar[str] = "soft-joint-width"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = MOVEMENT

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each edge whose soft joint is missing or too narrow."""
        for run in plan.runs:
            if not needs_soft_joint(plan, run):
                continue
            least = limit(plan, 1 / 8, 3.0)
            why = ""
            if run.meets == "corner":
                joint = plan.face(run.face).zones[0].joint
                least, why = max(least, joint), ", the grout joint," if joint > least else ""
            if run.gap[0] < least - EPS:
                has = f"{text(plan, run.gap[0])} wide" if run.gap[1] > EPS else "missing"
                yield self.found(
                    run.name, f"the soft joint is {has}; {text(plan, least)}{why} is the least. Widen the joint there"
                )


def needs_soft_joint(plan: Plan, run: EdgeRun) -> bool:
    """Tell whether the tile meets something at an edge that it must not be grouted to."""
    if run.meets is not None:
        return run.meets in SOFT
    kinds = {c.id: c.kind for c in plan.face(run.face).face.cutouts}
    return kinds.get(run.of) == "fixture" or (run.kind == "soft" and kinds.get(run.of) != "hole")
