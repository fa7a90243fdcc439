"""What the framer needs of a niche, as a card."""

from __future__ import annotations

from collections.abc import Callable

from elevation.checks.look import text as exact
from elevation.checks.room import floor_level
from elevation.drawing.table import Column
from elevation.features import Niche
from elevation.layout import LaidFace
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.flow import Block, Heading, Rows, Words
from elevation.units import format_length
from elevation.wall import Framing, framing_of

_Said = Callable[[float], str]


def card(plan: Plan, face: LaidFace, body: Body) -> list[Block]:
    """Return the framing card of the niche that a face belongs to; empty for an opening, which is framed already.

    Args:
        plan: The plan.
        face: One of the niche's faces.
        body: Unit, step and size of words of the sheet.
    """
    wall = plan.face(face.face.wall)
    niche = next((n for n in plan.job.wall_by_id(wall.face.id).niche if n.id == face.face.of), None)
    if niche is None:
        return []
    return _card(plan, wall, niche, framing_of(plan.job, wall.face, niche), body)


def _card(plan: Plan, wall: LaidFace, niche: Niche, rough: Framing, body: Body) -> list[Block]:
    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    x0, _, x1, _ = wall.face.bounds
    rows = [
        ("Width", said(niche.width), said(rough.width)),
        ("Height", said(niche.height), said(rough.height)),
        ("Depth: clear from finished wall, rough from the studs", said(niche.depth), said(rough.depth)),
        ("Lower side above the wall's", said(niche.y), said(rough.bottom)),
    ]
    floor = floor_level(plan, wall)
    if floor is not None:
        rows.append(("Lower side above finished floor", said(niche.y - floor), said(rough.bottom - floor)))
    if rough.from_datum is not None:
        clear = niche.y - wall.face.datum[1]
        # one row has one word: the two may stand on either side of the level line
        word = "above" if min(clear, rough.from_datum) >= 0 else "from"
        rows.append((f"Lower side {word} the datum", _signed(clear, said), _signed(rough.from_datum, said)))
    rows += [
        ("From the wall's left side", said(niche.x - x0), said(rough.to_left)),
        ("From its right side", said(x1 - niche.x - niche.width), said(rough.to_right)),
    ]
    jambs = round((rough.width - niche.width) / rough.build)
    corner = " Nothing is added where it runs into a corner." if jambs < 2 else ""
    blocks: list[Block] = [
        Heading("Framing card"),
        Rows((Column("", least=30), Column("Clear", "end"), Column("Rough", "end", weight="semibold")), rows),
        Words(
            f"Rough is clear and {exact(plan, rough.build)} on each side: tile, bed, membrane, board.{corner} "
            "Framing level; sides of the wall as measured."
        ),
    ]
    if rough.slack is not None:
        blocks.append(Words(_bay(rough, said)))
    blocks.append(Words("Verify before framing.", weight="semibold", after=3.0))
    return blocks


def _signed(value: float, said: _Said) -> str:
    return said(value) if value >= 0 else f"{said(-value)} below"


def _bay(rough: Framing, said: _Said) -> str:
    """Return whether the rough opening fits its bay."""
    assert rough.slack is not None
    assert rough.niche.bay is not None
    left, right = rough.slack
    bay = said(rough.niche.bay[1] - rough.niche.bay[0])
    if rough.too_wide > 0:
        return f"Does NOT fit the bay, {bay} between studs: {said(rough.too_wide)} too wide."
    if min(left, right) < 0:
        side = "left" if left < 0 else "right"
        return f"Reaches {said(-min(left, right))} into the {side} stud; the bay, {bay}, would take it."
    return f"Fits the bay, {bay} between studs: {said(left)} to spare at the left, {said(right)} at the right."
