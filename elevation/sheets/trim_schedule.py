"""Every run of trim with its length, and the stick or sticks it is cut from."""

from __future__ import annotations

from elevation.checks.look import text
from elevation.cutting.trims import TrimPlan
from elevation.drawing.table import Column
from elevation.plan import Plan
from elevation.sheets.flow import Block, Heading, Rows, Words


def trim_schedule(plan: Plan) -> list[Block]:
    """Return one table for each trim; empty without trims that are bought by length."""
    blocks: list[Block] = [Heading("Trim schedule")] if plan.trims else []
    for trim in plan.trims:
        blocks += [Words(_about(plan, trim), weight="semibold", keep=True)]
        columns = [Column("Run", weight="semibold"), Column("Length", "end"), Column("From stick", least=24)]
        blocks.append(Rows(columns, [(r.id, text(plan, r.length), _sticks(plan, trim, r.id)) for r in trim.runs]))
    return blocks


def _about(plan: Plan, trim: TrimPlan) -> str:
    kind = plan.job.trim[trim.trim].kind
    if trim.sticks is None:
        return f"Trim {trim.trim}, {kind}: the job gives no stock length"
    found = trim.sticks
    proof = "proved fewest" if found.proved else f"at least {found.lower_bound}"
    stock = plan.job.trim[trim.trim].stock or 0.0
    word = "stick" if found.sticks == 1 else "sticks"
    return f"Trim {trim.trim}, {kind}: {found.sticks} {word} of {text(plan, stock)}, {proof}"


def _sticks(plan: Plan, trim: TrimPlan, run: str) -> str:
    """Return the sticks of a run, each with the length it gives where the run has joints."""
    if trim.sticks is None:
        return ""
    cuts = [(s.stick_no, n) for s in trim.sticks.plan for n in s.lengths if n.run == run]
    if len(cuts) == 1:
        return str(cuts[0][0])
    parts = [f"{no} ({text(plan, n.length)})" for no, n in sorted(cuts, key=lambda c: c[1].part)]
    return f"{', '.join(parts)}: in {len(parts)} lengths, put the joints on tile joints"
