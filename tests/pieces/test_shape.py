"""Kinds and factory edges, on shapes a setter would name at a glance."""

from __future__ import annotations

import pytest
from shapely.geometry import Point, box

from elevation.geom import box_ring, circle_ring, polygon, rings_of
from elevation.pieces.piece import Circle
from elevation.pieces.shape import factory_edges, kind_of

SLOT = box_ring(0, 0, 300, 150)


def kind(area, circles=()):
    outer, holes = rings_of(area)
    return kind_of(outer, holes, SLOT, circles)


def edges(area):
    return factory_edges(rings_of(area)[0], SLOT)


def test_whole_within_the_tolerance():
    assert kind(box(0, 0, 300, 150)) == "whole"
    assert kind(box(0.03, 0, 300, 150)) == "whole"
    assert kind(box(0.06, 0, 300, 150)) == "straight"


def test_a_small_notch_is_not_whole():
    assert kind(box(0, 0, 300, 150).difference(box(0, 0, 1, 1))) == "L"


@pytest.mark.parametrize(
    ("take", "expected", "kept"),
    [
        (box(200, 0, 300, 150), "straight", ("left", "bottom", "top")),
        (box(0, 0, 300, 40), "straight", ("left", "right", "top")),
        (box(200, 100, 300, 150), "L", ("left", "right", "bottom", "top")),
        (box(100, 100, 200, 150), "notched", ("left", "right", "bottom", "top")),
        (box(0, 60, 40, 90), "notched", ("left", "right", "bottom", "top")),
        (box(0, 0, 30, 30).union(box(270, 0, 300, 30)), "other", ("left", "right", "bottom", "top")),
        (box(100, 50, 150, 90), "holed", ("left", "right", "bottom", "top")),
        (polygon(((0, 0), (300, 0), (300, 20), (0, 5))), "tapered", ("left", "right", "top")),
        (polygon(((0, 0), (20, 0), (35, 150), (0, 150))), "tapered", ("right", "bottom", "top")),
    ],
)  # fmt: skip
def test_kinds_and_edges(take, expected, kept):
    area = box(0, 0, 300, 150).difference(take)
    assert kind(area) == expected
    assert edges(area) == kept


def test_a_hole_over_the_edge_is_curved_and_knows_its_circle():
    circle = Circle((0.0, 75.0), 30.0, "valve")
    area = box(0, 0, 300, 150).difference(polygon(circle_ring(circle.centre, circle.radius)))
    assert kind(area, (circle,)) == "curved"


def test_a_hole_inside_is_holed():
    assert kind(box(0, 0, 300, 150).difference(Point(150, 75).buffer(30))) == "holed"
