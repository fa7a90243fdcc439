"""Which cut pieces come out of which tile: the fewest tiles, with the bound that proves it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from elevation.cutting.assign import assign
from elevation.cutting.blocks import BOTTOM, LEFT, RIGHT, TOP, Cutter, Item, Sheet, Turn, places, turned
from elevation.cutting.solve import fewest
from elevation.geom import EPS
from elevation.job.models import Tile
from elevation.pieces.piece import Piece
from elevation.units import Mm

_SIDES = {"left": LEFT, "right": RIGHT, "bottom": BOTTOM, "top": TOP}
_UNITS = 1000  # whole thousandths of a mm add up exactly
_UPRIGHT: Turn = 270  # a tile that stands upright was turned a quarter counter-clockwise; this turns its piece back


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a piece lies in its tile, mm in the tile's own frame: origin lower left, x along the length.

    Attributes:
        piece: Id of the piece.
        x: Left side of its box.
        y: Lower side of its box.
        w: Extent along x.
        h: Extent along y.
        turn: How the piece as it is set must be turned to lie like that, counter-clockwise, degrees.
        half: It lies half round from how its slot lies; always false in a tile with a direction.
    """

    piece: str
    x: Mm
    y: Mm
    w: Mm
    h: Mm
    turn: Turn
    half: bool


@dataclass(frozen=True, slots=True)
class TileCut:
    """One tile that goes to the saw: its number, from 1, and the pieces that come out of it in order of setting."""

    tile_no: int
    placements: tuple[Placement, ...]

    @property
    def pieces(self) -> tuple[str, ...]:
        """Return the ids of its pieces."""
        return tuple(p.piece for p in self.placements)


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """How the pieces of one tile are cut from the fewest tiles.

    Attributes:
        tile: Id of the tile.
        pieces: Whole and cut pieces together.
        whole: Pieces that need no saw.
        cut: Pieces that do.
        tiles: Tiles needed, whole ones included: ``whole + len(plan)``.
        lower_bound: No way of cutting under the same rules needs fewer; counts the same.
        proved: ``tiles`` equals ``lower_bound``.
        boxes: Boxes that hold ``tiles``, without spares.
        without_reuse: Tiles when each cut takes a tile of its own.
        plan: What comes out of each tile that is cut.
        said: What becomes of rests that are kept, a sentence for each tile: ``the rest of B4-1 makes B4-6``.
    """

    tile: str
    pieces: int
    whole: int
    cut: int
    tiles: int
    lower_bound: int
    proved: bool
    boxes: int
    without_reuse: int
    plan: tuple[TileCut, ...]
    said: tuple[str, ...]


def cut_tiles(
    tile_id: str,
    tile: Tile,
    pieces: Sequence[Piece],
    whole: int,
    kerf: Mm,
    *,
    reuse: bool = True,
    joint: Mm | Mapping[tuple[str, str], Mm] = 0.0,
    sawn_joints: bool = False,
) -> CuttingPlan:
    """Return how to cut the pieces from the fewest tiles.

    A piece is cut from its bounding box. It keeps each of its factory edges on the side of the tile it has in its
    slot; it may be turned half round when the tile has no direction, a quarter when the tile is square as well. Cuts
    run from edge to edge, and each costs the kerf. A mosaic sheet is cut between its chips: a piece takes every chip
    that it touches, no kerf is lost, and a row of chips inside is as good an edge as one outside.

    Args:
        tile_id: Id of the tile.
        tile: The tile as measured.
        pieces: The cut pieces of all faces that this tile makes; level or upright slots.
        whole: How many whole tiles there are besides.
        kerf: Width of the saw's cut, mm.
        reuse: Whether more than one piece may come out of a tile.
        joint: Mosaic: the joint between chips, mm; or the joint of every zone, by face and zone.
        sawn_joints: Whether a sawn edge will do where a piece has a factory edge in its slot.

    Raises:
        ValueError: A piece does not fit the tile, or its slot stands askew.
    """
    cuts = sorted(pieces, key=lambda p: (p.order, p.id))
    frame = _Chips(tile, pieces, joint) if tile.chip is not None else _Plain(tile, kerf, sawn_joints=sawn_joints)
    sheet = frame.sheet
    sizes: dict[Item, list[Piece]] = {}
    alone: list[tuple[Item, Piece]] = []
    for piece in cuts:
        item = frame.item(piece)
        if not reuse or (item.w, item.h) == (sheet.length, sheet.width):
            alone.append((item, piece))
        else:
            sizes.setdefault(_one_way(item, sheet), []).append(piece)
    items = list(sizes)
    cutter = Cutter(sheet, items)
    cutting = fewest(cutter, [len(sizes[i]) for i in items])
    laid = [[frame.placement(p, item.w, item.h, 0, 0, 0)] for item, p in alone]
    for contents in assign(cutter, cutting.tiles, [sizes[i] for i in items]):
        left = list(contents)
        row: list[Placement] = []
        for place in places(cutter.layout(tuple(sorted(i for i, _ in contents))), sheet):
            n = next(n for n, (i, _) in enumerate(left) if i == place.item)
            piece = left.pop(n)[1]
            turn = _turn(frame.item(piece), items[place.item], place.turn, sheet)
            row.append(frame.placement(piece, place.w, place.h, place.x, place.y, turn))
        laid.append(row)
    rank = {p.id: n for n, p in enumerate(cuts)}
    rows = sorted((sorted(row, key=lambda p: rank[p.piece]) for row in laid), key=lambda row: rank[row[0].piece])
    plan = tuple(TileCut(n, tuple(row)) for n, row in enumerate(rows, 1))
    tiles, bound = whole + len(plan), whole + len(alone) + cutting.bound
    return CuttingPlan(
        tile=tile_id,
        pieces=whole + len(cuts),
        whole=whole,
        cut=len(cuts),
        tiles=tiles,
        lower_bound=bound,
        proved=tiles == bound,
        boxes=-(-tiles // tile.box),
        without_reuse=whole + len(cuts),
        plan=plan,
        said=_said(plan, cuts),
    )


def _said(plan: tuple[TileCut, ...], cuts: list[Piece]) -> tuple[str, ...]:
    name = {p.id: p.number or p.id for p in cuts}
    out: list[str] = []
    for tile in plan:
        first, *rest = (name[p] for p in tile.pieces)
        if rest:
            listed = rest[0] if len(rest) == 1 else f"{', '.join(rest[:-1])} and {rest[-1]}"
            out.append(f"the rest of {first} makes {listed}")
    return tuple(out)


def _one_way(item: Item, sheet: Sheet) -> Item:
    """Return the item as the first of all that it is when turned, so that equal sizes are told as equal."""
    return min(w for w, _ in _ways(item, sheet))


def _ways(item: Item, sheet: Sheet) -> list[tuple[Item, Turn]]:
    turns: list[Turn] = [0, *([180] if sheet.half else []), *([90, 270] if sheet.quarter else [])]  # type: ignore[list-item]
    out: list[tuple[Item, Turn]] = []
    for turn in turns:
        w, h = (item.w, item.h) if turn in (0, 180) else (item.h, item.w)
        out.append((Item(w, h, turned(item.sides, turn)), turn))
    return out


def _turn(item: Item, chosen: Item, turn: int, sheet: Sheet) -> Turn:
    """Return how an item is turned in all, when its size was told in another turn than its own."""
    first = next(t for way, t in _ways(item, sheet) if way == chosen)
    total = (first + turn) % 360
    return next(t for _, t in _ways(item, sheet) if t == total)


class _Frame:
    """Carries pieces into the tile's frame in whole units, and placements back into mm."""

    sheet: Sheet

    def item(self, piece: Piece) -> Item:
        """Return the piece's box and factory edges in the tile's frame.

        Raises:
            ValueError: It does not fit.
        """
        raise NotImplementedError

    def mm(self, box: tuple[int, int, int, int]) -> tuple[Mm, Mm, Mm, Mm]:
        """Return x, y, width and height in mm."""
        raise NotImplementedError

    def placement(self, piece: Piece, w: int, h: int, x: int, y: int, turn: Turn) -> Placement:
        """Return a place in whole units as one in mm."""
        from_slot: Turn = _UPRIGHT if piece.upright else 0
        total: Turn = _quarters(from_slot + turn)
        return Placement(piece.id, *self.mm((x, y, w, h)), turn=total, half=turn == 180)


def _quarters(degrees: int) -> Turn:
    turns: tuple[Turn, ...] = (0, 90, 180, 270)
    return turns[degrees // 90 % 4]


def _askew(piece: Piece) -> bool:
    xs, ys = {round(x, 3) for x, _ in piece.slot}, {round(y, 3) for _, y in piece.slot}
    return len(xs) != 2 or len(ys) != 2


class _Plain(_Frame):
    """A tile cut by a saw: thousandths of a mm."""

    def __init__(self, tile: Tile, kerf: Mm, *, sawn_joints: bool) -> None:
        self._sawn = sawn_joints
        length, width = round(tile.length * _UNITS), round(tile.width * _UNITS)
        square = abs(length - width) <= EPS * _UNITS
        if square:
            length = width
        half = not tile.directional
        self.sheet = Sheet(length, width, round(kerf * _UNITS), half, half and square)

    def item(self, piece: Piece) -> Item:
        if _askew(piece):
            raise ValueError(
                f"piece {piece.id}: its slot does not stand level or upright, so it has no place in a tile"
            )
        sides = 0 if self._sawn else sum(bit for name, bit in _SIDES.items() if name in piece.factory_edges)
        box = (piece.width, piece.height)
        if piece.upright:
            box, sides = (piece.height, piece.width), turned(sides, _UPRIGHT)
        return Item(
            self._extent(piece, box[0], self.sheet.length, sides & (LEFT | RIGHT) == LEFT | RIGHT),
            self._extent(piece, box[1], self.sheet.width, sides & (BOTTOM | TOP) == BOTTOM | TOP),
            sides,
        )

    def _extent(self, piece: Piece, extent: Mm, full: int, both: bool) -> int:
        units = round(extent * _UNITS)
        if units > full + EPS * _UNITS:
            raise ValueError(f"piece {piece.id} is {extent:g} mm, more than the {full / _UNITS:g} mm of its tile")
        return full if both or units >= full - EPS * _UNITS else max(1, units)

    def mm(self, box: tuple[int, int, int, int]) -> tuple[Mm, Mm, Mm, Mm]:
        x, y, w, h = box
        return x / _UNITS, y / _UNITS, w / _UNITS, h / _UNITS


class _Chips(_Frame):
    """A sheet of mosaic: whole chips, parted at their joints."""

    def __init__(self, tile: Tile, pieces: Sequence[Piece], joints: Mm | Mapping[tuple[str, str], Mm]) -> None:
        assert tile.chip is not None
        self._chip, self._joints = tile.chip, joints
        # the least of its zones' joints is nearest to the sheet as it is sold
        joint = self._joint = min((self._joint_of(p) for p in pieces), default=0.0)
        self._step = (tile.chip[0] + joint, tile.chip[1] + joint)
        # a sheet is sold with or without its last joint
        counts = [
            max(1, floor((side + joint + EPS) / s))
            for side, s in zip((tile.length, tile.width), self._step, strict=True)
        ]
        half = not tile.directional
        alike = abs(tile.chip[0] - tile.chip[1]) <= EPS and counts[0] == counts[1]
        self.sheet = Sheet(counts[0], counts[1], 0, half, half and alike)

    def _joint_of(self, piece: Piece) -> Mm:
        return self._joints[piece.face, piece.zone] if isinstance(self._joints, Mapping) else self._joints

    def item(self, piece: Piece) -> Item:
        if _askew(piece):
            raise ValueError(
                f"piece {piece.id}: its slot does not stand level or upright, so it has no place in a sheet"
            )
        joint = self._joint_of(piece)
        counts: list[int] = []
        for axis in (0, 1):
            low = min(p[axis] for p in piece.slot)
            ends = [p[axis] - low for p in piece.outer]
            along = axis if not piece.upright else 1 - axis
            step, most = self._chip[along] + joint, (self.sheet.length, self.sheet.width)[along]
            chips = ceil((max(ends) - EPS) / step) - floor((min(ends) + EPS) / step)
            counts.append(min(max(1, chips), most))
        w, h = reversed(counts) if piece.upright else counts
        return Item(w, h, 0)

    def mm(self, box: tuple[int, int, int, int]) -> tuple[Mm, Mm, Mm, Mm]:
        x, y, w, h = box
        (along, across), j = self._step, self._joint
        return x * along, y * across, w * along - j, h * across - j
