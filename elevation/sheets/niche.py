"""Niches and tiled returns opened out: each face larger than on the elevation, with numbers and course lists."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from elevation.drawing.marks import Mark
from elevation.drawing.table import Column
from elevation.drawing.view import scale_text
from elevation.features import Niche, Opening
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.layout.section import sill_section
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.course_list import list_lines
from elevation.sheets.flow import Block, Fixed, Heading, Rows, Words, flow
from elevation.sheets.niche_card import card
from elevation.sheets.niche_faces import NAMES, Drawing, around, largest_ratio, rows_of, unfolded
from elevation.sheets.niche_key import key_blocks
from elevation.sheets.niche_section import section_blocks
from elevation.sheets.trim_frame import frame_blocks
from elevation.sheets.wall_panel import legend_rows
from elevation.sheets.wall_trims import trim_name
from elevation.units import format_length
from elevation.wall import Recess, recess_of

_GAP = 10.0
_PANEL = 0.3
"""Share of the page's width that the panel takes."""
_SMALLEST = {"in": 12, "mm": 20}
"""Faces that would come smaller together are parted over several pages: seen together they explain each other."""


_MISSING = 0.2
"""Share of the cuts whose numbers may find no place before every face gets a page of its own."""


class NicheSheet(Sheet):
    """One niche, or one opening with tiled returns, a page."""

    kind: ClassVar[str] = "niche"
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer", "permit"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of every niche and of every opening with tiled returns; none where there is neither."""
        niches: dict[tuple[str, str], list[LaidFace]] = {}
        for laid in plan.faces:
            if laid.face.kind != "wall":
                niches.setdefault((laid.face.wall, laid.face.of), []).append(laid)
        for (wall, of), faces in niches.items():
            carried: tuple[Niche | Opening, ...] = (
                *plan.job.wall_by_id(wall).niche,
                *plan.job.wall_by_id(wall).opening,
            )
            feature = next(f for f in carried if f.id == of)
            yield from _pages(plan, feature, faces, body)


def _pages(plan: Plan, feature: Niche | Opening, faces: Sequence[LaidFace], body: Body) -> Iterator[Content]:
    wall = plan.face(faces[0].face.wall)
    recess = recess_of(feature, wall.face)
    assert recess is not None
    panel = max(84.0 * body.words, min(_PANEL * body.width, 130.0 * body.words))
    column = replace(body, x=body.right - panel, width=panel)
    beside = replace(body, width=body.width - panel - _GAP)
    title = _title(recess, wall)
    name = f"{wall.face.id}-{recess.id}"
    parts = _parts(plan, recess, faces, (beside, body))
    about = _about(plan, recess, wall, faces, feature, body, panel)
    lists = [_lists(plan, recess, part.faces, body) for part in parts]
    texts = [[*_legend([part]), *found] for part, found in zip(parts, lists, strict=True)]
    texts[0] = [*about, *texts[0]]
    if parts[0].room is body:
        # the drawings fill their pages, and the words follow on pages of their own, the legend once for all
        texts = [*[[] for _ in parts], [*about, *_legend(parts), *(block for found in lists for block in found)]]
    count = 0
    placed: list[_Placed | None] = [_placed(plan, part, title) for part in parts]
    for drawn, text in zip([*placed, None][: len(texts)], texts, strict=True):
        space = column if drawn is not None else body
        for n, words in enumerate(flow(text, space, least=panel / body.words, even=drawn is None, then=body)):
            count += 1
            here = drawn if n == 0 else None
            yield Content(
                name if count == 1 else f"{name}-{count}",
                title if count == 1 else f"{title}, continued ({count})",
                scale_text(here.ratio, body.unit) if here is not None else "",
                float(here.ratio) if here is not None else None,
                (*here.marks, *words) if here is not None else words,
                here.said if here is not None else f"{title}: course lists.",
            )


@dataclass(frozen=True, slots=True)
class _Part:
    """Faces that stand on one page together.

    Attributes:
        faces: The faces.
        room: Free area they stand in.
        ratio: Their scale 1:n.
        drawings: The drawings, not yet in their place.
    """

    faces: Sequence[LaidFace]
    room: Body
    ratio: int
    drawings: list[Drawing]


@dataclass(frozen=True, slots=True)
class _Placed:
    """Faces in their place on a page: scale, marks, what they are in one sentence."""

    ratio: int
    marks: tuple[Mark, ...]
    said: str


def _placed(plan: Plan, part: _Part, title: str) -> _Placed:
    """Return the faces of a part in the middle of their room."""
    x0, y0, x1, y1 = around([d.box for d in part.drawings])
    dx, dy = part.room.x + (part.room.width - x0 - x1) / 2, part.room.y + (part.room.height - y0 - y1) / 2
    marks = tuple(mark for d in part.drawings for mark in d.moved(dx, dy).marks)
    pieces = [p for f in part.faces for p in plan.pieces_of(f.face.id)]
    cuts = sum(not p.is_whole for p in pieces)
    said = f"{title}: {len(pieces) - cuts} whole and {cuts} cut tiles, with dimensions and course lists."
    return _Placed(part.ratio, marks, said)


def _about(
    plan: Plan, recess: Recess, wall: LaidFace, faces: Sequence[LaidFace], feature: Niche | Opening, body: Body,
    panel: float,
) -> list[Block]:  # fmt: skip
    """Return what is said of the whole recess: place, key, framing card, section."""
    section = sill_section(plan.job, wall, faces, feature)
    return [
        *_place(recess, wall, body),
        *key_blocks(
            recess.length("sill"), recess.length("left"), back=recess.niche is not None, sill=recess.has_sill,
            word=recess.word,
        ),
        *card(plan, faces[0], body),
        *(section_blocks(plan, section, body, panel) if section is not None else ()),
        *frame_blocks(plan, faces[0], body, panel),
    ]  # fmt: skip


def _parts(plan: Plan, recess: Recess, faces: Sequence[LaidFace], rooms: Sequence[Body]) -> list[_Part]:
    """Return the faces by page: together where they can be read so, else in two parts, else one by one.

    Args:
        plan: The plan.
        recess: What they belong to.
        faces: Its faces.
        rooms: Free areas to choose from, the preferred one first.
    """
    unit = rooms[0].unit
    level = [f for f in faces if f.face.kind in ("back", "sill", "head")]
    jambs = [f for f in faces if f.face.kind in ("left", "right")]

    def pages(parts: Sequence[Sequence[LaidFace]], room: Body, enough: float) -> list[_Part] | None:
        size = (room.width, room.height)
        ratios = [largest_ratio(plan, recess, part, room, size) for part in parts]
        found = [ratio for ratio in ratios if ratio is not None and ratio <= enough]
        if len(found) < len(parts):
            return None
        return [
            _Part(part, room, ratio, unfolded(plan, recess, part, room, ratio))
            for part, ratio in zip(parts, found, strict=True)
        ]

    best: list[_Part] | None = None
    for parts in ([list(faces)], [part for part in (level, jambs) if part]):
        for room in rooms:
            found = pages(parts, room, _SMALLEST[unit])
            if found is not None and (best is None or _left_out(found) < _left_out(best)):
                best = found
            if best is not None and not _left_out(best):
                return best
    cuts = sum(not p.is_whole for f in faces for p in plan.pieces_of(f.face.id))
    if best is not None and _left_out(best) <= _MISSING * cuts:
        return best
    singly = [[face] for face in faces]
    for enough in (_SMALLEST[unit], math.inf):
        for room in rooms:
            found = pages(singly, room, enough)
            if found is not None and (best is None or _left_out(found) < _left_out(best)):
                best = found
    if best is None:
        raise ValueError(f"a face of {recess.word} {recess.id} fits no page at any listed scale")
    return best


def _left_out(parts: Sequence[_Part]) -> int:
    """Return how many numbers found no place."""
    return sum(len(drawing.left_out) for part in parts for drawing in part.drawings)


def _title(recess: Recess, wall: LaidFace) -> str:
    """Return what a niche, or an opening with tiled returns, is called."""
    name = recess.word.capitalize() if recess.word == recess.id else f"{recess.word.capitalize()} {recess.id}"
    return f"{name} on wall {wall.face.id}{'' if recess.niche is not None else ', returns'}"


def _place(recess: Recess, wall: LaidFace, body: Body) -> list[Block]:
    """Return where the niche or opening stands and how deep it is."""

    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    def pair(one: str, other: str) -> str:
        return " and ".join(dict.fromkeys(said(recess.length(side)) for side in (one, other)))

    back = "finished back" if recess.niche is not None else "frame"
    words = (
        f"Clear opening {pair('sill', 'head')} wide x {pair('left', 'right')} high, {said(recess.depth)} deep from "
        f"finished wall to {back}; its lower left corner stands {said(recess.x)} right and {said(recess.y)} up from "
        "the wall's."
    )
    if recess.rise > 0:
        foot = "foot" if body.unit == "in" else "305 mm"
        words += f" The sill falls {said(recess.pitch)} to the {foot} towards the room."
    into = [side for side in ("left", "right") if side in recess.into]
    if into:
        jambs = "both jambs lie" if len(into) == 2 else f"the {into[0]} jamb lies"
        words += f" It runs into a corner: {jambs} in the plane of the other wall, whose tile goes on into it."
    return [Heading("Where it stands"), Words(words)]


def _legend(parts: Sequence[_Part]) -> list[Block]:
    """Return what the lines of the faces mean, and what found no place on them."""
    drawings = [d for part in parts for d in part.drawings]
    used = set().union(*(d.used for d in drawings))
    tall, draw = legend_rows(used)
    level = (
        "back, sill and head" if any(f.face.kind == "back" for part in parts for f in part.faces) else "sill and head"
    )
    blocks: list[Block] = [
        Heading("Legend"),
        Fixed(tall, lambda x, top, _: draw(x, top), after=1.5),
        Words("Widths and heights run from the left and lower side, as found, to the far edge of each tile."),
        Words(f"Numbers at the left of {level}: courses. Thin dashes lead to the same corner."),
    ]
    faces = [f for part in parts for f in part.faces]
    shelves = [c.id for f in faces if f.face.kind == "back" for c in f.face.cutouts]
    if shelves:
        blocks.append(Words(f"Beside the back: {', '.join(f'{name}, shelf' for name in shelves)}."))
    left_out = [number for d in drawings for number in d.left_out]
    if left_out:
        blocks.append(Words(f"No room on the drawing for: {', '.join(left_out)}."))
    return blocks


def _lists(plan: Plan, recess: Recess, faces: Sequence[LaidFace], body: Body) -> list[Block]:
    blocks: list[Block] = []
    for laid in faces:
        lines = [(line.courses, line.text) for line in list_lines(rows_of(plan, laid))]
        words = " ".join(part for part in (_soft(plan, laid, body), _front(plan, recess, laid, body)) if part)
        blocks += [Heading(f"{NAMES[laid.face.kind]}: course list"), Words(words, keep=True)]
        blocks.append(Rows((Column("Course", weight="semibold"), Column("From the left", least=30)), lines))
    return blocks


def _soft(plan: Plan, laid: LaidFace, body: Body) -> str:
    """Return where the face has soft joints, by their width."""
    said: dict[str, list[str]] = {}
    for run in plan.runs:
        if run.face != laid.face.id or run.kind != "soft":
            continue
        gap = " to ".join(dict.fromkeys(format_length(g, body.step, body.unit) for g in run.gap))
        side = f"at the {run.meets}" if run.meets in ("frame", "casing") else run.side
        where = f"shelf {run.of}" if run.of else side
        names = said.setdefault(gap, [])
        if where not in names:
            names.append(where)
    return " ".join(f"Soft joint {gap}: {', '.join(names)}." for gap, names in said.items())


def _front(plan: Plan, recess: Recess, laid: LaidFace, body: Body) -> str:
    """Return how the face ends at the front."""
    kind = laid.face.kind
    edge = next((e for e in laid.edges if e.border.side == "front"), None)
    if edge is None:
        return ""
    if kind in recess.into:
        return "Front: goes on from the tile of the other wall."
    joint = format_length(edge.gap[0], body.step, body.unit)
    trim = recess.edges[kind].trim
    if trim is not None:
        at = "behind it and the wall's tile" if edge.border.behind > EPS else "to the corner"
        return f"Front: {trim_name(plan, trim)}, joint {joint} {at}."
    if edge.border.behind > EPS:
        return f"Front: behind the wall's tile, joint {joint}."
    return "Front: runs out over the wall's tile; its edge shows."
