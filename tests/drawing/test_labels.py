"""Numbers: inside where they fit, and never over one another."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from elevation.drawing.labels import Label, Request, place_labels, same_way
from elevation.drawing.marks import Line, Text
from elevation.drawing.pens import NUMBER, SMALL
from elevation.fonts import text_width
from elevation.geom import box_ring

PAPER = (0.0, 0.0, 400.0, 270.0)


def ink(label: Label) -> shapely.Polygon:
    wide, tall = text_width(label.text, label.height, "semibold"), label.height
    if label.turned:
        wide, tall = tall, wide
    x, y = label.middle
    return shapely.box(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)


def check(labels: tuple[Label, ...], obstacles: list[tuple[float, float, float, float]]) -> None:
    inks = [ink(label) for label in labels]
    blocked = [shapely.box(*o) for o in obstacles]
    paper = shapely.box(*PAPER)
    leaders = [shapely.LineString(label.leader) if label.leader else None for label in labels]
    for i, one in enumerate(inks):
        assert paper.covers(one)
        assert not any(one.intersects(b) for b in blocked)
        for j, two in enumerate(inks):
            assert i == j or not one.intersects(two)
        leader = leaders[i]
        if leader is None:
            continue
        assert not any(leader.crosses(b) for b in blocked)
        assert not any(leader.intersects(two) for two in inks)
        assert not any(leader.intersects(other) for j, other in enumerate(leaders) if other is not None and i != j)


box = st.tuples(st.integers(5, 350), st.integers(5, 220), st.integers(1, 40), st.integers(1, 40))


@settings(max_examples=25, deadline=None)
@given(st.lists(box, min_size=1, max_size=40), st.lists(box, max_size=10))
def test_nothing_meets(pieces: list[tuple[int, int, int, int]], obstacles: list[tuple[int, int, int, int]]) -> None:
    requests = [Request(f"B{k}-{k * 7 % 31}", (box_ring(*p),)) for k, p in enumerate(pieces)]
    blocked = [(float(x), float(y), float(x + w), float(y + h)) for x, y, w, h in obstacles]
    placed = place_labels(requests, blocked, PAPER)
    assert len(placed.labels) + len(placed.left_out) == len(requests)
    check(placed.labels, blocked)
    assert placed == place_labels(requests, blocked, PAPER)


# no shrinking: a smaller crowd explains nothing and takes minutes to find
@settings(max_examples=20, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(st.lists(st.tuples(st.integers(180, 215), st.integers(120, 150)), min_size=8, max_size=30, unique=True))
def test_leaders_of_a_crowd_never_cross(places: list[tuple[int, int]]) -> None:
    requests = [Request(f"B{k}-1", (box_ring(x, y, 1, 1),), outside=True) for k, (x, y) in enumerate(places)]
    placed = place_labels(requests, [], PAPER, crossable=[(180, 120, 216, 151)])
    check(placed.labels, [])
    assert len(placed.labels) >= 5, "most find a place"


@pytest.mark.parametrize(
    ("width", "height", "size", "turned", "outside"),
    [(20, 12, 2.5, False, False), (5, 20, 2.5, True, False), (10, 3.8, 1.8, False, False), (2, 20, 2.5, False, True)],
)
def test_inside_then_turned_then_small_then_out(
    width: float, height: float, size: float, turned: bool, outside: bool
) -> None:
    piece = box_ring(100, 100, width, height)
    (label,) = place_labels([Request("B12-4", (piece,))], [], PAPER, crossable=[(100, 100, 100 + width, 120)]).labels
    assert (label.height, label.turned, label.leader is not None) == (size, turned, outside)
    assert shapely.Polygon(piece).covers(ink(label)) != outside


def test_number_of_an_l_stands_in_the_l() -> None:
    ring = ((0.0, 0.0), (60.0, 0.0), (60.0, 5.0), (6.0, 5.0), (6.0, 60.0), (0.0, 60.0))
    moved = tuple((x + 50, y + 50) for x, y in ring)
    (label,) = place_labels([Request("B1-3", (moved,))], [], PAPER).labels
    assert label.leader is None
    assert shapely.Polygon(moved).covers(ink(label))


def test_a_hole_is_not_written_in() -> None:
    outer, hole = box_ring(50, 50, 30, 30), box_ring(55, 55, 20, 20)
    (label,) = place_labels([Request("B1-3", (outer, hole[::-1]))], [], PAPER).labels
    assert not ink(label).intersects(shapely.Polygon(hole))


def test_a_wall_of_slivers_finds_room_for_all() -> None:
    left = [Request(f"B{k}-1", (box_ring(100, 40 + 6 * k, 1, 5.8),), ((-1.0, 0.0),)) for k in range(30)]
    right = [Request(f"B{k}-9", (box_ring(299, 40 + 6 * k, 1, 5.8),), ((1.0, 0.0),)) for k in range(30)]
    inner = [Request(f"B{k}-{j}", (box_ring(102 + 12 * j, 40 + 6 * k, 11, 5.8),)) for k in range(30) for j in range(8)]
    placed = place_labels([*left, *inner, *right], [], PAPER, crossable=[(100, 40, 300, 220)])
    assert placed.left_out == ()
    check(placed.labels, [])
    for label in placed.labels[:30]:
        assert label.box[2] <= 100


def test_no_room_is_told() -> None:
    placed = place_labels([Request("B1-1", (box_ring(10, 10, 1, 1),))], [(0, 0, 400, 270)], PAPER)
    assert (placed.labels, placed.left_out) == ((), (0,))


def test_marks_of_a_leader() -> None:
    (label,) = place_labels([Request("B1-1", (box_ring(100, 100, 50, 50),), outside=True)], [], PAPER).labels
    marks = label.marks()
    assert next(m for m in marks if isinstance(m, Line)).points == label.leader
    (text,) = [m for m in marks if isinstance(m, Text)]
    assert (text.text, text.anchor, text.weight) == ("B1-1", "middle", "semibold")


def test_cuts_of_a_column_carry_their_numbers_alike():
    # at 2.5 mm "B9-1" takes 8.2 mm of a cut 9.3 mm wide and "B10-1" 10 mm: level at the full height only the first fits
    column = [Request(f"B{n}-1", (box_ring(0, 5 * n, 9.3, 4.5),)) for n in range(8, 12)]
    alone = [r.text for r in column if same_way([r]) == (NUMBER, False)]
    assert alone == ["B8-1", "B9-1"]
    way = same_way(column)
    assert way == (SMALL, False)
    placed = place_labels([replace(r, like=way) for r in column], (), (-50, -50, 50, 80))
    assert [(label.height, label.turned) for label in placed.labels] == [way] * 4
    # none fits the same way in a cut of a joint's width: each finds its own place
    assert same_way([*column, Request("B12-1", (box_ring(0, 60, 9.3, 1),))]) is None
