"""The notes: for the permit desk and the bid, with findings and their sources, assumptions and exclusions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from elevation.drawing.table import Column
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.flow import Block, Heading, Rows, Words, flow
from elevation.sheets.words import EXCLUDED, LEVEL_WORDS, MATERIALS, NOTES, VERIFY, sorted_findings


class Notes(Sheet):
    """Notes in words."""

    kind: ClassVar[str] = "notes"
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer", "permit", "bid"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield its pages."""
        blocks: list[Block] = [Heading("General notes")]
        blocks += [Words(text, f"{n}.") for n, text in enumerate(_notes(plan), 1)]
        blocks.append(Words(VERIFY, weight="semibold", after=4.0))
        blocks += [
            Heading("Materials by standard"),
            Rows((Column("Material", least=18), Column("Made to", least=24), Column("Remark", least=18)), MATERIALS),
            Words("Standard numbers are from memory; the edition in force locally holds.", after=4.0),
        ]
        blocks += _findings(plan)
        blocks += _assumed(plan)
        blocks += [Heading("Not included, unless agreed"), *(Words(text, "-", hang=3.5) for text in EXCLUDED)]
        for n, marks in enumerate(flow(blocks, body), 1):
            title = "Notes" if n == 1 else f"Notes, continued ({n})"
            yield Content(
                str(n), title, "", None, marks, "General notes, materials, findings, assumptions, exclusions."
            )


def _notes(plan: Plan) -> list[str]:
    """Return the general notes, with what was measured of the tiles of this job."""
    said = []
    for tile in plan.job.tile.values():
        if tile.sampled:
            said.append(f"{tile.name}: measured from {tile.sampled} sample tiles, a nominal size is not used")
        else:
            said.append(f"{tile.name}: NOMINAL, not measured; every size on these sheets may change once it is")
    return [NOTES[0], f"Tile sizes. {'. '.join(said)}.", *NOTES[1:]]


def _findings(plan: Plan) -> list[Block]:
    if not plan.findings:
        return []
    blocks: list[Block] = [Heading("Findings, and where each rule is written")]
    for f in sorted_findings(plan.findings):
        where = f"{f.where}: " if f.where else ""
        blocks.append(
            Words(
                f"{where}{f.text.rstrip('.')}. Source: {f.source}.", LEVEL_WORDS[f.level], weight="semibold", hang=14.0
            )
        )
    return blocks


def _assumed(plan: Plan) -> list[Block]:
    said = dict.fromkeys(text for q in plan.takeoff for text in q.assumptions)
    if not said:
        return []
    return [Heading("Assumed in the quantities"), *(Words(t[0].upper() + t[1:] + ".", "-", hang=3.5) for t in said)]
