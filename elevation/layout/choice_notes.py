"""What the search has to say on the sheets and among the findings."""

from __future__ import annotations

from collections.abc import Iterator

from elevation.errors import Finding
from elevation.layout.choice import RoomChoice
from elevation.layout.proof import proof_words
from elevation.layout.sides import SideMove, side_words, sides_that_may_move
from elevation.units import format_length
from elevation.wall import zone_words

_SOURCE = "search of this job; terms as in [room] prefer"


def start_words(choice: RoomChoice | None, wall: str) -> str:
    """Return how a wall's start came about, for its elevation; empty where the job file gives it.

    ``START CHOSEN: a joint on the centre line; 5 5/16 in at both corners``.
    """
    if choice is None or wall not in choice.open:
        return ""
    judged = choice.candidates[0].zones.get((wall, "field"))
    return "" if judged is None else f"START CHOSEN: {'; '.join(judged.words)}"


def choice_findings(choice: RoomChoice) -> Iterator[Finding]:
    """Yield a note for every start, joint and niche that the search decided, and for every sliver that is left."""
    job = choice.job
    if choice.candidates:
        most, least = choice.asked.joint[1], choice.asked.joint[0]
        if most - least > 1e-6:
            text = (
                f"drawn with a joint of {format_length(job.joint[0], job.step / 2, job.units)}, from the range given"
            )
            yield Finding("choice", "note", "joint", text, _SOURCE)
    for name, (dx, dy) in choice.niches_moved().items():
        ways = [
            f"{format_length(abs(by), job.step, job.units)} {word}"
            for by, word in ((dx, "to the right" if dx > 0 else "to the left"), (dy, "up" if dy > 0 else "down"))
            if abs(by) > 1e-6
        ]
        text = f"drawn {' and '.join(ways)} from where the job file has it, within its move; frame it there"
        yield Finding("choice", "note", name, text, _SOURCE)
    for side in sides_that_may_move(choice.asked):
        yield _of_side(choice, side)
    for zone in choice.zones:
        if not zone.examined:
            continue
        words = start_words(choice, zone.wall).removeprefix("START CHOSEN: ")
        proof = proof_words(job, zone.gaps, zone.bound)
        if words and zone.zone == "field":
            yield Finding("choice", "note", zone.wall, f"start chosen: {words}; {proof}", _SOURCE)
        if zone.chosen.slivers:
            count = zone.chosen.slivers
            text = (
                f"{count} edge{'' if count == 1 else 's'} cut to a sliver, and the search found no start without; "
                "widen what is open: the joint, a range at tub or ceiling, the place of a niche"
            )
            yield Finding("choice", "advise", f"{zone.wall} {zone_words(zone.zone) or zone.zone}", text, _SOURCE)


def _of_side(choice: RoomChoice, side: SideMove) -> Finding:
    """Return the note on a side that may move: where it is drawn, or why it stays."""
    job, by = choice.asked, choice.sides.get(side)
    where = " ".join(part for part in side if part)
    if by is None:
        text = (
            'may move, but stays: its place is only searched together with a start, and that is given; write "choose"'
        )
    elif abs(by) <= 1e-6:
        text = "may move, and stands best where the job file has it"
    else:
        text = f"drawn with its side moved, within its move: {side_words(job, side, by)}"
    return Finding("choice", "note", where, text, _SOURCE)
