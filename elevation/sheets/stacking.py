"""The last pages of the cut sheet: the order of setting, to stack the cuts by, and which rests make which piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.drawing.table import Column
from elevation.pieces import course_label
from elevation.pieces.order import Stage, setting_stages
from elevation.plan import Plan
from elevation.sheets.base import Body, Content
from elevation.sheets.flow import Block, Heading, Rows, Words, flow
from elevation.wall import is_field, side_words

_KINDS = {"back": "back", "sill": "sill", "left": "left jamb", "right": "right jamb", "head": "head"}


def stacking_pages(plan: Plan, body: Body) -> Iterator[Content]:
    """Yield the pages; none where every tile is whole."""
    if not plan.cuts and not plan.mitred:
        return
    blocks: list[Block] = [
        Heading("Order of setting"),
        Words("Stack the cuts in this order, the first on top, each course from the left. Common practice."),
    ]
    stages = setting_stages(plan.job, plan.faces, {(z.face, z.zone): z.pieces for z in plan.zones})
    for wall in dict.fromkeys(s.wall for s in stages):
        blocks += _wall(plan, wall, [s for s in stages if s.wall == wall])
    blocks += _mitres(plan)
    blocks += _rests(plan)
    for n, marks in enumerate(flow(blocks, body, least=118.0, even=False), 1):
        title = "Order of setting" if n == 1 else f"Order of setting, continued ({n})"
        about = "Order in which pieces are set, wall by wall and course by course, and what the rests of tiles make."
        yield Content(f"order-{n}", title, "", None, marks, about)


def _wall(plan: Plan, wall: str, stages: Sequence[Stage]) -> list[Block]:
    """Return a wall's table: profiles before the tile that meets them, the ledger, every course with its cuts."""
    rows: list[tuple[str, str, str, str]] = []
    trims = _trims(plan, stages)
    waiting = False
    for n, stage in enumerate(stages):
        rows += [("", words, "", "") for words in trims.get(n, ())]
        if stage.on_ledger:
            rows.append(("", "Ledger, level, below this course", "", ""))
        if stage.below and not waiting:
            waiting = True
            rows.append(("", "Ledger off when the tile holds", "", ""))
        cuts = ", ".join(str(p.number) for p in stage.pieces if not p.is_whole)
        whole = sum(p.is_whole for p in stage.pieces)
        first, last = stage.pieces[0].order, stage.pieces[-1].order
        order = str(first) if first == last else f"{first}-{last}"
        rows.append((order, _name(plan, stage), cuts, str(whole) if whole else ""))
    title = plan.face(wall).face.title
    columns = [Column("Order", least=12), Column("Set", least=34), Column("Cuts, from the left", least=30),
               Column("Whole", "end")]  # fmt: skip
    return [Heading(f"Wall {wall}.   {title}"), Rows(columns, rows)]


def _mitres(plan: Plan) -> list[Block]:
    """Return the whole tiles that need a bevel, which carry no number: by face and edge, course and place of each."""
    found: dict[tuple[str, str], list[str]] = {}
    for piece in (plan.by_id[p] for p in plan.mitred):
        if piece.is_whole:
            key = piece.face, " and ".join(plan.mitred[piece.id])
            found.setdefault(key, []).append(f"{course_label(piece.course)}-{piece.place}")
    if not found:
        return []
    rows = [(plan.face(face).face.title, side, ", ".join(at), str(len(at))) for (face, side), at in found.items()]
    columns = [Column("Where", least=30), Column("Edge", least=16), Column("Course-place", least=40),
               Column("Tiles", "end")]  # fmt: skip
    words = "These whole tiles are bevelled before they are set; cuts say so beside their sketch."
    return [Heading("Whole tiles to mitre"), Words(words), Rows(columns, rows)]


def _name(plan: Plan, stage: Stage) -> str:
    face = plan.face(stage.face).face
    where = f"{face.of} {_KINDS.get(face.kind, face.kind)}, " if face.of else ""
    zone = f"{stage.zone}, " if not is_field(stage.zone) else ""
    words = f"{where}{zone}course {course_label(stage.course)}"
    return words[0].upper() + words[1:] if not where else words


def _trims(plan: Plan, stages: Sequence[Stage]) -> dict[int, list[str]]:
    """Return the profiles to set before a stage, by its place: those that its pieces are the first to meet."""
    place = {p.id: n for n, s in enumerate(stages) for p in s.pieces}
    found: dict[int, list[str]] = {}
    for run in (r for t in plan.trims if plan.job.trim[t.trim].kind == "profile" for r in t.runs):
        along = [place[t] for t in run.tiles if t in place]
        if along:
            side = f"{run.of} {side_words(run.side)}".strip()
            found.setdefault(min(along), []).append(f"Profile {run.tag}, {side}: before its tile")
    return found


def _rests(plan: Plan) -> list[Block]:
    """Return which rests are kept, and for which piece."""
    if not plan.job.reuse:
        return [Heading("Rests"), Words("Every cut takes a tile of its own: no rest is used again.")]
    blocks: list[Block] = []
    for cutting in plan.cutting:
        if cutting.said:
            name = plan.job.tile[cutting.tile].name
            saved = cutting.without_reuse - cutting.tiles
            blocks.append(Heading("Rests to keep" if len(plan.cutting) == 1 else f"Rests to keep: {name}"))
            blocks.append(Words(f"Write on the rest what it makes; it saves {saved} tiles." if saved > 1 else
                                "Write on the rest what it makes; it saves a tile."))  # fmt: skip
            blocks += [Words(f"{s[0].upper()}{s[1:]}.", after=0.6) for s in cutting.said]
    return blocks
