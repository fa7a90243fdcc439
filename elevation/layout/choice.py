"""What the search hands on: the layout taken, the best others, what the obvious starts would have given."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from elevation.job.models import Job
from elevation.layout.cut_count import cuts_at
from elevation.layout.edge_cuts import edge_cuts
from elevation.layout.laid import LaidFace
from elevation.layout.reasons import phrases
from elevation.layout.sides import SideMove
from elevation.layout.spans import zone_outlines
from elevation.layout.terms import EdgeCut, Rules, Terms, rules_of, terms_of
from elevation.patterns import Start
from elevation.wall import Face, is_field, zone_words

Place = tuple[str, str]
"""Face and zone."""
Count = Callable[[Job], Mapping[Place, tuple[int, int]]]
"""Counts the pieces to cut and the tiles of every zone of a job; the stages after this one do that."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A zone as laid out: its terms, the cuts of its edges, and its layout in words."""

    terms: Terms
    records: tuple[EdgeCut, ...]
    words: tuple[str, ...]
    rules: Rules


@dataclass(frozen=True, slots=True)
class Candidate:
    """A layout of the room.

    Attributes:
        number: 1 for the best.
        job: The job with this layout written in: starts, joint, places of niches.
        faces: Its faces.
        laid: The same, laid out.
        zones: What was found of every zone, by face and zone.
        open: Walls whose start was left to the search.
        terms: Of those walls and the walls tied to them, together.
        niches: By wall and niche, ``B n1``, how far it was moved to the right and up, mm.
        sides: Every side that might move, and how far outward it stands of where the job has it, mm.
    """

    number: int
    job: Job
    faces: tuple[Face, ...]
    laid: tuple[LaidFace, ...]
    zones: Mapping[Place, Judged]
    open: frozenset[str]
    terms: Terms
    niches: Mapping[str, tuple[float, float]]
    sides: Mapping[SideMove, float]

    @property
    def words(self) -> str:
        """The layout in words, wall by wall, zone by zone."""
        parts = [
            (f"{face} {zone_words(zone)}".strip(), "; ".join(j.words))
            for (face, zone), j in self.zones.items() if face in self.open
        ]  # fmt: skip
        if len(parts) == 1:
            return parts[0][1]
        return " | ".join(f"{name}: {text}" for name, text in parts)

    def start(self, wall: str) -> Start:
        """Return the start of a wall."""
        start = self.job.wall_by_id(wall).layout.start
        assert isinstance(start, Start)
        return start

    @property
    def joint(self) -> float:
        """The grout joint, mm."""
        return self.job.joint[0]


@dataclass(frozen=True, slots=True)
class ZoneChoice:
    """How the start of one zone came about, as ``plan.json`` has it.

    Attributes:
        wall: Id of the face: the wall, or the back of a niche.
        zone: Id of the zone.
        chosen: Terms of the layout taken.
        candidates: Terms of the best layouts that really differ, the one taken first.
        examined: How many starts were looked at; 0 when the job file gives the start.
        gaps: In words, what keeps the choice from being proved; see ``proof``.
        bound: Slope of the edge furthest out of true times the height of a course, mm; 0 when all are true.
    """

    wall: str
    zone: str
    chosen: Terms
    candidates: tuple[tuple[int, str, Terms], ...]
    examined: int
    gaps: tuple[str, ...]
    bound: float

    @property
    def proved(self) -> bool:
        """Tell whether no start at all is better in slivers, asked, under-half, balance and narrowest."""
        return self.examined > 0 and not self.gaps


@dataclass(frozen=True, slots=True)
class RoomChoice:
    """Everything that was left open, decided.

    Attributes:
        job: The job with nothing left to choose.
        faces: Its faces.
        laid: The same, laid out.
        asked: The job as it was.
        candidates: The best layouts that really differ, the one taken first; empty when nothing was open.
        open: Walls whose start was left to the search.
        searched: Those, and the walls tied to them: their terms together decide.
        zones: Every zone, in the order of faces and zones.
        sides: Every side that might move and was settled, and how far outward it stands of where ``asked`` has it, mm.
    """

    job: Job
    faces: tuple[Face, ...]
    laid: tuple[LaidFace, ...]
    asked: Job
    candidates: tuple[Candidate, ...]
    open: frozenset[str]
    searched: frozenset[str]
    zones: tuple[ZoneChoice, ...]

    sides: Mapping[SideMove, float]

    def niches_moved(self) -> Mapping[str, tuple[float, float]]:
        """Return, by wall and niche, ``B n1``, how far it was moved to the right and up, mm."""
        return self.candidates[0].niches if self.candidates else {}


def judged(job: Job, laid: LaidFace, n: int, fixed: tuple[bool, bool]) -> Judged:
    """Return what is to be said of a zone as laid out.

    Args:
        job: The job.
        laid: The face.
        n: Which zone.
        fixed: Whether its start was given across, and up: the search had no say in it.
    """
    zone = laid.zones[n]
    outline = zone_outlines(laid.face, laid.edges, [z.joint for z in laid.zones])[n]
    rules = rules_of(job, laid.face, zone.place, outline, zone.lattice, fixed=fixed)
    records = edge_cuts(outline, zone.lattice, zone.origin)
    words = tuple(p.text for p in phrases(job, laid, n, records, rules))
    return Judged(terms_of(records, rules, cuts_at(laid, n, outline, rules)), records, words, rules)


def with_counts(candidate: Candidate, counts: Mapping[Place, tuple[int, int]], walls: Sequence[str]) -> Candidate:
    """Return a candidate with cuts and tiles as the pieces have them; ``walls``: those that its terms sum."""
    zones = {
        place: replace(j, terms=replace(j.terms, cuts=counts[place][0], tiles=counts[place][1]))
        if place in counts else j
        for place, j in candidate.zones.items()
    }  # fmt: skip
    return replace(candidate, zones=zones, terms=total(zones, walls))


def total(zones: Mapping[Place, Judged], walls: Sequence[str]) -> Terms:
    """Return the terms of the fields of some walls together."""
    found = [j.terms for (face, zone), j in zones.items() if face in walls and is_field(zone)]
    terms = found[0]
    for more in found[1:]:
        terms = terms + more
    return terms
