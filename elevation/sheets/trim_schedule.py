"""Every run of trim with its tag, length and end cuts, what it is cut from, its joints, and when it is set."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.checks.look import counted, text
from elevation.cutting.trims import EndCut, TrimPlan, TrimRun, in_pieces
from elevation.drawing.table import Column
from elevation.pieces import course_label
from elevation.plan import Plan
from elevation.sheets.flow import Block, Heading, Rows, Words
from elevation.wall import FIELD, side_words

_ANGLE = 0.5
"""Angles are printed to half a degree: finer than a mitre box is set."""
_LONG = {"outer": "long point outside", "inner": "long point inside"}


def trim_schedule(plan: Plan) -> list[Block]:
    """Return a heading and the tables of each trim; empty without trims."""
    if not plan.trims:
        return []
    blocks: list[Block] = [Heading("Trim schedule"), *(Words(w, keep=True) for w in _how_to_read(plan))]
    for trim in plan.trims:
        blocks.append(Words(_about(plan, trim), weight="semibold", keep=True))
        said = [*_corners(trim), *_notes(plan, trim)]
        blocks += [Words(w, keep=True) for w in said]
        blocks.append(_runs(plan, trim))
        if any(not p.is_whole for p in trim.pieces):
            blocks.append(_cut_pieces(plan, trim))
    return blocks


def _how_to_read(plan: Plan) -> Iterator[str]:
    """Yield what the tables mean, as far as it occurs."""
    ends = [e for t in plan.trims for r in t.runs for e in r.ends]
    if any(e.long for e in ends):
        yield (
            "Lengths run from long point to long point. Outside: round an opening the edge at the tile; on a wall's "
            "border the edge away from it."
        )
    if any(e.kind == "butt" for e in ends):
        yield "Where two runs are butted the more level one goes through (common practice)."
    if any(plan.job.trim[t.trim].kind == "profile" for t in plan.trims):
        yield (
            "A profile is set before its tile: its leg lies in the bed under it. Cut it with a fine blade, take "
            "off the burr, and wear gloves and eye protection; follow the maker's instructions."
        )


def _about(plan: Plan, trim: TrimPlan) -> str:
    job = plan.job.trim[trim.trim]
    name = f"Trim {trim.trim}, {job.kind}"
    if job.kind == "mitre":
        return f"{name}: two tiles bevelled along {counted(len(trim.runs), 'edge')}, nothing to buy"
    if trim.sticks is None or job.stock is None:
        return f"{name}: the job gives no stock length"
    found = trim.sticks
    proof = "proved fewest" if found.proved else f"at least {found.lower_bound}"
    words = (
        f"{name}: {counted(found.sticks, 'piece' if in_pieces(job) else 'stick')} of {text(plan, job.stock)}, {proof}"
    )
    if in_pieces(job):
        cut = sum(not p.is_whole for p in trim.pieces)
        words += f"; {len(trim.pieces) - cut} whole and {counted(cut, 'cut')} to set, {text(plan, job.joint)} joints"
    return words


def _corners(trim: TrimPlan) -> Iterator[str]:
    """Yield the corner pieces to buy, and the corners that are not as the job says."""
    by_turn = {turn: sum(c.turn == turn for c in trim.corner_pieces) for turn in ("outside", "inside")}
    words = {"outside": "round a corner of the tile", "inside": "with the tile going round"}
    counts = [f"{n} {turn}, {words[turn]}" for turn, n in by_turn.items() if n]
    if counts:
        yield f"Corner pieces: {'; '.join(counts)}."
    for said in dict.fromkeys(c.said for c in trim.corners if c.said):
        places = [" and ".join(c.runs) for c in trim.corners if c.said == said]
        yield f"{'; '.join(places)}: {said}."


def _notes(plan: Plan, trim: TrimPlan) -> Iterator[str]:
    bent = [r.tag for r in trim.runs if r.is_curved]
    if bent and plan.job.trim[trim.trim].kind == "profile":
        yield f"{', '.join(bent)} follow a bend: take a profile that may be bent."
    if bent and in_pieces(plan.job.trim[trim.trim]):
        yield f"{', '.join(bent)} follow a bend: lengths are over the longer edge; cut and try each piece."


def _runs(plan: Plan, trim: TrimPlan) -> Rows:
    kind = plan.job.trim[trim.trim].kind
    made = {"profile": "From stick", "mitre": ""}.get(kind, "Pieces")
    columns = [
        Column("Tag", weight="semibold", least=14), Column("Where", least=24), Column("Length", "end", least=20),
        Column("Left or lower end", least=34), Column("Right or upper end", least=34),
    ]  # fmt: skip
    more = [_made_of(plan, trim, r) for r in trim.runs]
    with_made = bool(made) and any(more)
    joints = [_joints(plan, trim, r) for r in trim.runs]
    columns += [Column(made, least=20)] if with_made else []
    columns += [Column("Joints", least=34)] if any(joints) else []
    columns += [Column("Set", least=30)] if kind == "profile" else []
    rows = []
    for run, of, joint in zip(trim.runs, more, joints, strict=True):
        where = " ".join(part for part in (run.face, run.of, side_words(run.side)) if part)
        row = [run.tag, where, text(plan, run.length), *(_end(plan, kind, e) for e in run.ends)]
        row += [of] if with_made else []
        row += [joint] if any(joints) else []
        row += [_before(plan, run)] if kind == "profile" else []
        rows.append(row)
    return Rows(columns, rows)


def _end(plan: Plan, kind: str, end: EndCut) -> str:
    beside = plan.trim_tags.get(end.beside, "")
    if kind == "mitre":
        return f"bevel meets that of {beside}" if end.kind == "mitre" else "to the end of the tile"
    if end.kind == "piece":
        return f"square, corner piece to {beside}"
    if end.kind == "butt":
        cut = "square" if not end.long else _angle(end)
        return f"{cut}, goes through past {beside}" if end.through else f"{cut}, butts to {beside}"
    if end.kind == "mitre":
        return f"mitre {_angle(end) if end.long else '90°'}, to {beside}"
    return _angle(end) if end.long else "square"


def _angle(end: EndCut) -> str:
    return f"{round(end.angle / _ANGLE) * _ANGLE:g}°, {_LONG[end.long]}"


def _made_of(plan: Plan, trim: TrimPlan, run: TrimRun) -> str:
    """Return the sticks of a run, each with the length that it gives where there are several, or its pieces."""
    if trim.sticks is None:
        return ""
    if trim.pieces:
        own = [p for p in trim.pieces if p.run == run.id]
        cut = sum(not p.is_whole for p in own)
        return f"{len(own) - cut} whole, {cut} cut"
    cuts = [(s.stick_no, n) for s in trim.sticks.plan for n in s.lengths if n.run == run.id]
    if len(cuts) == 1:
        return str(cuts[0][0])
    return ", ".join(f"{no} ({text(plan, n.length)})" for no, n in sorted(cuts, key=lambda c: c[1].part))


def _joints(plan: Plan, trim: TrimPlan, run: TrimRun) -> str:
    """Return where the joints of a run longer than a stick stand."""
    long = next((r for r in trim.long if r.run == run.id), None)
    if long is None:
        return ""
    places = ", ".join(text(plan, j) for j in long.joints)
    at = f"{places} from {'below' if run.upright else 'the left'}"
    return f"{at}, on tile joints" if long.on_tile else f"{at}: no tile joint within reach of a stick"


def _before(plan: Plan, run: TrimRun) -> str:
    """Return what a profile is set before: the first of its tiles in the order of setting."""
    tiles = [plan.by_id[t] for t in run.tiles]
    if not tiles:
        return ""
    first = min(tiles, key=lambda p: p.order)
    zone = f"{first.zone}, " if first.zone != FIELD else ""
    return f"before the tile of {zone}course {course_label(first.course)}, place {first.place}"


def _cut_pieces(plan: Plan, trim: TrimPlan) -> Rows:
    """Return the table of the cut pieces: length, which end is cut, which come out of one whole piece."""
    assert trim.sticks is not None
    number = {(p.run, p.place): p.number or "" for p in trim.pieces}
    mates = {(n.run, n.part): [number[m.run, m.part] for m in s.lengths if m is not n]
             for s in trim.sticks.plan for n in s.lengths}  # fmt: skip
    runs = {r.id: r for r in trim.runs}
    columns = [Column("Cut piece", weight="semibold", least=18), Column("Length", "end", least=16),
               Column("Cut at", least=50), Column("Out of one piece with", least=24)]  # fmt: skip
    rows = []
    for piece in trim.pieces:
        if piece.is_whole:
            continue
        run = runs[piece.run]
        both = zip(run.end_names, run.ends, piece.cut_ends, strict=True)
        cut = "; ".join(f"{name}: {_piece_cut(run, end, name)}" for name, end, is_cut in both if is_cut)
        place = (piece.run, piece.place)
        rows.append([number[place], text(plan, piece.length), cut, ", ".join(mates[place]) or "none"])
    return Rows(columns, rows)


def _piece_cut(run: TrimRun, end: EndCut, name: str) -> str:
    at_start = name == run.end_names[0]
    own = run.ends[0 if at_start else 1]
    return _angle(own) if own.long and end is own else "square"
