"""How far an answer is proved, and if it is not, why: what may be said of the starts that were not judged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.job.models import Job, Term
from elevation.layout.breakpoints import is_complete, moves_together
from elevation.layout.plots import Plot
from elevation.layout.search import GroupSearch
from elevation.units import format_length

COVERED: tuple[Term, ...] = ("slivers", "asked", "under-half", "balance", "narrowest")
"""Terms in which no start that was not judged can be better, where the argument of ``breakpoints`` holds."""

_CROOKED = "out of true, or sloping"
_TRUE = 1e-9  # a slope of less is float noise


def gaps_in(searches: Sequence[GroupSearch], walls: int) -> tuple[str, ...]:
    """Return in words what keeps an answer from being proved; nothing when it is.

    Args:
        searches: All that had a say in it.
        walls: How many walls the room's terms are of.
    """
    crooked = [words for s in searches for p in s.plots for words in _out_of_true(p)]
    found = [f"{_CROOKED}: {', '.join(dict.fromkeys(crooked))}"] if crooked else []
    found.extend(gap for search in searches for gap in _gaps(search, walls))
    return tuple(dict.fromkeys(found))


def _out_of_true(plot: Plot) -> Iterator[str]:
    edges = list(dict.fromkeys(s.edge for part in plot.parts for s in part.outline.spans if s.lean > _TRUE))
    if edges:
        yield f"{_listed([f'side {e}' if e.isdigit() else e for e in edges])} of {plot.face.id}"


def _gaps(search: GroupSearch, walls: int) -> Iterator[str]:
    for plot in search.plots:
        if any(part.outline.curved for part in plot.parts):
            yield f"a side of {plot.face.id} is curved"
        if moves_together(plot):
            yield f"more than one thing on {plot.face.id} may move the same way"
    if not all(is_complete(w.plot, w.courses) for w in search.walls if not moves_together(w.plot)):
        yield "the pattern does not come round in few courses"
    if not any(t in COVERED for t in search.prefer):
        yield "no term that the proof covers is asked for"
    elif not _order_allows(search.prefer, walls):
        yield "the order of terms is not one that the proof covers"


def _order_allows(prefer: Sequence[Term], walls: int) -> bool:
    """Tell whether the argument holds for an order of terms.

    Slivers come before balance; nothing that is only counted for ties comes before what is proved; and where several
    walls share what is narrowest, no sum comes after it, since a wall could give up what the others do not need.
    """
    if "balance" in prefer and ("slivers" not in prefer or prefer.index("slivers") > prefer.index("balance")):
        return False
    counted = [prefer.index(t) for t in ("cuts", "tiles") if t in prefer]
    exact = [prefer.index(t) for t in COVERED if t in prefer]
    if walls > 1 and "narrowest" in prefer and exact and max(exact) > prefer.index("narrowest"):
        return False
    return not counted or not exact or min(counted) > max(exact)


def bound_of(plots: Sequence[Plot]) -> float:
    """Return the slope of the edge furthest out of true times the height of a course, mm; 0 where all are true.

    So much a cut along it may change from course to course. Starts are judged with the edge at a fan of places, so a
    start between them may be better by about as much in a length; nothing is guaranteed of counts.
    """
    slopes = [(s.lean, p.lattice.b[1]) for p in plots for q in p.parts for s in q.outline.spans if s.lean > _TRUE]
    return round(max((lean * rise for lean, rise in slopes), default=0.0), 4)


def proof_words(job: Job, gaps: Sequence[str], bound: float) -> str:
    """Return how far an answer is proved."""
    terms = [t for t in job.room.prefer if t in COVERED]
    if not gaps:
        order = ", in this order," if len(terms) > 1 else ""
        size = "0.002 in" if job.units == "in" else "0.05 mm"
        return f"proved: by {_listed(terms)}{order} no other start is better, to {size}"
    said = list(gaps)
    if bound:
        unit = "in" if job.units == "in" else "mm"
        slope = f" (slope times course height: {format_length(bound, job.step / 16, job.units)} {unit})"
        said = [gap + slope if gap.startswith(_CROOKED) else gap for gap in said]
    return f"the best of those, not proved to be the best of all: {'; '.join(said)}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
