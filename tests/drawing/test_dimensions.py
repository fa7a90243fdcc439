"""Strings of dimensions: on all sides, texts apart, depth told truly."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from elevation.drawing.dimensions import (
    INCH_STYLE,
    METRIC_STYLE,
    Dimensions,
    Side,
    Strand,
    chain,
    dimension_text,
    running,
    spread,
    stack,
)
from elevation.drawing.marks import Line, Mark, Point, Segments, Text, walk
from elevation.fonts import text_width

SIDES: list[Side] = ["left", "right", "top", "bottom"]
stations = st.lists(st.integers(0, 400), min_size=2, max_size=12, unique=True).map(sorted)


def points_on(side: Side, at: list[int]) -> list[Point]:
    return [(float(s), 50.0) if side in ("top", "bottom") else (50.0, float(s)) for s in at]


def ink(mark: Text) -> shapely.Polygon:
    """Return what a text covers, from its mark alone."""
    width = text_width(mark.text, mark.height)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    turn = math.radians(mark.angle)
    corners = [(left, 0.0), (left + width, 0.0), (left + width, mark.height), (left, mark.height)]
    return shapely.Polygon(
        [
            (
                mark.at[0] + x * math.cos(turn) - y * math.sin(turn),
                mark.at[1] + x * math.sin(turn) + y * math.cos(turn),
            )
            for x, y in corners
        ]
    )


def texts_of(drawn: Dimensions) -> list[Text]:
    return [m for m in walk(drawn.marks) if isinstance(m, Text)]


def reach(marks: tuple[Mark, ...], side: Side) -> float:
    """Return how far the marks stand off 50, the outline of these tests."""
    found: list[Point] = []
    for mark in walk(marks):
        if isinstance(mark, Line):
            found += mark.points
        elif isinstance(mark, Segments):
            found += [p for a, b, c, d in mark.segments for p in ((a, b), (c, d))]
        elif isinstance(mark, Text):
            found += ink(mark).exterior.coords
    k = 1 if side in ("top", "bottom") else 0
    away = [p[k] - 50 if side in ("top", "right") else 50 - p[k] for p in found]
    return max(away)


def apart(drawn: Dimensions) -> None:
    shapes = [ink(t) for t in texts_of(drawn)]
    for i, one in enumerate(shapes):
        for two in shapes[i + 1 :]:
            assert one.intersection(two).area < 1e-9
    for shape, box in zip(shapes, drawn.boxes, strict=True):
        assert shapely.box(*box).buffer(1e-6).covers(shape)


@pytest.mark.parametrize("side", SIDES)
@given(at=stations)
def test_chain_texts_never_meet(side: Side, at: list[int]) -> None:
    points = points_on(side, at)
    drawn = chain(points, [str(b - a) for a, b in pairwise(at)], side, 12)
    assert len(texts_of(drawn)) == len(at) - 1
    apart(drawn)
    assert reach(drawn.marks, side) <= drawn.depth + 1e-6


@pytest.mark.parametrize("side", SIDES)
@given(at=stations)
def test_running_texts_never_meet(side: Side, at: list[int]) -> None:
    drawn = running(points_on(side, at), [f"{v - at[0]}" for v in at], side, 12)
    apart(drawn)
    assert reach(drawn.marks, side) <= drawn.depth + 1e-6
    angles = {t.angle for t in texts_of(drawn)}
    assert angles == ({90.0} if side in ("top", "bottom") else {0.0})


@pytest.mark.parametrize("side", SIDES)
@given(at=stations)
def test_stacked_strings_never_meet(side: Side, at: list[int]) -> None:
    points = tuple(points_on(side, at))
    parts = Strand(points, tuple(str(b - a) for a, b in pairwise(at)))
    whole = Strand((points[0], points[-1]), (str(at[-1] - at[0]),))
    drawn = stack([parts, Strand(points, tuple(str(v) for v in at), 0), whole], side, style=METRIC_STYLE)
    apart(drawn)
    assert list(drawn.lines) == sorted(drawn.lines)
    assert len(drawn.lines) == 3
    assert reach(drawn.marks, side) <= drawn.depth + 1e-6


@pytest.mark.parametrize("side", SIDES)
def test_read_from_the_bottom_and_the_right(side: Side) -> None:
    drawn = chain(points_on(side, [0, 100]), ["100"], side, 12)
    (text,) = texts_of(drawn)
    middle = ink(text).centroid
    if side in ("top", "bottom"):
        line = 62.0 if side == "top" else 38.0
        assert text.angle == 0
        assert middle.x == pytest.approx(50)
        assert text.at[1] == pytest.approx(line + INCH_STYLE.lift)
    else:
        line = 62.0 if side == "right" else 38.0
        assert text.angle == 90
        assert middle.y == pytest.approx(50)
        assert middle.x < line


def test_extension_lines_leave_a_gap_and_run_past() -> None:
    drawn = chain([(0.0, 50.0), (100.0, 45.0)], ["100"], "top", 12)
    (ends,) = [m for m in drawn.marks if isinstance(m, Segments) and m.segments[0][0] == m.segments[0][2]]
    assert ends.segments == ((0.0, 51.6, 0.0, 65.2), (100.0, pytest.approx(46.6), 100.0, 65.2))


def test_bare_spans_and_wrong_counts() -> None:
    assert texts_of(chain([(0, 0), (50, 0), (90, 0)], ["", "40"], "top", 12))[0].text == "40"
    with pytest.raises(ValueError, match="takes 2 texts"):
        chain([(0, 0), (1, 0), (2, 0)], ["1"], "top", 12)
    with pytest.raises(ValueError, match="as many texts"):
        running([(0, 0), (1, 0)], ["1"], "top", 12)
    assert stack([], "top") == Dimensions((), 0.0)


def test_fractions_get_air() -> None:
    assert dimension_text("4'-6 7/16\"") == "4'-6  7/16\""
    assert dimension_text("7/16") == "7/16"
    assert dimension_text(dimension_text("6 7/16")) == "6  7/16"


@given(
    st.lists(st.tuples(st.floats(-100, 100), st.floats(0.5, 20)), min_size=1, max_size=8).map(sorted),
    st.floats(0, 3),
)
def test_spread_is_apart_in_order_and_balanced(items: list[tuple[float, float]], pad: float) -> None:
    wanted, sizes = [w for w, _ in items], [s for _, s in items]
    found = spread(wanted, sizes, pad)
    for (a, b), (one, two) in zip(pairwise(found), pairwise(sizes), strict=True):
        assert b - a >= (one + two) / 2 + pad - 1e-6
    # least squares moves nothing on the whole
    assert sum(found) == pytest.approx(sum(wanted), abs=1e-6)
