"""The take-off: every quantity in all and by wall, with what was assumed beside it, and how the tiles are cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import ClassVar

from elevation.drawing.marks import Mark
from elevation.drawing.table import Column
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.flow import GUTTER, Block, Heading, Rows, count_pages, flow
from elevation.sheets.trim_schedule import trim_schedule
from elevation.takeoff import Quantity

_MEASURED = frozenset({"ft", "m", "ft2", "m2", "L", "kg", "lb"})
"""Units with a decimal; everything else is counted."""
_LEAST = 130.0
"""Narrowest of two columns, mm before words are enlarged: below that the tables wrap more than they save."""
_GROUPS = {
    "area": "Areas", "tile": "Tile", "trim": "Trim", "soft joint": "Soft joints", "grout": "Grout",
    "mortar": "Bonding mortar", "backing": "Backing", "weight": "Weight on the walls",
}  # fmt: skip
_UNITS = {"ft2": "ft²", "m2": "m²"}


class TakeOff(Sheet):
    """Quantities for the order and the bid."""

    kind: ClassVar[str] = "take-off"
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer", "bid"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield its pages; none when nothing was counted."""
        if not plan.takeoff:
            return
        blocks: list[Block] = []
        for group, found in groupby(plan.takeoff, key=lambda q: q.group):
            blocks += _group(group, list(found), [w.face.id for w in plan.walls], body)
        blocks += [*_cutting(plan), *trim_schedule(plan)]
        for n, marks in enumerate(_pages(blocks, body), 1):
            title = "Take-off" if n == 1 else f"Take-off, continued ({n})"
            yield Content(
                str(n), title, "", None, marks, "Quantities by heading, in all and by wall, with their assumptions."
            )


def _pages(blocks: Sequence[Block], body: Body) -> list[tuple[Mark, ...]]:
    """Return the pages, tables in one column, or in two where the paper is wide enough and that takes fewer pages."""
    across = body.width / body.words
    half = (across - GUTTER) / 2
    if half >= _LEAST and count_pages(blocks, body, least=half) < count_pages(blocks, body, least=across):
        return flow(blocks, body, least=half)
    return flow(blocks, body, least=across, even=False)


def _group(name: str, quantities: Sequence[Quantity], walls: Sequence[str], body: Body) -> list[Block]:
    """Return a heading and its table; walls that do not fit beside the total go to a second table."""
    blocks: list[Block] = [Heading(_GROUPS.get(name, name.capitalize()))]
    shown = [w for w in walls if any(w == wall for q in quantities for wall, _ in q.by_wall)]
    most = max(1, int((body.width / body.words - 128.0) / 16.0))
    first, rest = (shown, []) if len(shown) <= most else ([], shown)
    with_notes = any(q.assumptions for q in quantities)
    columns = [Column("What", least=34), Column("Total", "end", 10, "semibold"), Column("Unit")]
    columns += [Column(f"Wall {w}" if len(walls) < 8 else w, "end") for w in first]
    columns += [Column("Assumed", least=40)] if with_notes else []
    rows = []
    before = ""
    for q in quantities:
        total, shares = _figures(q)
        row = [q.description, total, _UNITS.get(q.unit, q.unit), *(shares.get(w, "") for w in first)]
        assumed = "; ".join(q.assumptions)
        said = "as above" if assumed and assumed == before else assumed
        before = assumed
        rows.append([*row, *([said] if with_notes else [])])
    blocks.append(Rows(columns, rows))
    per = max(1, int((body.width / body.words - 60.0) / 18.0))
    for start in range(0, len(rest), per):
        some = rest[start : start + per]
        shared = [q for q in quantities if any(w in some for w, _ in q.by_wall)]
        blocks.append(
            Rows(
                [Column("By wall", least=40), *(Column(w, "end") for w in some)],
                [[q.description, *(_figures(q)[1].get(w, "") for w in some)] for q in shared],
            )
        )
    return blocks


def _figures(q: Quantity) -> tuple[str, dict[str, str]]:
    """Return total and shares as printed; the shares add up to the total."""
    decimals = 1 if q.unit in _MEASURED else 0
    total, shares = q.rounded(decimals)
    return f"{total:.{decimals}f}", {wall: f"{value:.{decimals}f}" for wall, value in shares}


def _cutting(plan: Plan) -> list[Block]:
    """Return how the cuts share tiles; which rests are kept stands with the order of setting."""
    if not plan.cutting:
        return []
    rows = []
    for c in plan.cutting:
        proof = "yes" if c.proved else f"no, at least {c.lower_bound}"
        counts = (c.pieces, c.whole, c.cut, c.tiles, c.lower_bound)
        rows.append((plan.job.tile[c.tile].name, *(str(n) for n in counts), proof, str(c.without_reuse)))
    ends = ("Pieces", "Whole", "Cut", "Tiles", "Least")
    columns = [Column("Tile", least=30), *(Column(e, "end") for e in ends), Column("Proved fewest"),
               Column("Tiles without reuse", "end")]  # fmt: skip
    return [Heading("Cutting, in short"), Rows(columns, rows)]
