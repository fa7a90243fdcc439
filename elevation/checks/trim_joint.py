"""Rule: joints of runs of trim that are longer than a stick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from elevation.checks.base import COMMON, Rule, Source
from elevation.checks.look import counted, text
from elevation.errors import Finding, Level
from elevation.plan import Plan


@dataclass(frozen=True)
class TrimJoint(Rule):
    """The joint of a run of trim that is longer than a stick stands on a joint of the tile.

    There it goes on in the line of the grout and is hardly seen; in the middle of a tile's edge it is.
    """

    id: ClassVar[str] = "trim-joint"
    level: ClassVar[Level] = "advise"
    source: ClassVar[Source] = COMMON

    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield one finding for each run whose joints stand on none."""
        for trim in plan.trims:
            runs = {r.id: r for r in trim.runs}
            for long in trim.long:
                if long.on_tile:
                    continue
                run, stock = runs[long.run], plan.job.trim[trim.trim].stock or 0.0
                places = ", ".join(text(plan, j) for j in long.joints)
                start = "its lower end" if run.upright else "its left end"
                yield self.found(
                    run.id,
                    f"{run.tag} is {text(plan, run.length)} long and a stick {text(plan, stock)}: it has "
                    f"{counted(len(long.joints), 'joint')}, and the tile has none within reach of a stick. As drawn: "
                    f"{places} from {start}. Take longer sticks, or move the start",
                )
