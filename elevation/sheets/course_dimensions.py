"""Dimensions of a wall's courses: first and last cuts across and up, at both ends where an edge is cut to a taper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Literal

from elevation.drawing.dimensions import Side, dimension_text
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.chains import NEAR, Chain, Length
from elevation.sheets.course_list import CourseRow, Sizes, is_cut_across, is_cut_in_height

Axis = Literal["x", "y"]
_End = tuple[float, str]
"""Size of a cut, mm, and how it is printed."""


def typical_row(rows: Sequence[CourseRow]) -> CourseRow | None:
    """Return the lowest course of the kind that occurs most, those without a break first."""
    plain = [r for r in rows if not any(p.kind == "break" for p in r.parts)] or list(rows)
    if not plain:
        return None
    most = Counter(r.text for r in plain).most_common(1)[0][0]
    return next(r for r in plain if r.text == most)


def across(
    plan: Plan, rows: Sequence[CourseRow], sizes: Sizes, length: Length, joint: float
) -> dict[Side, list[Chain]]:
    """Return the first and last cuts of a typical course and what lies between them, below.

    Where the cuts at a side taper, no course is typical: then the lowest course is dimensioned below, at its lower
    end, and the highest above, at its upper end.
    """
    ends = [p for row in rows for p in (row.pieces[:1] + row.pieces[-1:])]
    if len(rows) > 1 and any(_tapers(plan, p, "x") for p in ends):
        # where the bottom runs out of level the lowest courses may begin somewhere along the wall
        full = _reaching(_reaching(rows, left=True), left=False) or rows
        low = _row_chain(plan, full[0], sizes, length, joint, upper=False)
        high = _row_chain(plan, full[-1], sizes, length, joint, upper=True)
        return {"bottom": low, "top": high}
    row = typical_row(rows)
    return {"bottom": [] if row is None else _row_chain(plan, row, sizes, length, joint, upper=False)}


def heights(
    plan: Plan, rows: Sequence[CourseRow], sizes: Sizes, length: Length, joint: float
) -> dict[Side, list[Chain]]:
    """Return the heights of the first and last courses and what lies between them, on the left.

    Where a course is cut to a taper, the heights at its left end stand on the left, those at its right end on the
    right.
    """
    if len(rows) < 2:
        return {}
    tapered = any(_tapers(plan, p, "y") for row in (rows[0], rows[-1]) for p in row.pieces)
    if not tapered:
        return {"left": _height_chain(plan, rows, sizes, length, joint, left=None)}
    chains: dict[Side, list[Chain]] = {"left": _height_chain(plan, rows, sizes, length, joint, left=True)}
    chains["right"] = _height_chain(plan, rows, sizes, length, joint, left=False)
    return chains


def _reaching(rows: Sequence[CourseRow], *, left: bool) -> list[CourseRow]:
    """Return the courses that reach as far to the left, or to the right, as any, less half a tile of theirs."""

    def end(row: CourseRow) -> float:
        xs = [p[0] for p in row.pieces[0 if left else -1].outer]
        return -min(xs) if left else max(xs)

    if not rows:
        return []
    slot = [p[0] for p in rows[0].pieces[0].slot]
    most = max(end(row) for row in rows)
    return [row for row in rows if end(row) >= most - (max(slot) - min(slot)) / 2]


def _tapers(plan: Plan, piece: Piece, axis: Axis) -> bool:
    cut = plan.measures.get(piece.id)
    return piece.kind == "tapered" and cut is not None and cut.taper(axis) is not None


def _end(plan: Plan, piece: Piece, axis: Axis, sizes: Sizes, *, upper: bool) -> _End | None:
    """Return the width of a cut at its lower or upper end, or its height at its left or right; ``None``: no cut."""
    cut = plan.measures.get(piece.id)
    taper = cut.taper(axis) if cut is not None and piece.kind == "tapered" else None
    if taper is not None:
        found = taper[1 if upper else 0]
        return found.mm, dimension_text(found.text)
    if axis == "x" and is_cut_across(piece) and piece.kind == "straight":
        return piece.width, dimension_text(sizes(piece)[0])
    return None


def _row_chain(plan: Plan, row: CourseRow, sizes: Sizes, length: Length, joint: float, *, upper: bool) -> list[Chain]:
    """Return the first and last cuts of a course, at its lower or upper end, and what lies between them."""
    pieces = row.pieces
    if len(pieces) < 2:
        return []
    first, last = (_end(plan, p, "x", sizes, upper=upper) for p in (pieces[0], pieces[-1]))
    if first is None and last is None:
        return []
    begin, end = min(p[0] for p in pieces[0].outer), max(p[0] for p in pieces[-1].outer)
    stations, texts = list[float](), list[tuple[str, ...]]()
    middle = list(pieces)
    if first is not None:
        begin = max(p[0] for p in pieces[0].outer)
        stations.append(begin - first[0])
        texts.append((first[1],))
        middle = middle[1:]
    stations.append(begin)
    if last is not None:
        middle = middle[:-1]
        end = min(p[0] for p in pieces[-1].outer)
    if middle and end - begin > NEAR:
        tile = max(p[0] for p in middle[0].slot) - min(p[0] for p in middle[0].slot)
        joints = len(middle) - 1 + (first is not None) + (last is not None)
        texts.append((*_repeat("whole", len(middle), joints, (tile, joint), end - begin, length), ""))
        stations.append(end)
    elif last is not None:
        stations.append(end)
        texts.append(("",))
    if last is not None:
        stations.append(end + last[0])
        texts.append((last[1],))
    return [Chain(tuple(stations), tuple(texts), f"course {row.label}")]


def _repeat(
    word: str, count: int, joints: int, module: tuple[float, float], whole: float, length: Length
) -> tuple[str, ...]:
    """Return what is written over tiles that repeat, in full and shorter; only the length where they do not.

    Args:
        word: What repeats.
        count: How many.
        joints: How many joints lie between and beside them.
        module: Tile and joint, mm.
        whole: What they take together, mm.
        length: Writes a length.
    """
    text = length(whole)
    if abs(count * module[0] + joints * module[1] - whole) > NEAR:
        return (text,)
    if joints <= 0:
        return (f"{count} {word} = {text}", text)
    # the bare length would be read as that of a tile
    return (
        f"{count} {word} + {joints} joint{'s' * (joints != 1)} = {text}",
        f"{count} {word} + joints = {text}",
        f"{count} {word}",
    )


def _height_chain(
    plan: Plan, rows: Sequence[CourseRow], sizes: Sizes, length: Length, joint: float, *, left: bool | None
) -> list[Chain]:
    """Return the heights of the first and last courses and what lies between them.

    ``left``: those that reach the left end, or the right one, and their heights there; ``None``: of all courses.
    """
    if left is not None:
        rows = _reaching(rows, left=left)
    if len(rows) < 2:
        return []
    ends = []
    for row in (rows[0], rows[-1]):
        size: _End | None = None
        if any(_tapers(plan, p, "y") for p in row.pieces):
            near = row.pieces[0 if left else -1]
            size = _end(plan, near, "y", sizes, upper=not left)
            if size is None:
                size = near.height, dimension_text(sizes(near)[1])
        elif all(is_cut_in_height(p) for p in row.pieces):
            highest = max(row.pieces, key=lambda p: p.height)
            size = highest.height, dimension_text(sizes(highest)[1])
        ends.append(size)
    first, last = ends
    stations, texts = list[float](), list[tuple[str, ...]]()
    begin = min(p[1] for piece in rows[0].pieces for p in piece.outer)
    if first is not None:
        begin = max(p[1] for piece in rows[0].pieces for p in piece.outer)
        stations.append(begin - first[0])
        texts.append((first[1],))
    stations.append(begin)
    end = max(p[1] for piece in rows[-1].pieces for p in piece.outer)
    if last is not None:
        end = min(p[1] for piece in rows[-1].pieces for p in piece.outer)
    between = list(rows[first is not None : len(rows) - (last is not None)])
    if between:
        count = between[-1].course - between[0].course + 1
        module = (between[0].high - between[0].low, joint)
        word = "course" if count == 1 else "courses"
        joints = count - 1 + (first is not None) + (last is not None)
        said = _repeat(word, count, joints, module, end - begin, length)
        texts.append((*said, "") if first or last else said)
    else:
        texts.append(("",))
    stations.append(end)
    if last is not None:
        stations.append(end + last[0])
        texts.append((last[1],))
    return [Chain(tuple(stations), tuple(texts))]
