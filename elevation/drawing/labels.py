"""Numbers of pieces: inside where they fit, else outside on a leader, never over one another.

Inside, a number is tried level and turned at the usual height, then smaller. Outside, places are tried from near to
far; the first whose box and leader cross no box, label or leader that stands already is taken. What finds no place is
handed back, so that the sheet can list it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from elevation import geom
from elevation.drawing.marks import Area, Circle, Line, Mark, Point, Ring, Text, Weight
from elevation.drawing.pens import NUMBER, SMALL
from elevation.fonts import text_width

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y, mm of paper."""

PAD = 0.4
"""Free space round a number, mm."""
EDGE = 0.5
"""Least distance of that space from the middle of an outline, mm."""
EVERY_WAY: tuple[Point, ...] = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))

_CHUNK = 128
_REACH = (1.5, 2.5, 4.0, 6.0, 8.0, 11.0, 14.0, 18.0, 22.0, 27.0, 33.0, 40.0, 48.0, 57.0, 67.0, 80.0, 95.0, 112.0)
_TRIED = np.array([(reach, 2.0 * k) for reach in _REACH for k in range(-15, 16) if abs(2.0 * k) <= reach])
"""How far out, and how far aside, the end of a leader is tried, mm."""


@dataclass(frozen=True, slots=True)
class Request:
    """A piece that wants its number shown.

    Attributes:
        text: The number.
        rings: Outer ring and holes of the piece, mm of paper.
        ways: Preferred directions for a leader, best first; each a unit vector.
        outside: True when the number must not stand inside, whatever the room.
        like: Height of capitals and whether it is turned, to be written like its neighbours if it may stand inside so.
    """

    text: str
    rings: tuple[Ring, ...]
    ways: tuple[Point, ...] = EVERY_WAY
    outside: bool = False
    like: tuple[float, bool] | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """A number in its place.

    Attributes:
        text: The number.
        middle: Middle of its box.
        height: Height of capitals, mm.
        turned: True when it reads from the right.
        box: What it covers, with free space round it.
        leader: From the piece to the box; ``None`` inside.
    """

    text: str
    middle: Point
    height: float
    turned: bool
    box: Box
    leader: tuple[Point, Point] | None = None

    def marks(self, weight: Weight = "semibold") -> tuple[Mark, ...]:
        """Return the number on cleared ground, with its leader and the leader's dot."""
        x, y = self.middle
        low = self.height / 2
        at = (x + low, y) if self.turned else (x, y - low)
        x1, y1, x2, y2 = self.box
        drawn: list[Mark] = [Area((((x1, y1), (x2, y1), (x2, y2), (x1, y2)),), fill="paper")]
        if self.leader is not None:
            drawn.insert(0, Line(self.leader, "fine"))
            drawn.insert(1, Circle(self.leader[0], 0.4, fill="ink"))
        drawn.append(Text(at, self.text, self.height, "middle", weight, 90.0 if self.turned else 0.0))
        return tuple(drawn)


@dataclass(frozen=True, slots=True)
class Placement:
    """Labels in the order of the requests that found a place, and the indices of those that found none."""

    labels: tuple[Label, ...]
    left_out: tuple[int, ...]


def place_labels(
    requests: Sequence[Request],
    obstacles: Sequence[Box],
    bounds: Box,
    *,
    crossable: Sequence[Box] = (),
    height: float = NUMBER,
    small: float = SMALL,
    weight: Weight = "semibold",
) -> Placement:
    """Place numbers so that no label or leader crosses another label, leader or obstacle.

    Args:
        requests: The pieces; those at the front of the list are placed first, inside ones before outside ones.
        obstacles: Boxes that neither label nor leader may touch: dimension texts, titles, tables.
        bounds: Where labels may stand.
        crossable: Boxes that labels stay off but leaders may cross: other pieces, the wall as a whole.
        height: Height of capitals where there is room.
        small: Height in pieces too small for that.
        weight: Weight of the numbers.
    """
    found: dict[int, Label] = {}
    taken = _Taken(obstacles, crossable, bounds)
    for i, request in enumerate(requests):
        if not request.outside and (label := _inside(request, taken, height, small, weight)) is not None:
            found[i] = label
            taken.add(label)
    for i, request in enumerate(requests):
        if i not in found and (label := _beside(request, taken, height, weight)) is not None:
            found[i] = label
            taken.add(label)
    left_out = tuple(i for i in range(len(requests)) if i not in found)
    return Placement(tuple(found[i] for i in sorted(found)), left_out)


class _Taken:
    """What stands on the paper so far, as arrays that double when full."""

    def __init__(self, obstacles: Sequence[Box], crossable: Sequence[Box], bounds: Box) -> None:
        self.boxes = _Rows(obstacles)
        self.leaders = _Rows(())
        # a little more, so that a label's cleared ground does not bite into outlines
        self.crossable = np.asarray(crossable, dtype=float).reshape(-1, 4) + np.array([-EDGE, -EDGE, EDGE, EDGE])
        self.bounds = bounds

    def add(self, label: Label) -> None:
        self.boxes.add(label.box)
        if label.leader is not None:
            (x1, y1), (x2, y2) = label.leader
            self.leaders.add((x1, y1, x2, y2))

    def free_boxes(self, boxes: np.ndarray, *, inside: bool) -> np.ndarray:
        """Tell which boxes are free of everything; inside a piece the crossable boxes do not count."""
        x1, y1, x2, y2 = self.bounds
        free: np.ndarray = (boxes[:, 0] >= x1) & (boxes[:, 1] >= y1) & (boxes[:, 2] <= x2) & (boxes[:, 3] <= y2)
        free = free & ~_overlap(boxes, self.boxes.rows).any(axis=1)
        if not inside:
            free = free & ~_overlap(boxes, self.crossable).any(axis=1)
        clear: np.ndarray = free & ~_crosses(self.leaders.rows, boxes).any(axis=0)
        return clear

    def free_leaders(self, leaders: np.ndarray) -> np.ndarray:
        """Tell which leaders cross no box and no leader."""
        hit = _crosses(leaders, self.boxes.rows).any(axis=1) | _meet(leaders, self.leaders.rows).any(axis=1)
        clear: np.ndarray = np.logical_not(hit)
        return clear


class _Rows:
    """An array of rows of four that grows."""

    def __init__(self, rows: Sequence[Box]) -> None:
        self.count = len(rows)
        self.space = np.empty((max(64, 2 * self.count), 4))
        if self.count:
            self.space[: self.count] = rows

    @property
    def rows(self) -> np.ndarray:
        return self.space[: self.count]

    def add(self, row: Box) -> None:
        if self.count == len(self.space):
            self.space = np.vstack([self.space, np.empty_like(self.space)])
        self.space[self.count] = row
        self.count += 1


def _inside(request: Request, taken: _Taken, height: float, small: float, weight: Weight) -> Label | None:
    sizes = tuple(dict.fromkeys((height, small)))
    return _in_the_middle(request, taken, sizes, weight) or _somewhere_inside(request, taken, sizes, weight)


def _in_the_middle(request: Request, taken: _Taken, sizes: Sequence[float], weight: Weight) -> Label | None:
    """Return the label in the middle of a rectangle, where most of them stand, if it is free there."""
    ring = request.rings[0]
    x1, y1, x2, y2 = min(x for x, _ in ring), min(y for _, y in ring), max(x for x, _ in ring), max(y for _, y in ring)
    if len(request.rings) > 1 or len(ring) != 4 or any(x not in (x1, x2) or y not in (y1, y2) for x, y in ring):
        return None
    for size, turned, wide, tall in _ways_to_write(request, sizes, weight):
        if wide > x2 - x1 - 2 * EDGE or tall > y2 - y1 - 2 * EDGE:
            continue
        boxes = _boxes(np.array([((x1 + x2) / 2, (y1 + y2) / 2)]), wide, tall)
        if taken.free_boxes(boxes, inside=True)[0]:
            return Label(request.text, ((x1 + x2) / 2, (y1 + y2) / 2), size, turned, _box(boxes[0]))
        return None
    return None


def _ways_to_write(
    request: Request, sizes: Sequence[float], weight: Weight
) -> Iterator[tuple[float, bool, float, float]]:
    """Yield height of capitals, whether it is turned, and width and height of the box it needs; the best first."""
    ways = [(size, turned) for size in sizes for turned in (False, True)]
    if request.like is not None:
        ways.insert(0, request.like)
    for size, turned in dict.fromkeys(ways):
        length, tall = text_width(request.text, size, weight) + 2 * PAD, size + 2 * PAD
        yield (size, turned, tall, length) if turned else (size, turned, length, tall)


def same_way(requests: Sequence[Request], *, weight: Weight = "semibold") -> tuple[float, bool] | None:
    """Return the best height and turn in which every number fits the bounds of its own piece; ``None``: there is none.

    Pieces that an eye takes for a row of equals carry their numbers alike: one that is larger than the next would look
    like a different cut.
    """
    for size, turned in ((size, turned) for size in (NUMBER, SMALL) for turned in (False, True)):
        for request in requests:
            xs, ys = [x for x, _ in request.rings[0]], [y for _, y in request.rings[0]]
            room = max(xs) - min(xs) - 2 * EDGE, max(ys) - min(ys) - 2 * EDGE
            length, tall = text_width(request.text, size, weight) + 2 * PAD, size + 2 * PAD
            wide, high = (tall, length) if turned else (length, tall)
            if wide > room[0] or high > room[1]:
                break
        else:
            return size, turned
    return None


def _somewhere_inside(request: Request, taken: _Taken, sizes: Sequence[float], weight: Weight) -> Label | None:
    shape = shapely.buffer(shapely.Polygon(request.rings[0], request.rings[1:]), -EDGE, join_style="mitre")
    if shape.is_empty:
        return None
    shapely.prepare(shape)
    x1, y1, x2, y2 = shape.bounds
    for size, turned, wide, tall in _ways_to_write(request, sizes, weight):
        if wide > x2 - x1 or tall > y2 - y1:
            continue
        middles = _middles(shape, wide, tall)
        boxes = _boxes(middles, wide, tall)
        good: np.ndarray = np.asarray(shapely.contains(shape, shapely.box(*boxes.T)))
        good[good] = taken.free_boxes(boxes[good], inside=True)
        if good.any():
            k = int(np.argmax(good))
            middle = (float(middles[k, 0]), float(middles[k, 1]))
            return Label(request.text, middle, size, turned, _box(boxes[k]))
    return None


def _middles(shape: geom.Region, wide: float, tall: float) -> np.ndarray:
    """Return where the middle of a box may be tried, the nearest to the centre of gravity first."""
    x1, y1, x2, y2 = shape.bounds
    centre = np.array([shape.centroid.x, shape.centroid.y])
    xs = np.linspace(x1 + wide / 2, x2 - wide / 2, 9)
    ys = np.linspace(y1 + tall / 2, y2 - tall / 2, 9)
    grid = np.vstack([centre, np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)])
    away = np.hypot(*(grid - centre).T).round(6)
    return grid[np.argsort(away, kind="stable")]


def _beside(request: Request, taken: _Taken, height: float, weight: Weight) -> Label | None:
    anchor = shapely.Polygon(request.rings[0], request.rings[1:]).representative_point()
    start = np.array([anchor.x, anchor.y])
    size = (text_width(request.text, height, weight) + 2 * PAD, height + 2 * PAD)
    boxes, ends, turned = _places(tuple(request.ways), size)
    boxes, ends = boxes + np.concatenate([start, start]), ends + start
    leaders = np.hstack([np.broadcast_to(start, ends.shape), ends])
    for first in range(0, len(boxes), _CHUNK):
        part = slice(first, first + _CHUNK)
        good = taken.free_boxes(boxes[part], inside=False)
        good[good] = taken.free_leaders(leaders[part][good])
        if good.any():
            k = first + int(np.argmax(good))
            box = _box(boxes[k])
            middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            leader = ((float(start[0]), float(start[1])), (float(ends[k, 0]), float(ends[k, 1])))
            return Label(request.text, middle, height, bool(turned[k]), box, leader)
    return None


@lru_cache(maxsize=64)
def _places(ways: tuple[Point, ...], size: tuple[float, float]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return boxes, ends of their leaders, and whether they are turned, as seen from the piece; cheapest first."""
    parts = []
    for turned in (False, True):
        wide, tall = size[::-1] if turned else size
        for rank, (dx, dy) in enumerate(ways):
            # the leader ends on the side of the box that faces the piece
            half = wide / 2 if abs(dx) >= abs(dy) else tall / 2
            ends = _TRIED[:, :1] * (dx, dy) + _TRIED[:, 1:] * (-dy, dx)
            cost = _TRIED[:, 0] + 0.7 * np.abs(_TRIED[:, 1]) + 8.0 * rank + 3.0 * turned
            size_and_turn = np.broadcast_to((wide / 2, tall / 2, turned), (len(_TRIED), 3))
            parts.append(np.column_stack([cost, ends + np.array((dx, dy)) * half, ends, size_and_turn]))
    found = np.vstack(parts)
    found = found[np.argsort(found[:, 0], kind="stable")]
    half_size = found[:, 5:7]
    return np.hstack([found[:, 1:3] - half_size, found[:, 1:3] + half_size]), found[:, 3:5], found[:, 7] > 0


def _boxes(middles: np.ndarray, wide: float, tall: float) -> np.ndarray:
    half = np.array([wide / 2, tall / 2])
    return np.hstack([middles - half, middles + half])


def _box(row: np.ndarray) -> Box:
    return float(row[0]), float(row[1]), float(row[2]), float(row[3])


def _overlap(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Tell which boxes of ``a`` share area with which of ``b``."""
    beside = (a[:, None, 0] < b[None, :, 2]) & (b[None, :, 0] < a[:, None, 2])
    shared: np.ndarray = beside & (a[:, None, 1] < b[None, :, 3]) & (b[None, :, 1] < a[:, None, 3])
    return shared


def _crosses(lines: np.ndarray, boxes: np.ndarray) -> np.ndarray:
    """Tell which segments touch the inside of which boxes: no axis of either keeps them apart."""
    x1, y1, x2, y2 = (lines[:, None, k] for k in range(4))
    left, low, right, high = (boxes[None, :, k] for k in range(4))
    apart = (np.maximum(x1, x2) <= left) | (np.minimum(x1, x2) >= right)
    apart |= (np.maximum(y1, y2) <= low) | (np.minimum(y1, y2) >= high)
    across = (x2 - x1) * ((low + high) / 2 - y1) - (y2 - y1) * ((left + right) / 2 - x1)
    reach = np.abs(x2 - x1) * (high - low) / 2 + np.abs(y2 - y1) * (right - left) / 2
    touching: np.ndarray = np.logical_not(apart | (np.abs(across) >= reach))
    return touching


def _meet(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Tell which segments of ``a`` meet which of ``b``; touching counts."""

    def turn(px: np.ndarray, py: np.ndarray, s: tuple[np.ndarray, ...]) -> np.ndarray:
        area: np.ndarray = (s[2] - s[0]) * (py - s[1]) - (s[3] - s[1]) * (px - s[0])
        return area

    one = tuple(a[:, None, k] for k in range(4))
    two = tuple(b[None, :, k] for k in range(4))
    split_two = turn(two[0], two[1], one) * turn(two[2], two[3], one) <= 0
    split_one = turn(one[0], one[1], two) * turn(one[2], one[3], two) <= 0
    near_x = np.maximum(one[0], one[2]) >= np.minimum(two[0], two[2])
    near_x &= np.maximum(two[0], two[2]) >= np.minimum(one[0], one[2])
    near_y = np.maximum(one[1], one[3]) >= np.minimum(two[1], two[3])
    near_y &= np.maximum(two[1], two[3]) >= np.minimum(one[1], one[3])
    meeting: np.ndarray = split_one & split_two & near_x & near_y
    return meeting
