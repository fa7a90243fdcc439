"""What a freedom buys: the best layout with it, against the best without."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from elevation.errors import JobError
from elevation.features import Edge, Niche
from elevation.job.models import Job, Wall
from elevation.layout.choice import Candidate, RoomChoice
from elevation.layout.choose import choose
from elevation.layout.reasons import say
from elevation.layout.sides import SideMove, side_words, wall_with, zone_with
from elevation.layout.terms import Terms
from elevation.units import format_length
from elevation.wall import build_faces

_REACH = 76.2  # mm, 3 in: what an end in the open may be moved without being another job


@dataclass(frozen=True, slots=True)
class Freedom:
    """Something that is open, and what it is worth.

    Attributes:
        text: What to do, and what that buys, in one line.
        taken: Whether the layout taken makes use of it; else it is offered, and the job file has to say so.
        without: Terms of the best layout without it.
        terms: Terms with it.
    """

    text: str
    taken: bool
    without: Terms
    terms: Terms


def freedoms(choice: RoomChoice) -> tuple[Freedom, ...]:
    """Return what every freedom of the job buys, those made use of first.

    A range of joints, the move of a niche or of a side and the range of a soft joint are used by the search itself.
    The end of a wall in the open (``meets = "wall"``, or a trimmed end across from a corner) of which nothing is said
    is only offered.
    """
    if not choice.candidates:
        return ()
    taken = choice.candidates[0]
    found = [
        *_joint(choice, taken), *_niches(choice, taken), *_sides(choice, taken), *_ranges(choice, taken),
        *_ends(choice, taken),
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda f: not f.taken))


def _best(job: Job) -> Candidate | None:
    try:
        found = choose(job, build_faces(job), most=1).candidates
    except JobError:
        return None
    return found[0] if found else None


def _length(job: Job, size: float) -> str:
    return f"{format_length(abs(size), job.step, job.units)} {'in' if job.units == 'in' else 'mm'}"


def gain(before: Terms, after: Terms, job: Job) -> str:
    """Return what became better, term by term, up to the first that became worse; empty: nothing did."""
    better = []
    for term in job.room.prefer:
        if term == "tiles":
            continue
        a, b = before.key([term])[0], after.key([term])[0]
        if b < a - 1e-5:
            better.append(f"{say(term, after, job)} (was: {say(term, before, job)})")
        elif b > a + 1e-5:
            break
    return "; ".join(better)


def _joint(choice: RoomChoice, taken: Candidate) -> Iterator[Freedom]:
    job = choice.asked
    least, most = job.joint
    if most - least <= 1e-6 or abs(taken.joint - least) <= 1e-6:
        return
    without = _best(job.model_copy(update={"joint": (least, least)}))
    if without is None:
        return
    buys = gain(without.terms, taken.terms, job)
    if buys:
        text = f"a joint of {_length(job, taken.joint)} instead of {_length(job, least)}: {buys}"
        yield Freedom(text, True, without.terms, taken.terms)


def _niches(choice: RoomChoice, taken: Candidate) -> Iterator[Freedom]:
    for name, (dx, dy) in choice.niches_moved().items():
        wall, niche = name.split()
        without = _best(_with_niche(choice.asked, wall, niche))
        if without is None:
            continue
        ways = [f"{'raise' if dy > 0 else 'lower'} the niche {_length(choice.asked, dy)}"] if abs(dy) > 1e-6 else []
        if abs(dx) > 1e-6:
            side = "right" if dx > 0 else "left"
            move = f"{_length(choice.asked, dx)} to the {side}"
            ways.append(move if ways else f"move the niche {move}")
        landed = _landed(without, taken, wall, niche)
        buys = "; ".join(t for t in (landed, gain(without.terms, taken.terms, choice.asked)) if t)
        if buys:  # it may be one of several ways to the same end, and the end as good without it
            yield Freedom(f"wall {wall}, {niche}: {' and '.join(ways)}: {buys}", True, without.terms, taken.terms)


def _sides(choice: RoomChoice, taken: Candidate) -> Iterator[Freedom]:
    """Speak of every side in the open that the layout taken moves."""
    job = choice.asked
    for side, by in taken.sides.items():
        if abs(by) <= 1e-6:
            continue
        without = _best(_fixed_side(job, side))
        if without is None:
            continue
        whole = "" if side.zone else _whole_at(without, taken, side)
        before, after = (_all_zones(c) if side.zone else c.terms for c in (without, taken))
        buys = "; ".join(t for t in (whole, gain(before, after, job)) if t)
        if buys:
            yield Freedom(f"wall {side.wall}: {side_words(job, side, by)}: {buys}", True, before, after)


def _all_zones(candidate: Candidate) -> Terms:
    """Return the terms of all zones of a layout together, as the sides of zones are judged by them."""
    first, *more = (j.terms for j in candidate.zones.values())
    return sum(more, first)


def _whole_at(without: Candidate, taken: Candidate, side: SideMove) -> str:
    """Return that a whole tile ends at a side where none did before; empty: it is not so."""

    def whole(candidate: Candidate) -> bool:
        sizes = [r.size for r in candidate.zones[side.wall, "field"].records if r.edge == side.side]
        return bool(sizes) and all(size is None for size in sizes)

    if whole(without) or not whole(taken):
        return ""
    edge = taken.job.wall_by_id(side.wall).edges[side.side]
    return "a whole tile at the trim" if edge.trim is not None else "a whole tile there"


def _fixed_side(job: Job, side: SideMove) -> Job:
    """Return the job with a side that may not move."""

    def fixed(w: Wall) -> Wall:
        return zone_with(w, side.zone, {side.side: 0.0}) if side.zone else wall_with(w, {side.side: 0.0})[0]

    return job.model_copy(update={"wall": [fixed(w) if w.id == side.wall else w for w in job.wall]})


def _landed(without: Candidate, taken: Candidate, wall: str, niche: str) -> str:
    """Return which sides of a niche land on joints that did not before."""
    on: list[set[str]] = []
    for candidate in (without, taken):
        records = candidate.zones[wall, "field"].records
        names = {r.edge for r in records if r.edge.split()[0] == niche}
        off = {r.edge for r in records if r.size is not None}
        on.append({n.split()[1] for n in names - off})
    new = [s for s in ("sill", "head", "left", "right") if s in on[1] - on[0]]
    if not new:
        return ""
    if len(new) == 2:
        return f"both {new[0]} and {new[1]} land on joints"
    listed = new[0] if len(new) == 1 else f"{', '.join(new[:-1])} and {new[-1]}"
    return f"{listed} {'lands on a joint' if len(new) == 1 else 'land on joints'}"


def _with_niche(job: Job, wall: str, niche: str) -> Job:
    """Return the job with a niche that may not move."""

    def still(n: Niche) -> Niche:
        return n.model_copy(update={"move": None}) if n.id == niche else n

    walls = [w.model_copy(update={"niche": [still(n) for n in w.niche]}) if w.id == wall else w for w in job.wall]
    return job.model_copy(update={"wall": walls})


def _ranges(choice: RoomChoice, taken: Candidate) -> Iterator[Freedom]:
    """Speak of every soft joint that the layout taken opens beyond its least."""
    job = choice.asked
    for laid in taken.laid:
        if laid.face.id not in choice.searched:
            continue
        for edge in laid.edges:
            border = edge.border
            opened = edge.gap[0] - border.joint[0]
            fixture = next((f for f in job.wall_by_id(laid.face.wall).fixture if f.id == border.of), None)
            if (border.of and fixture is None) or opened <= job.step / 4 or not edge.why:
                continue
            without = _best(_tight(job, laid.face.id, border.of, border.side))
            if without is None:
                continue
            buys = gain(without.terms, taken.terms, job)
            if buys:
                least, now = _length(job, border.joint[0]), _length(job, edge.gap[0])
                where = (
                    f"its {border.side}" if fixture is None else f"the {border.side} of {fixture.kind} {fixture.id}"
                )
                text = f"wall {laid.face.id}: the joint at {where} opened from {least} to {now}: {buys}"
                yield Freedom(text, True, without.terms, taken.terms)


def _tight(job: Job, wall: str, fixture: str, side: str) -> Job:
    """Return the job with the joint at a side of a wall, or of a fixture on it, at its least."""

    def at_least(edges: Mapping[str, Edge], usual: tuple[float, float]) -> dict[str, Edge]:
        edge = edges.get(side, Edge())
        least = (edge.joint or usual)[0]
        return {**edges, side: edge.model_copy(update={"joint": (least, least)})}

    def tight(w: Wall) -> Wall:
        if not fixture:
            return w.model_copy(update={"edges": at_least(w.edges, (0.0, 0.0))})
        return w.model_copy(
            update={
                "fixture": [
                    f.model_copy(update={"edges": at_least(f.edges, f.joint)}) if f.id == fixture else f
                    for f in w.fixture
                ]
            }
        )

    return job.model_copy(update={"wall": [tight(w) if w.id == wall else w for w in job.wall]})


def _ends(choice: RoomChoice, taken: Candidate) -> Iterator[Freedom]:
    """Offer to move ends in the open so that the cut across from them, or at the top, becomes a whole tile or goes."""
    job = choice.asked
    for wall in job.wall:
        if wall.id not in choice.open or wall.width is None or wall.height is None or wall.survey is not None:
            continue
        judged = taken.zones.get((wall.id, "field"))
        if judged is None:
            continue
        for side, what in (("right", "width"), ("top", "height")):
            edge = wall.edges.get(side)
            other = wall.edges.get("left")
            free = edge is not None and edge.move is None and (
                edge.meets == "wall" or (side == "right" and edge.trim is not None and edge.meets is None
                                         and other is not None and other.meets == "corner")
            )  # fmt: skip
            if not free:
                continue
            across = "left" if side == "right" else "top"
            sizes = [r.size for r in judged.records if r.edge == across and r.size is not None]
            if not sizes:
                continue
            tile = judged.rules.height if side == "top" else judged.rules.width
            for change in (tile - min(sizes), -(min(sizes) + taken.joint)):
                if not job.step <= abs(change) <= _REACH:
                    continue
                size = (wall.width if what == "width" else wall.height) + change
                walls = [w.model_copy(update={what: size}) if w.id == wall.id else w for w in job.wall]
                better = _best(job.model_copy(update={"wall": walls}))
                buys = gain(taken.terms, better.terms, job) if better is not None else ""
                if better is not None and buys:
                    verb = "more" if change > 0 else "less"
                    text = (
                        f"wall {wall.id}: {_length(job, change)} {verb} {what}, if its open end may move "
                        f"(edges.{side}.move): {buys}"
                    )
                    yield Freedom(text, False, taken.terms, better.terms)
