"""Which pieces can be cut from one tile together: blocks joined by straight cuts from edge to edge.

Everything here is whole numbers in the tile's own frame, length along x, so that sums are exact; what a unit is (a
thousandth of a millimetre, or a chip of a mosaic) is the caller's business. A cut between two blocks costs the kerf.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import Literal, NamedTuple

LEFT, RIGHT, BOTTOM, TOP = 1, 2, 4, 8
Turn = Literal[0, 90, 180, 270]
Contents = tuple[int, ...]
"""What is cut from one tile: indices of items, ascending, repeated as often as the item is cut."""

MOST_UNITS = 8
"""Beyond so many loose parts the ways to split them (2^n) are not tried one by one."""


class Item(NamedTuple):
    """A size to be cut, in the tile's frame: extents and the sides of the tile it must keep (bits)."""

    w: int
    h: int
    sides: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is cut: a tile, a sheet of mosaic or a stick, in whole units.

    Attributes:
        length: Along x.
        width: Along y.
        kerf: Lost between two neighbours.
        half: A piece may be turned half round.
        quarter: A piece may be turned a quarter; the sheet is then square.
    """

    length: int
    width: int
    kerf: int
    half: bool
    quarter: bool


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle that one or more pieces are cut from.

    Attributes:
        w: Least extent along x.
        h: Least extent along y.
        sides: Sides of the tile that the rectangle must reach.
        items: What comes out of it.
        cut: How it is parted: ``|`` left and right, ``-`` below and above, empty for a single piece.
        turn: Of a single piece, counter-clockwise from how it is laid, degrees.
        parts: The two parts: left and right, or below and above.
    """

    w: int
    h: int
    sides: int
    items: Contents
    cut: Literal["", "|", "-"] = ""
    turn: Turn = 0
    parts: tuple[Block, ...] = ()


def turned(sides: int, turn: Turn) -> int:
    """Return which sides are meant once the piece is turned counter-clockwise."""
    after = {LEFT: BOTTOM, BOTTOM: RIGHT, RIGHT: TOP, TOP: LEFT}
    for _ in range(turn // 90):
        sides = sum(new for old, new in after.items() if sides & old)
    return sides


class Cutter:
    """Answers, and remembers, how given items can be cut from one sheet.

    Attributes:
        sheet: What is cut.
        items: The sizes; contents refer to them by index.
        variants: For each item its single blocks, one for each way it may be turned.
        kind: For each item ``|`` when it is as high as the sheet, ``-`` when as long, else empty.
        skipped: Some contents were too many parts to be tried; a "no" may then be wrong.
        work: Joins tried so far; what may take long is limited by it, not by the clock.
    """

    def __init__(self, sheet: Sheet, items: Iterable[Item]) -> None:
        """Take items that fit the sheet singly and are smaller than it."""
        self.sheet = sheet
        self.items = tuple(items)
        self.skipped = False
        self.work = 0
        self.variants = [self._variants(i, item) for i, item in enumerate(self.items)]
        self.kind: list[Literal["", "|", "-"]] = [
            "|" if v[0].h == sheet.width else "-" if v[0].w == sheet.length else "" for v in self.variants
        ]
        self.area = [(i.w + sheet.kerf) * (i.h + sheet.kerf) for i in self.items]
        self.whole_area = (sheet.length + sheet.kerf) * (sheet.width + sheet.kerf)
        self._memo: dict[Contents, tuple[Block, ...]] = {}
        self._known: dict[Contents, Block] = {}

    def _variants(self, index: int, item: Item) -> tuple[Block, ...]:
        sheet = self.sheet
        turns: list[Turn] = [0]
        if sheet.half:
            turns.append(180)
        if sheet.quarter:
            turns += [90, 270]
        out: dict[tuple[int, int, int], Block] = {}
        for turn in turns:
            w, h = (item.w, item.h) if turn in (0, 180) else (item.h, item.w)
            sides = turned(item.sides, turn)
            out.setdefault((w, h, sides), Block(w, h, sides, (index,), turn=turn))
        found = list(out.values())
        if sheet.quarter and sheet.width in (item.w, item.h):
            # two that run from side to side lie the same way in a tile, and the tile itself may be turned
            found = [b for b in found if b.h == sheet.width]
        return tuple(found)

    def join(self, first: Block, second: Block, cut: Literal["|", "-"]) -> Block | None:
        """Return the block of two parts, or ``None`` when they do not go together that way."""
        sheet = self.sheet
        if cut == "|":
            if first.sides & RIGHT or second.sides & LEFT:
                return None
            w, h = first.w + sheet.kerf + second.w, max(first.h, second.h)
        else:
            if first.sides & TOP or second.sides & BOTTOM:
                return None
            w, h = max(first.w, second.w), first.h + sheet.kerf + second.h
        if w > sheet.length or h > sheet.width:
            return None
        items = tuple(sorted(first.items + second.items))
        return Block(w, h, first.sides | second.sides, items, cut, 0, (first, second))

    def fits(self, contents: Contents) -> bool:
        """Tell whether all of it comes out of one tile."""
        return contents in self._known or bool(self.blocks(contents))

    def layout(self, contents: Contents) -> Block:
        """Return one way to cut contents that fit."""
        known = self._known.get(contents)
        return known if known is not None else self.blocks(contents)[0]

    def remember(self, block: Block) -> None:
        """Keep a block that was built elsewhere as the way to cut its contents."""
        self._known.setdefault(block.items, block)

    def without(self, contents: Contents, item: int) -> Contents:
        """Return contents less one item, and keep how they are cut if that was only known for the whole."""
        rest = list(contents)
        rest.remove(item)
        smaller = tuple(rest)
        if smaller and not self.fits(smaller):
            left = self._pruned(self.layout(contents), item)
            assert left is not None
            self.remember(left)
        return smaller

    def _pruned(self, block: Block, item: int) -> Block | None:
        if not block.parts:
            return None
        first, second = block.parts
        if item in first.items:
            kept = self._pruned(first, item)
            return second if kept is None else self._rejoined(kept, second, block)
        kept = self._pruned(second, item)
        return first if kept is None else self._rejoined(first, kept, block)

    def _rejoined(self, first: Block, second: Block, was: Block) -> Block:
        assert was.cut
        joined = self.join(first, second, was.cut)
        assert joined is not None, "less than what fitted, the same way, fits"
        return joined

    def blocks(self, contents: Contents) -> tuple[Block, ...]:
        """Return every way to cut the contents that no other way beats in both extents and in sides needed."""
        if len(contents) == 1:
            return self.variants[contents[0]]
        found = self._memo.get(contents)
        if found is None:
            found = self._memo[contents] = self._build(contents)
        return found

    def _build(self, contents: Contents) -> tuple[Block, ...]:
        if sum(self.area[i] for i in contents) > self.whole_area:
            return ()
        kinds = {self.kind[i] for i in contents}
        if {"|", "-"} <= kinds:
            return ()
        if len(kinds) == 1 and "" not in kinds:
            return self._row(contents, "|" if "|" in kinds else "-")
        units = self._units(contents)
        if len(units) > MOST_UNITS:
            self.skipped = True
            return ()
        found: list[Block] = []
        seen: set[tuple[Contents, Contents]] = set()
        rest = range(1, len(units))
        for size in range(len(units) - 1):
            for chosen in combinations(rest, size):
                one = tuple(sorted(i for u in (0, *chosen) for i in units[u]))
                other = tuple(sorted(i for u in rest if u not in chosen for i in units[u]))
                if (one, other) in seen:
                    continue
                seen |= {(one, other), (other, one)}
                found += self._joins(self.blocks(one), self.blocks(other))
        return _undominated(found)

    def _joins(self, ones: tuple[Block, ...], others: tuple[Block, ...]) -> list[Block]:
        out: list[Block] = []
        self.work += 4 * len(ones) * len(others)
        cuts: tuple[Literal["|", "-"], ...] = ("|", "-")
        for a in ones:
            for b in others:
                for cut in cuts:
                    out += [j for j in (self.join(a, b, cut), self.join(b, a, cut)) if j is not None]
        return out

    def ends(self, item: int) -> int:
        """Return how many ends of the tile (across its own kind's direction) an item needs as first laid."""
        across = LEFT | RIGHT if self.kind[item] == "|" else BOTTOM | TOP
        return (self.variants[item][0].sides & across).bit_count()

    def _units(self, contents: Contents) -> list[Contents]:
        """Return what is split: strips that need no end may stand side by side, so they count as one."""
        strips = tuple(i for i in contents if self.kind[i] and not self.ends(i))
        loose: list[Contents] = [(i,) for i in contents if i not in set(strips)]
        return [strips, *loose] if strips else loose

    def _row(self, contents: Contents, cut: Literal["|", "-"]) -> tuple[Block, ...]:
        """Return the ways to cut strips that all run from side to side: only their sum and the two ends count."""
        low, high = (LEFT, RIGHT) if cut == "|" else (BOTTOM, TOP)
        enders = [i for i in contents if self.ends(i)]
        if len(enders) > 2:
            return ()
        chain: Block | None = None
        for i in contents:
            if not self.ends(i):
                chain = self.variants[i][0] if chain is None else self.join(chain, self.variants[i][0], cut)
                if chain is None:
                    return ()
        found: list[Block] = []
        for block in self.variants[enders[0]] if enders else ():
            other = self.variants[enders[1]] if len(enders) == 2 else (None,)
            for partner in other:
                first, last = (block, partner) if block.sides & low else (partner, block)
                if (first is not None and first.sides & high) or (last is not None and last.sides & low):
                    continue
                made = first
                for part in (chain, last):
                    if made is None or part is None:
                        made = made if part is None else part
                    elif (made := self.join(made, part, cut)) is None:
                        break
                if made is not None:
                    found.append(made)
        if not enders and chain is not None:
            found.append(chain)
        return _undominated(found)


def _undominated(blocks: list[Block]) -> tuple[Block, ...]:
    kept: list[Block] = []
    for b in sorted(blocks, key=lambda b: (b.w, b.h, b.sides.bit_count(), b.sides)):
        if not any(k.w <= b.w and k.h <= b.h and not k.sides & ~b.sides for k in kept):
            kept.append(b)
    return tuple(kept)


class Place(NamedTuple):
    """Where an item lies in its tile: lower left corner, extents, turn."""

    item: int
    x: int
    y: int
    w: int
    h: int
    turn: Turn


def places(block: Block, sheet: Sheet) -> list[Place]:
    """Return where each piece of a block lies, factory edges on the sides of the sheet."""
    out: list[Place] = []
    todo = [(block, 0, 0, sheet.length, sheet.width)]
    while todo:
        b, x0, y0, x1, y1 = todo.pop()
        if not b.parts:
            x = x1 - b.w if b.sides & RIGHT else x0
            y = y1 - b.h if b.sides & TOP else y0
            out.append(Place(b.items[0], x, y, b.w, b.h, b.turn))
            continue
        first, second = b.parts
        if b.cut == "|":
            # the part that must reach the far side gets what is left over
            at = x1 - second.w if second.sides & RIGHT else x0 + first.w + sheet.kerf
            todo += [(second, at, y0, x1, y1), (first, x0, y0, at - sheet.kerf, y1)]
        else:
            at = y1 - second.h if second.sides & TOP else y0 + first.h + sheet.kerf
            todo += [(second, x0, at, x1, y1), (first, x0, y0, x1, at - sheet.kerf)]
    return out
