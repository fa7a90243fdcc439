"""Tables and wrapped text: nothing sticks out, nothing gets lost."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevation.drawing.marks import Line, Text
from elevation.drawing.table import Column, lay_out, table
from elevation.drawing.text import fit, paragraph, wrap
from elevation.fonts import text_width

COLUMNS = (Column("No."), Column("Width", "end"), Column("Remark", "middle", weight="semibold"))
word = st.text(alphabet="abcWi-1/ 4", max_size=30)


def texts(marks: tuple[object, ...]) -> list[Text]:
    return [m for m in marks if isinstance(m, Text)]


@given(st.lists(st.tuples(word, word, word), min_size=1, max_size=12), st.sampled_from([None, 40.0, 60.0, 120.0]))
def test_cells_stay_in_their_columns(rows: list[tuple[str, str, str]], width: float | None) -> None:
    laid = lay_out(COLUMNS, rows, width=width)
    assert width is None or laid.width <= width + 1e-6
    edges = [10.0]
    for w in laid.widths:
        edges.append(edges[-1] + w)
    for mark in texts(laid.draw(10, 200)):
        long = text_width(mark.text, mark.height, mark.weight)
        left = mark.at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor] * long
        if len(mark.text) > 1:
            assert any(a <= left + 1e-6 and left + long <= b + 1e-6 for a, b in pairwise(edges))
        assert 200 - laid.height <= mark.at[1] <= 200 - mark.height


@given(st.lists(st.tuples(word, word, word), min_size=1, max_size=25), st.floats(35, 90), st.floats(35, 90))
def test_parts_fit_and_add_up(rows: list[tuple[str, str, str]], first: float, following: float) -> None:
    laid = lay_out(COLUMNS, rows, width=150)
    parts = laid.split(first, following)
    assert [row for part in parts for row in part.rows] == list(laid.rows)
    assert all(part.widths == laid.widths and part.header == laid.header for part in parts)
    heights = [part.height for part in parts]
    assert all(h <= max(first, following) + 1e-6 for h in heights)
    assert all(h <= following + 1e-6 for h in heights[1:])


def test_a_first_page_too_short_is_left_alone() -> None:
    laid = lay_out((Column("A"),), [("x",)])
    assert [part.height for part in laid.split(3, 100)] == [laid.height]
    with pytest.raises(ValueError, match="does not fit"):
        laid.split(3)


def test_height_told_is_the_lowest_line() -> None:
    marks, height = table(COLUMNS, [("B1-1", "5  15/16", "a long remark that wraps " * 3)], 10, 200, width=70)
    assert min(m.points[0][1] for m in marks if isinstance(m, Line)) == pytest.approx(200 - height)


def test_squeezed_columns_use_the_room() -> None:
    rows = [("B1-1", "5  15/16", "a long remark that wraps " * 4)]
    laid = lay_out(COLUMNS, rows, width=90)
    assert laid.width == pytest.approx(90, abs=0.01)
    free = lay_out(COLUMNS, rows)
    assert laid.widths[:2] == free.widths[:2], "only the wide column gives way"


def test_rows_of_the_wrong_length() -> None:
    with pytest.raises(ValueError, match="2 cells"):
        lay_out(COLUMNS, [("a", "b")])


@given(st.text(alphabet="abc W/41 ", max_size=120), st.floats(6, 60))
def test_wrapped_lines_fit_and_lose_nothing(text: str, width: float) -> None:
    lines = wrap(text, width, 2.5)
    assert all(text_width(line, 2.5) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_fractions_stay_together_and_line_ends_stay() -> None:
    assert wrap("width is 6  7/16 in\nnext", 15, 2.5) == ("width is", "6  7/16 in", "next")
    assert wrap("", 10, 2.5) == ("",)


@given(st.text(max_size=60), st.floats(0, 60))
def test_shortened_text_fits(text: str, width: float) -> None:
    short = fit(text, width, 2.5)
    assert text_width(short, 2.5) <= width or short == ""


def test_paragraph_starts_at_its_top() -> None:
    marks, height = paragraph("one two three four", 5, 100, 12, 2.5)
    assert marks[0].at == (5, 97.5)
    assert marks[-1].at[1] > 100 - height
    assert len(marks) > 1
