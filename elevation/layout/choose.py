"""Where to start: everything that a job leaves open is searched, for the whole room at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from elevation.job.models import Job
from elevation.layout.candidates import different
from elevation.layout.choice import (
    Candidate,
    Count,
    Judged,
    Place,
    RoomChoice,
    ZoneChoice,
    judged,
    total,
    with_counts,
)
from elevation.layout.decide import Found, apply, best_of, decide_zones, search_room, together
from elevation.layout.laid import LaidFace
from elevation.layout.lay import lay_decided
from elevation.layout.plots import Plot, is_searchable
from elevation.layout.proof import bound_of, gaps_in
from elevation.layout.search import GroupSearch, RoomStart
from elevation.layout.sides import SideMove
from elevation.layout.terms import Terms
from elevation.layout.written import in_words
from elevation.layout.zone_sides import settle_zones
from elevation.patterns import ByWall, Start
from elevation.wall import Face, build_faces

MOST = 3
"""How many layouts are offered: as many as stand side by side on one sheet; more are hardly looked at."""


def lay_out(job: Job, faces: tuple[Face, ...]) -> tuple[LaidFace, ...]:
    """Return every face laid out, in the order given, whatever is left open decided.

    A caller that also wants to know why, or the job with everything decided, calls ``choose``.

    Raises:
        JobError: Gaps leave no room, a start stands on nothing, or ties go round in a circle.
    """
    return choose(job, faces, most=1).laid


@dataclass(frozen=True)
class _Room:
    """What is the same for all candidates of a room."""

    asked: Job
    searched: frozenset[str]  # walls whose courses were searched: open ones, and those tied to them
    open: frozenset[str]
    sides: Mapping[SideMove, float] = field(default_factory=dict)  # of zones, settled before


def choose(job: Job, faces: Sequence[Face], *, most: int = MOST, count: Count | None = None) -> RoomChoice:
    """Return the best layout of a job, and the best others that really differ.

    Args:
        job: The job; what of it is open (starts, a range of joints, niches and sides that may move) is searched.
        faces: Its faces.
        most: How many layouts to return.
        count: Counts pieces and tiles; without it ``cuts`` is reckoned by arithmetic and ``tiles`` is left out.

    Raises:
        JobError: Gaps leave no room, a start stands on nothing, or ties go round in a circle.
    """
    asked = job
    job, sides = settle_zones(job, _worth)
    if sides:
        faces = build_faces(job)
    found = search_room(job, faces)
    if not found:
        return _nothing_open(job, faces)
    best = best_of(found)
    plots = [p for s in best.searches for p in s.plots]
    room = _Room(job, frozenset(p.face.id for p in plots), frozenset(p.face.id for p in plots if p.x is None), sides)
    finalists = _finalists(found, best, most)
    candidates = []
    searches: dict[str, GroupSearch] = {}
    for number, (joint, starts) in enumerate(finalists, 1):
        candidate, more = _candidate(room, number, joint, starts)
        candidates.append(candidate)
        searches = searches or more
    if count is not None and "tiles" in job.room.prefer:
        candidates = _fewest_tiles(candidates, job, count, sorted(room.searched))
    first = candidates[0]
    return RoomChoice(
        first.job, first.faces, first.laid, asked, tuple(candidates), room.open, room.searched,
        tuple(_zone_choices(room, found, candidates, searches)), first.sides,
    )  # fmt: skip


def _worth(job: Job) -> tuple[float, ...]:
    """Return the key of the best layout of a job, the terms of all its zones together."""
    terms = [zone.chosen for zone in choose(job, build_faces(job), most=1).zones]
    return sum(terms[1:], terms[0]).key(job.room.prefer)


def _fewest_tiles(candidates: list[Candidate], job: Job, count: Count, walls: Sequence[str]) -> list[Candidate]:
    """Return the candidates with those that tie with the first in every other term ordered by the tiles they take."""
    before = [t for t in job.room.prefer if t != "tiles"]
    ties = [c for c in candidates if c.terms.key(before) == candidates[0].terms.key(before)]
    if len(ties) == 1:
        return candidates
    counted = [with_counts(c, count(c.job), walls) for c in ties]
    counted.sort(key=lambda c: (c.terms.tiles or 0, c.number))
    ordered = [*counted, *candidates[len(ties) :]]
    return [replace(c, number=n) for n, c in enumerate(ordered, 1)]


def _finalists(found: Sequence[Found], best: Found, most: int) -> list[tuple[float, tuple[RoomStart, ...]]]:
    """Return joint and starts of the layouts to offer, the best first."""
    lead = best.searches[0]
    starts = different(lead, best.starts[0], most) if most > 1 else best.starts[:1]
    options = []
    for start in starts:
        all_starts = (start, *best.starts[1:])
        options.append((together([s.key for s in all_starts], lead.prefer), best.joint, all_starts))
    if most > 1:
        options.extend((f.key, f.joint, f.starts) for f in found if f is not best)
    first, *rest = options
    rest.sort(key=lambda o: (o[0], o[1]))
    return [(joint, starts) for _, joint, starts in (first, *rest)][:most]


def _candidate(
    room: _Room, number: int, joint: float, starts: Sequence[RoomStart]
) -> tuple[Candidate, dict[str, GroupSearch]]:
    """Return a candidate, written in words and laid out, and the searches of its zones."""
    decided = apply(room.asked, joint, starts)
    faces = build_faces(decided)
    decided = in_words(decided, faces, room.open)
    faces = build_faces(decided)
    fields = lay_decided(decided, faces)
    with_zones, searches = decide_zones(decided, faces, fields)
    if searches:
        decided, faces = with_zones, build_faces(with_zones)
        fields = lay_decided(decided, faces)
    zones: dict[Place, Judged] = {}
    for laid in fields:
        for n, zone in enumerate(laid.zones):
            place = (laid.face.id, zone.place.id)
            if is_searchable(zone.lattice):
                zones[place] = judged(decided, laid, n, _fixed(room, laid, n, searches))
    terms = total(zones, sorted(room.searched))
    walls = [w for s in starts for w in s.walls]
    niches = {f"{w.plot.face.id} {n}": by for w in walls for n, by in w.niches().items()}
    sides = {SideMove(w.plot.face.id, "", side): by for w in walls for side, by in w.sides().items()}
    candidate = Candidate(number, decided, faces, fields, zones, room.open, terms, niches, {**room.sides, **sides})
    return candidate, searches


def _fixed(room: _Room, laid: LaidFace, n: int, searches: dict[str, GroupSearch]) -> tuple[bool, bool]:
    """Return whether no search had a say in the start across, and up."""
    if laid.zones[n].place.beyond:
        # the field's start along the band, the band's own side square to it
        (x, y), (u, v) = laid.zones[n].origin, laid.zones[0].origin
        across, up = _fixed(room, laid, 0, searches)
        return across or x != u, up or y != v
    if n == 0 and not laid.face.of:
        return laid.face.id not in room.open, laid.face.id not in room.searched
    own = f"{laid.face.id}/{laid.zones[n].place.id}" in searches
    return not own, not own


def _zone_choices(
    room: _Room, found: Sequence[Found], candidates: Sequence[Candidate], searches: dict[str, GroupSearch]
) -> list[ZoneChoice]:
    """Return how the start of every zone came about."""
    first = candidates[0]
    out = []
    for place, j in first.zones.items():
        name = "/".join(place)
        mine = [s for f in found for s in f.searches if any(place in _places(p) for p in s.plots)]
        if name in searches:
            mine = [searches[name]]
        if not mine:
            out.append(ZoneChoice(*place, j.terms, (), 0, (), 0.0))
            continue
        plot = next(p for s in mine for p in s.plots if place in _places(p))
        offered = tuple(
            (c.number, "; ".join(c.zones[place].words), c.zones[place].terms) for c in candidates if place in c.zones
        )
        walls = 1 if name in searches else len(room.searched)
        examined, gaps = sum(_examined(s, plot) for s in mine), gaps_in(mine, walls)
        gaps += tuple(f"the {s.side} of zone {s.zone} was tried at some places only" for s in room.sides)
        out.append(ZoneChoice(*place, j.terms, offered, examined, gaps, bound_of([p for s in mine for p in s.plots])))
    return out


def _places(plot: Plot) -> tuple[Place, ...]:
    """Return the zones that one start lays: a zone and its parts beyond bands."""
    return tuple(p.id for p in plot.parts)


def _examined(search: GroupSearch, plot: Plot) -> int:
    return sum(w.examined for w in search.walls if w.plot.id == plot.id)


def obvious(choice: RoomChoice) -> tuple[Candidate, ...]:
    """Return what a joint, and a tile, midway on every open wall would have given, whole tiles at the bottom.

    The wall of which the others take their courses starts at the bottom; joint and niches are as in the layout taken.
    """
    room = _Room(choice.asked, choice.searched, choice.open)
    words: tuple[Literal["joint", "tile"], ...] = ("joint", "tile")
    out = []
    for n, word in enumerate(words, 1):
        walls = []
        for wall in choice.job.wall:
            start = wall.layout.start
            if wall.id in choice.open and isinstance(start, Start):
                y: ByWall | Literal["bottom"] = start.y if isinstance(start.y, ByWall) else "bottom"
                layout = wall.layout.model_copy(update={"start": Start(x=word, y=y)})
                walls.append(wall.model_copy(update={"layout": layout}))
            else:
                walls.append(wall)
        decided = choice.job.model_copy(update={"wall": walls})
        faces = build_faces(decided)
        laid = lay_decided(decided, faces)
        zones: dict[Place, Judged] = {}
        for face in laid:
            if not face.face.of and is_searchable(face.zones[0].lattice):
                zones[face.face.id, face.zones[0].place.id] = judged(decided, face, 0, _fixed(room, face, 0, {}))
        terms = total(zones, sorted(room.searched))
        out.append(Candidate(n, decided, faces, laid, zones, room.open, terms, choice.niches_moved(), choice.sides))
    return tuple(out)


def _nothing_open(job: Job, faces: Sequence[Face]) -> RoomChoice:
    """Return the terms of a job whose walls all have their starts; zones and niche backs may still be open."""
    given = tuple(faces)
    laid = lay_decided(job, given)
    decided, searches = decide_zones(job, given, laid)
    if searches:
        given = build_faces(decided)
        laid = lay_decided(decided, given)
    room = _Room(job, frozenset(), frozenset())
    zones = []
    for face in laid:
        for n, zone in enumerate(face.zones):
            if not is_searchable(zone.lattice):
                zones.append(ZoneChoice(face.face.id, zone.place.id, Terms(), (), 0, (), 0.0))
                continue
            j = judged(decided, face, n, _fixed(room, face, n, searches))
            own = searches.get(f"{face.face.id}/{zone.place.id}")
            found = [own] if own else []
            examined, bound = sum(f.examined for f in found), bound_of([p for f in found for p in f.plots])
            zones.append(ZoneChoice(face.face.id, zone.place.id, j.terms, (), examined, gaps_in(found, 1), bound))
    return RoomChoice(decided, given, laid, job, (), frozenset(), frozenset(), tuple(zones), {})
