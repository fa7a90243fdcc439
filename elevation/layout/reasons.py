"""A layout in words, made from the cuts of its edges; nothing is said that the numbers do not say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.geom import EPS, Point
from elevation.job.models import Job, Term
from elevation.layout.laid import LaidFace
from elevation.layout.start import Site, resolve
from elevation.layout.terms import HALF, EdgeCut, Rules, Terms
from elevation.patterns import Start
from elevation.rounding import grain, rounded
from elevation.units import exact_step, format_length

_ABOVE = {"tub": "the tub", "pan": "the pan", "floor": "the floor", "counter": "the counter", "cabinet": "the cabinet"}
_UNDER = {"ceiling": "the ceiling", "cabinet": "the cabinet"}
_MIDWAY = 1e-3


@dataclass(frozen=True, slots=True)
class Phrase:
    """A part of a reason.

    Attributes:
        text: What it says.
        edges: Names of the edges that it speaks of.
        size: The cut it names, mm; ``None``: it names none.
    """

    text: str
    edges: tuple[str, ...] = ()
    size: float | None = None


def phrases(job: Job, laid: LaidFace, n: int, records: Sequence[EdgeCut], rules: Rules) -> tuple[Phrase, ...]:
    """Return what a setter would say of a zone's layout: centre line, ends, bottom and top, openings."""
    return (
        *_centre(laid, n),
        *_ends(job, laid, n, records, rules),
        *_level(job, laid, n, records, "bottom"),
        *_level(job, laid, n, records, "top"),
        *_features(laid, records, rules),
    )


def _centre(laid: LaidFace, n: int) -> Iterator[Phrase]:
    zone = laid.zones[n]
    lean = zone.lattice.b[0] / zone.lattice.a[0]
    if abs(lean - round(lean)) > 1e-9:
        return
    site = Site(laid.face, zone.place, laid.edges, zone.lattice, zone.joint, zone.region)
    pitch = zone.lattice.a[0]
    for word in ("joint", "tile"):
        k = (resolve(Start(x=word, y=0.0), site, {})[0] - zone.origin[0]) / pitch
        if abs(k - round(k)) * pitch <= _MIDWAY:
            yield Phrase(f"a {word} on the centre line")


def _length(job: Job, size: float) -> str:
    return f"{format_length(size, job.step, job.units)} {job.units}"


def _cut(job: Job, laid: LaidFace, cuts: Sequence[EdgeCut]) -> str:
    """Return the least of some cuts as it is printed where it is cut: rounded down at a joint that must not close."""
    least = min((c for c in cuts if c.size is not None), key=lambda c: c.size or 0.0)
    assert least.size is not None
    border = next(b for b in laid.face.borders if b.name == least.edge)
    joint = border.joint[0] if border.trim is None else job.trim[border.trim].joint
    printed = rounded(least.size, "down", grain("down", joint, job.step))
    return f"{format_length(printed, exact_step(job.step) / 8, job.units)} {job.units}"


def _ends(job: Job, laid: LaidFace, n: int, records: Sequence[EdgeCut], rules: Rules) -> Iterator[Phrase]:
    found: dict[str, tuple[tuple[str, ...], float | None, str]] = {}
    for side, names in (("left", rules.left), ("right", rules.right)):
        here = [r for r in records if r.direction == side and r.edge in names]
        if not here:
            return
        wide = [r for r in here if r.across >= rules.width] or here
        sizes = [r.size for r in wide if r.size is not None]
        said = _cut(job, laid, wide) if sizes else ""
        found[side] = (tuple(sorted({r.edge for r in wide})), min(sizes, default=None), said)
    (left_edges, left, at_left), (right_edges, right, at_right) = found["left"], found["right"]
    both = (*left_edges, *right_edges)
    meets = {b.meets for b in laid.face.borders if b.name in both}
    place = "corners" if meets == {"corner"} else "ends"
    if left is None and right is None:
        yield Phrase(f"whole tiles at both {place}", both)
    elif left is not None and right is not None and at_left == at_right:
        least = _least(laid, n, records, both)
        yield Phrase(f"{at_left}{least} at both {place}", both, left)
    else:
        zones = {b.name: b.of for b in laid.face.borders if b.of in {z.id for z in laid.face.zones}}
        for (edges, size, cut), word in ((found["left"], "left"), (found["right"], "right")):
            at = f"zone {zones[edges[0]]}" if edges[0] in zones and not laid.zones[n].place.shape else f"the {word}"
            if size is None:
                yield Phrase(f"whole tiles at {at}", edges)
            else:
                least = _least(laid, n, records, edges)
                yield Phrase(f"{cut}{least} at {at}", edges, size)


def _least(laid: LaidFace, n: int, records: Sequence[EdgeCut], edges: Sequence[str]) -> str:
    """Return `` at least`` when the cut along some edges is not the same everywhere."""
    zone = laid.zones[n]
    lean = zone.lattice.b[0] / zone.lattice.a[0]
    here = [r for r in records if r.edge in edges]
    shifted = abs(lean - round(lean)) > 1e-9 and any(r.direction in ("left", "right") for r in here)
    differ = len({(r.direction, None if r.size is None else round(r.size, 3)) for r in here}) > len(
        {r.direction for r in here}
    )
    crooked = any(e.line is None and e.border.name in edges and min(_extent(e.border.line)) > EPS for e in laid.edges)
    return " at least" if shifted or differ or crooked else ""


def _extent(line: Sequence[Point]) -> tuple[float, float]:
    xs, ys = [p[0] for p in line], [p[1] for p in line]
    return max(xs) - min(xs), max(ys) - min(ys)


def _level(job: Job, laid: LaidFace, n: int, records: Sequence[EdgeCut], side: str) -> Iterator[Phrase]:
    """Speak of the level edges of the wall itself, and of a fixture that stands against it."""
    several = len({r.edge for r in records if r.direction == side and r.edge.isdigit()}) > 1
    for name in dict.fromkeys(r.edge for r in records if r.direction == side):
        border = next(b for b in laid.face.borders if b.name == name)
        fixtures = {c.id: c.word for c in laid.face.cutouts if c.kind == "fixture" and c.word != "shelf"}
        if border.of and border.of not in fixtures:
            continue
        meets = border.meets or fixtures.get(border.of) or ""
        if side == "bottom":
            place = f"above {_ABOVE[meets]}" if meets in _ABOVE else "at the bottom"
        else:
            place = f"under {_UNDER[meets]}" if meets in _UNDER else "at the top"
        if several and name.isdigit():
            place += f" (side {name})"
        here = [r for r in records if r.edge == name and r.direction == side]
        sizes = [r.size for r in here if r.size is not None]
        if not sizes:
            yield Phrase(f"whole tiles {place}", (name,))
        else:
            least = _least(laid, n, records, (name,))
            yield Phrase(f"{_cut(job, laid, here)}{least} {place}", (name,), min(sizes))


def _features(laid: LaidFace, records: Sequence[EdgeCut], rules: Rules) -> Iterator[Phrase]:
    by_name = {b.name: b for b in laid.face.borders}
    words = {c.id: c.word for c in laid.face.cutouts}
    of: dict[str, dict[str, bool]] = {}
    for record in records:
        if record.edge in rules.features:
            border = by_name[record.edge]
            sides = of.setdefault(border.of, {})
            sides[border.side] = sides.get(border.side, True) and record.size is None
    for name, sides in of.items():
        on = [s for s, whole in sides.items() if whole]
        if on:
            listed = on[0] if len(on) == 1 else f"{', '.join(on[:-1])} and {on[-1]}"
            text = f"{listed} of {words[name]} {name} on {'a joint' if len(on) == 1 else 'joints'}"
            yield Phrase(text, tuple(f"{name} {s}" for s in on))


_PLURAL: dict[str, tuple[str, str]] = {
    "slivers": ("edge cut to a sliver", "edges cut to a sliver"),
    "asked": ("edge without the whole tile asked for", "edges without the whole tile asked for"),
    "under-half": ("edge cut under half a tile", "edges cut under half a tile"),
    "aligned": ("edge of niches and openings off the joints", "edges of niches and openings off the joints"),
    "cuts": ("piece to cut", "pieces to cut"),
    "tiles": ("tile", "tiles"),
}


def say(term: Term, terms: Terms, job: Job) -> str:
    """Return one term in words: ``no edge cut to a sliver``, ``ends 1/4 in apart``."""
    if term == "balance":
        if round(terms.balance, 3) == 0:
            return "ends in balance"
        return f"ends {_length(job, terms.balance)} out of balance"
    if term == "narrowest":
        if terms.narrowest >= HALF:
            return "no cut under half a tile that a start could change"
        return f"narrowest cut {terms.narrowest:.0%} of a tile"
    count = int(terms.value(term))
    if term == "asked" and not count:
        return "whole tiles wherever they are asked for"
    one, many = _PLURAL[term]
    return f"{count or 'no'} {many if count > 1 else one}"


def why(better: Terms, other: Terms, job: Job) -> str:
    """Return why one layout comes before another: the first term in which they differ."""
    for term in job.room.prefer:
        a, b = better.key([term])[0], other.key([term])[0]
        if abs(a - b) > 1e-5:
            return f"{say(term, better, job)}, against {say(term, other, job)}"
    return "equal in every term; nearer the centre, or lower, decides"
