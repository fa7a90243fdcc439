"""Cut sheet and take-off as CSV (RFC 4180), the plan as JSON: bytes ready to be written, UTF-8."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from typing import Any

from elevation.pieces import Piece, course_label
from elevation.plan import Plan
from elevation.plan.as_json import plan_data

_encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def plan_json(plan: Plan) -> bytes:
    """Return plan.json; each piece stands on a line of its own."""
    return (_dump(plan_data(plan), "") + "\n").encode()


def _dump(value: Any, indent: str) -> str:
    """Return JSON indented by one blank a level; what holds no table of its own, a piece say, stands on one line."""
    inner = indent + " "
    if isinstance(value, dict) and any(_holds_tables(v) for v in value.values()):
        items = [f"{inner}{_encode(k)}: {_dump(v, inner)}" for k, v in value.items()]
        return "{\n" + ",\n".join(items) + f"\n{indent}}}"
    if isinstance(value, list) and _holds_tables(value):
        return "[\n" + ",\n".join(inner + _dump(v, inner) for v in value) + f"\n{indent}]"
    return _encode(value)


def _holds_tables(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))


def safe_cell(text: str) -> str:
    """Return text that a spreadsheet takes as text: what would start a formula gets an apostrophe before it."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def _table(header: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    """Return a CSV file: header row, lines ended by CR LF, UTF-8; texts made safe for spreadsheets."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([safe_cell(v) if isinstance(v, str) else v for v in row])
    return out.getvalue().encode()


CUTS_HEADER = (
    "number", "wall", "face", "zone", "tile", "course", "place", "kind", "width", "height", "width_mm", "height_mm",
    "shown_width_mm", "shown_height_mm", "area_mm2", "quantity", "factory_edges", "order", "tile_no", "id", "mitred",
)  # fmt: skip


def cuts_csv(plan: Plan) -> bytes:
    """Return the cut sheet: one row for each piece that needs the saw.

    ``width`` and ``height`` are the cut sheet's own, in the unit of the job, both ends of a taper; inches carry their
    unit, since a spreadsheet would read a bare 9/32 as a date. The columns in mm are exact to four decimals.
    ``tile_no`` counts the tiles that are cut, for each tile of the job from 1.
    """
    return _table(CUTS_HEADER, (_cut(plan, piece) for piece in plan.cuts))


def _cut(plan: Plan, piece: Piece) -> list[Any]:
    exact = (piece.width, piece.height, *piece.shown, piece.area)
    return [
        piece.number,
        plan.face(piece.face).face.wall,
        piece.face,
        piece.zone,
        piece.tile,
        course_label(piece.course),
        piece.place,
        piece.kind,
        _size(plan, plan.measures[piece.id].width),
        _size(plan, plan.measures[piece.id].height),
        *(f"{v:.4f}" for v in exact),
        1,
        " ".join(piece.factory_edges),
        piece.order,
        plan.tile_no.get(piece.id, ""),
        piece.id,
        " ".join(plan.mitred.get(piece.id, ())),
    ]


def _size(plan: Plan, text: str) -> str:
    return f"{text} in" if plan.job.units == "in" else text


def takeoff_csv(plan: Plan) -> bytes:
    """Return the take-off: one row a quantity, one column a wall; rounded shares add up to the rounded total."""
    walls = [w.face.id for w in plan.walls]
    rows = []
    for quantity in plan.takeoff:
        total, shares = quantity.rounded(2)
        by_wall = dict(shares)
        rows.append(
            [
                quantity.group,
                quantity.item,
                quantity.description,
                _number(total),
                quantity.unit,
                *(_number(by_wall[w]) if w in by_wall else "" for w in walls),
                "; ".join(quantity.assumptions),
            ]
        )
    header = ["group", "item", "description", "amount", "unit", *(f"wall {w}" for w in walls), "assumptions"]
    return _table(header, rows)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def findings_csv(plan: Plan) -> bytes:
    """Return the findings, the gravest first."""
    header = ("level", "rule", "where", "text", "source")
    return _table(header, ((f.level, f.rule, f.where, f.text, f.source) for f in plan.findings))
