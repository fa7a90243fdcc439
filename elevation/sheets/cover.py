"""The cover: the walls on one datum, what is in the set, the schedule, the gauge check, cautions, approval."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import ClassVar

from elevation.drawing.marks import Line, Mark, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.table import Column
from elevation.drawing.view import scale_text
from elevation.job.models import Tile
from elevation.pieces import course_label
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, IndexLine, Sheet
from elevation.sheets.flow import GUTTER, Block, Fixed, Heading, Rows, Words, columns_for, count_pages, flow
from elevation.sheets.gauge import COUNT, gauge_lines
from elevation.sheets.unfold import Unfolded, unfolded
from elevation.sheets.words import CAUTIONS, LEVEL_WORDS, sorted_findings
from elevation.units import format_length
from elevation.wall import FIELD

_COLUMN = 92.0
"""Narrowest column, mm."""
_HEAD = 8.0
"""Room for the heading above the walls, mm."""
_SHARES = (0.95, 0.78, 0.62, 0.54, 0.46, 0.38, 0.3)
"""Shares of the first page's height that the walls may take, tried for the fewest pages."""


class Cover(Sheet):
    """The first sheet of every set."""

    kind: ClassVar[str] = "cover"
    needs_index: ClassVar[bool] = True

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the cover, and more pages where one does not hold it."""
        blocks = _blocks(plan, body)
        best: tuple[int, int, Unfolded] | None = None
        for share in _SHARES:
            walls = _walls(plan, body, share * body.height)
            if walls is None:
                continue
            count = count_pages(blocks, body, least=_COLUMN, tops=_tops(body, walls))
            if best is None or (count, walls.ratio) < best[:2]:
                best = (count, walls.ratio, walls)
            if count == 1:
                break  # smaller walls can save no page
        if best is not None:
            ratio, walls = best[1:]
            top, *others = flow(blocks, body, least=_COLUMN, tops=_tops(body, walls))
            head = flow([Heading("The walls, left to right, on one datum")], replace(body, width=_wide(body, walls)),
                        least=_wide(body, walls) / body.words, even=False)[0]  # fmt: skip
            pages = [(*head, *walls.draw(plan, body.x, body.top - _HEAD * body.words), *top), *others]
        else:
            none = Words("The walls are too many to be shown together on this paper.", after=4.0)
            ratio, pages = 0, flow([none, *blocks], body, least=_COLUMN)
        for n, marks in enumerate(pages, 1):
            first = n == 1
            yield Content(
                str(n),
                "Cover" if first else f"Cover, continued ({n})",
                scale_text(ratio, body.unit) if first and ratio else "",
                float(ratio) if first and ratio else None,
                marks,
                "Sheet index, walls unfolded on one datum, tile schedule, gauge check, cautions and approval.",
            )


def _columns(body: Body) -> tuple[int, float, float]:
    """Return how many columns the words stand in, their width, and the space between them, mm."""
    count, column = columns_for(body.width / body.words, _COLUMN)
    return count, column * body.words, GUTTER * body.words


def _wide(body: Body, walls: Unfolded) -> float:
    """Return the width of the columns that the walls stand over, mm."""
    _, column, gutter = _columns(body)
    return max(1, math.ceil((walls.width - 1e-6 + gutter) / (column + gutter))) * (column + gutter) - gutter


def _tops(body: Body, walls: Unfolded) -> list[float]:
    """Return where the columns of words begin: below the walls, or beside them."""
    count, column, gutter = _columns(body)
    low = body.top - _HEAD * body.words - walls.height - 1.0
    covered = _wide(body, walls)
    return [low if k * (column + gutter) < covered else body.top for k in range(count)]


def _walls(plan: Plan, body: Body, most: float) -> Unfolded | None:
    """Return the walls over as few columns as does not make them smaller."""
    count, column, gutter = _columns(body)
    best: Unfolded | None = None
    for taken in range(count, 0, -1):
        found = unfolded(plan.walls, taken * (column + gutter) - gutter, most, body.unit, body.words)
        if found is not None and (best is None or found.ratio <= best.ratio):
            best = found
    return best


def _blocks(plan: Plan, body: Body) -> list[Block]:
    blocks: list[Block] = []
    blocks += _findings(plan)
    blocks += [Heading("Sheets"), Rows(
        (Column("No."), Column("Sheet", least=30)), _index(body.index)
    )]  # fmt: skip
    if body.edition == "installer":
        blocks += _gauge(plan)
    blocks += _schedule(plan)
    blocks += _trims(plan)
    blocks += _job(plan)
    if body.edition == "installer":
        blocks += _numbers(plan)
    blocks += [Heading("Cautions"), *(Words(text, "-", hang=3.5) for text in CAUTIONS)]
    blocks += _approval()
    return blocks


def _index(lines: Sequence[IndexLine]) -> list[tuple[str, str]]:
    """Return the sheet index; pages that go on with the same thing in one line."""
    rows: list[tuple[str, str]] = []
    for _, same in groupby(lines, key=lambda line: (line.kind, line.title.split(", continued")[0])):
        found = list(same)
        first, last = found[0].number, found[-1].number
        rows.append((str(first) if first == last else f"{first}-{last}", found[0].title))
    return rows


def _findings(plan: Plan) -> list[Block]:
    if not plan.findings:
        return []
    blocks: list[Block] = [Heading("Findings")]
    for f in sorted_findings(plan.findings):
        where = f"{f.where}: " if f.where else ""
        blocks.append(Words(f"{where}{f.text}.", LEVEL_WORDS[f.level], weight="semibold", hang=14.0))
    return blocks


def _gauge(plan: Plan) -> list[Block]:
    unit = plan.job.units
    rows = [(name, joint, length, width) for name, joint, length, width in gauge_lines(plan)]
    return [
        Heading("Gauge check, before the first cut"),
        Words(
            f"Lay {COUNT} tiles in a row, each with one joint: {COUNT} modules."
            f" Measure over all, in {'inches' if unit == 'in' else 'millimetres'}. If it is not what stands here,"
            " measure the tile again and draw the set again.",
            keep=True,
        ),
        Rows(
            (
                Column("Tile", least=20),
                Column("Joint"),
                Column(f"{COUNT} lengths", weight="semibold"),
                Column(f"{COUNT} widths", weight="semibold"),
                Column("As measured", least=16),
            ),
            [(*row, "") for row in rows],
        ),
    ]


def _schedule(plan: Plan) -> list[Block]:
    job = plan.job
    used: dict[str, dict[str, list[str]]] = {}
    for face in plan.faces:
        for zone in face.zones:
            name = f"{face.face.wall} {face.face.of}".strip()
            if zone.place.beyond:
                continue
            where = name if zone.place.id == FIELD else f"{name} {zone.place.id}"
            pattern = str(getattr(zone.place.pattern, "pattern", ""))
            places = used.setdefault(zone.place.tile, {}).setdefault(pattern, [])
            # a niche has five faces and one name
            if where not in places:
                places.append(where)

    def column(name: str, tile: Tile) -> list[str]:
        def said(value: float | None, part: int = 2) -> str:
            return "-" if value is None else format_length(value, job.step / part, job.units)

        joints = dict.fromkeys(z.joint for f in plan.faces for z in f.zones if z.place.tile == name)
        laid = [f"{pattern}: {', '.join(where)}" for pattern, where in used.get(name, {}).items()]
        return [
            name, f"{said(tile.length)} x {said(tile.width)}", said(tile.thickness),
            f"{tile.sampled}" if tile.sampled else "0: NOMINAL", said(tile.variation, 4), tile.edge,
            tile.shade or "-", "one way up only" if tile.directional else "may be turned half round",
            ", ".join(said(j, 4) for j in joints) or "-", str(tile.box), "; ".join(laid) or "not used",
        ]  # fmt: skip

    words = ("Id", "Size", "Thickness", "Sampled", "Largest less smallest", "Edge", "Shade class", "Direction",
             "Grout joint", "In a box", "Laid")  # fmt: skip
    blocks: list[Block] = [Heading("Tile schedule")]
    tiles = list(job.tile.items())
    for start in range(0, len(tiles), 2):
        some = tiles[start : start + 2]
        cells = [column(name, tile) for name, tile in some]
        rows = [[word, *(c[k] for c in cells)] for k, word in enumerate(words)]
        blocks.append(Rows([Column("Tile", least=14), *(Column(t.name, least=24) for _, t in some)], rows))
    return blocks


def _trims(plan: Plan) -> list[Block]:
    job = plan.job
    if not job.trim:
        return []
    rows = []
    for name, trim in job.trim.items():
        sizes = [format_length(v, job.step / 2, job.units) if v else "-" for v in (trim.face, trim.height, trim.stock)]
        where = list(dict.fromkeys(r.face for r in plan.runs if r.trim == name))
        rows.append((name, trim.kind, *sizes, trim.corner, ", ".join(where) or "not used"))
    columns = ("Trim", "Kind", "Face", "Height", "Stock", "Corners", "On")
    return [Heading("Trim schedule"), Rows(tuple(Column(c) for c in columns), rows)]


def _job(plan: Plan) -> list[Block]:
    job = plan.job
    unit = job.units
    rows = [
        ("Sheets round to", f"{format_length(job.step, job.step / 4, job.units)} {unit}"),
        ("A reading may be off by", f"{format_length(job.tape, job.step / 4, job.units)} {unit}"),
        ("No cut narrower than", f"{format_length(job.sliver, job.step / 4, job.units)} {unit}"),
        ("Saw kerf", f"{format_length(job.kerf, job.step / 4, job.units)} {unit}"),
        ("Bed behind the tile", f"{format_length(job.room.bed, job.step / 4, job.units)} {unit}"),
        ("Walls measured to", job.room.to),
        ("Tiled first", ", ".join(job.room.first) or "not given"),
        ("Job file", f"{plan.file.rsplit('/', 1)[-1]}, {plan.fingerprint}"),
    ]
    return [Heading("Job data"), Rows((Column("What", least=20), Column("Value", least=20)), rows)]


def _numbers(plan: Plan) -> list[Block]:
    cut = next(iter(plan.cuts), None)
    if cut is None:
        return []
    text = (
        f"{cut.number}: wall {plan.face(cut.face).face.wall}, course {course_label(cut.course)}, place {cut.place}"
        " from the left, whole tiles counted. Courses below course 1 carry letters, downward: a, b, c. A niche adds"
        " its name and face: n1b is the back of niche n1. Write the number on the back of the piece."
    )
    return [Heading("How to read a number"), Words(text)]


def _approval() -> list[Block]:
    def lines(x: float, top: float, width: float) -> list[Mark]:
        marks: list[Mark] = []
        for n, (one, two) in enumerate((("Owner", "Date"), ("Installer", "Date"))):
            y = top - 12.0 - 14.0 * n
            split = x + 0.66 * width
            marks += [Line(((x, y), (split - 4.0, y)), "rule"), Line(((split, y), (x + width, y)), "rule")]
            marks.append(Text((x, y - 1.0 - NUMBER), one, NUMBER))
            marks.append(Text((split, y - 1.0 - NUMBER), two, NUMBER))
        return marks

    return [
        Heading("Approval"),
        Words(
            "Layout, tile and joints as drawn are approved for setting. Changes after signing are agreed in writing.",
            keep=True,
        ),
        Fixed(31.0, lines),
    ]
