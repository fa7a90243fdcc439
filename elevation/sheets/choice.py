"""The best layouts drawn small, side by side, for the homeowner to tick one and sign."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from elevation.drawing.marks import Area, Group, Line, Mark, Segments, Text
from elevation.drawing.pens import HEADING, NUMBER
from elevation.drawing.text import PITCH, wrap
from elevation.drawing.view import View, scale_text, scales
from elevation.geom import rings_of
from elevation.layout import Candidate, LaidFace, told_apart
from elevation.layout.choice import Place
from elevation.layout.reasons import say
from elevation.layout.regions import cut_out_area
from elevation.pieces.preview import Preview, preview
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet

_MOST_COLUMNS = 3
_LEAST_COLUMN = 62.0  # mm of paper
_GAP = 8.0  # between columns, and between walls
_TICK = 6.0  # side of the box to tick
_SIGN = 22.0  # height kept for the line to sign on
_DRAWN = 0.3  # least share of the page that is drawing, before a page takes fewer columns
_CHOSEN = "I choose the layout ticked above. Sizes may change when the walls are measured again."
_INTRO = "Choose one layout. Pieces shown grey are cut. The set is drawn for choice {n}."


@dataclass(frozen=True, slots=True)
class _Column:
    """A candidate with its text and what is drawn of it."""

    candidate: Candidate
    lines: tuple[str, ...]
    walls: tuple[LaidFace, ...]
    tiles: tuple[Preview, ...]


class ChoiceSheet(Sheet):
    """The layouts that ``elevation choose`` offers, side by side; none where the job leaves nothing to choose."""

    kind = "choice"
    editions = frozenset[Edition](("homeowner", "installer"))

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield as many pages as the candidates take."""
        choice = plan.choice
        if choice is None or len(choice.candidates) < 2:
            return
        most = max(1, min(_MOST_COLUMNS, int((body.width + _GAP) // (_LEAST_COLUMN + _GAP))))
        apart = told_apart(choice.candidates)
        for count in range(most, 0, -1):
            width = (body.width - _GAP * (count - 1)) / count
            columns = [_column(c, more, width) for c, more in zip(choice.candidates, apart, strict=True)]
            text = max(len(c.lines) for c in columns) * PITCH * NUMBER
            height = body.height - _SIGN - 2 * HEADING - _TICK - text - 4 * _GAP
            if height >= _DRAWN * body.height:
                break
        # so long a text on so small a page: the drawing keeps its share, the text loses its end
        height = max(height, _DRAWN * body.height)
        ratio, in_row = _arranged(columns, width, height, body)
        for page, first in enumerate(range(0, len(columns), count), 1):
            shown = columns[first : first + count]
            marks: list[Mark] = [Text((body.x, body.top - HEADING), "Which layout?", HEADING, "start", "semibold")]
            at = (body.x, body.top - 2 * HEADING - 2.0)
            marks.append(Text(at, _INTRO.format(n=choice.candidates[0].number), NUMBER))
            for n, column in enumerate(shown):
                x = body.x + n * (width + _GAP)
                marks.extend(
                    _draw(
                        column,
                        x,
                        body.top - 2 * HEADING - _GAP,
                        View(ratio, (0.0, 0.0), (0.0, 0.0), body.unit),
                        in_row,
                        body,
                    )
                )
            marks.extend(_sign(body))
            numbers = ", ".join(str(c.candidate.number) for c in shown)
            yield Content(
                id=str(page), title="Choice of layout", scale_text=scale_text(ratio, body.unit),
                scale_ratio=float(ratio), marks=tuple(marks),
                description=f"Layouts {numbers} side by side, each with a box to tick, and a line to sign on.",
            )  # fmt: skip


def _column(candidate: Candidate, apart: Mapping[Place, tuple[str, ...]], width: float) -> _Column:
    walls = tuple(f for f in candidate.laid if not f.face.of and f.face.id in candidate.open)
    paragraphs = []
    for face in walls:
        place = face.face.id, face.zones[0].place.id
        words = (*candidate.zones[place].words, *apart.get(place, ()))
        paragraphs.append(f"{face.face.title}: {'; '.join(words)}.")
    said = [
        say(t, candidate.terms, candidate.job) for t in candidate.job.room.prefer if t not in ("tiles", "narrowest")
    ]
    said[0] = said[0][:1].upper() + said[0][1:]
    paragraphs.append("; ".join(said) + ".")
    lines = [line for p in paragraphs for line in wrap(p, width, NUMBER)]
    return _Column(candidate, tuple(lines), walls, tuple(preview(w) for w in walls))


def _arranged(columns: Sequence[_Column], width: float, height: float, body: Body) -> tuple[int, bool]:
    """Return the largest standard scale at which the walls of every candidate fit, and whether they stand in a row."""
    listed = scales(body.unit)
    for ratio in listed:
        for in_row in (True, False):
            if all(_fits(c.walls, ratio, in_row, width, height) for c in columns):
                return ratio, in_row
    return listed[-1], False


def _fits(walls: Sequence[LaidFace], ratio: int, in_row: bool, width: float, height: float) -> bool:
    wide = [(f.face.bounds[2] - f.face.bounds[0]) / ratio for f in walls]
    tall = [(f.face.bounds[3] - f.face.bounds[1]) / ratio for f in walls]
    gaps = (len(walls) - 1) * _GAP / 2
    if in_row:
        return sum(wide) + gaps <= width and max(tall) <= height
    return max(wide) <= width and sum(tall) + gaps <= height


def _draw(column: _Column, x: float, top: float, scale: View, in_row: bool, body: Body) -> Iterator[Mark]:
    """Yield the marks of a column: box and heading, walls, words."""
    y = top - _TICK
    yield Area((((x, y), (x + _TICK, y), (x + _TICK, y + _TICK), (x, y + _TICK)),), "feature", "paper")
    heading = f"Choice {column.candidate.number}"
    yield Text((x + _TICK + 2.5, y + (_TICK - HEADING) / 2), heading, HEADING, "start", "semibold")
    y -= _GAP / 2
    left, foot = x, y
    highest = max(scale.length(f.face.bounds[3] - f.face.bounds[1]) for f in column.walls)
    for face, tiles in zip(column.walls, column.tiles, strict=True):
        x0, y0, x1, y1 = face.face.bounds
        wide, tall = scale.length(x1 - x0), scale.length(y1 - y0)
        # in a row they stand on one line
        foot = y - (highest if in_row else tall)
        yield _wall(tiles, face, View(scale.ratio, (x0, y0), (left, foot), body.unit))
        if in_row:
            left += wide + _GAP / 2
        else:
            y -= tall + _GAP / 2
    y = foot - _GAP / 2
    lowest = body.y + _SIGN
    for n, line in enumerate(column.lines):
        base = y - NUMBER - n * PITCH * NUMBER
        if base < lowest:
            break
        yield Text((x, base), line, NUMBER)


def _wall(tiles: Preview, face: LaidFace, view: View) -> Group:
    """Return a wall drawn small: outline, tiles, openings."""
    marks: list[Mark] = [Area((view.ring(face.face.built),), None, "paper")]
    cut = tuple(view.ring(rings[0]) for rings in tiles.cut)
    if cut:
        marks.append(Area(cut, None, "pale"))
    lines: list[tuple[float, float, float, float]] = []
    for ring in (*tiles.whole, *(ring for rings in tiles.cut for ring in rings)):
        points = view.ring(ring)
        lines.extend((a[0], a[1], b[0], b[1]) for a, b in zip(points, (*points[1:], points[0]), strict=True))
    marks.append(Segments(tuple(lines), "hatch"))
    for opening in face.face.cutouts:
        area = cut_out_area(opening, face.edges)
        marks.append(Area((view.ring(rings_of(area)[0]),), "fine", "paper"))
    marks.append(Area((view.ring(face.face.built),), "feature"))
    return Group(tuple(marks), title=face.face.title, classes="wall")


def _sign(body: Body) -> Iterator[Mark]:
    """Yield the line to sign on."""
    y = body.y + _SIGN / 3
    yield Text((body.x, y + _SIGN / 3), _CHOSEN, NUMBER)
    half = body.width / 2
    for x, word, length in ((body.x, "Signature", half * 1.2), (body.x + half * 1.3, "Date", half * 0.7)):
        yield Text((x, y - NUMBER - 1.0), word, NUMBER)
        yield Line(((x, y), (x + length - 4.0, y)), "fine")
