"""``elevation choose``: the best layouts side by side, with reasons; ``--keep`` writes one into the job file."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from elevation.cli.common import echo_json, job_argument, json_option, quiet_option
from elevation.errors import JobError, OutputError
from elevation.job.keep import keep as keep_text
from elevation.job.keep import start_value
from elevation.job.load import Source
from elevation.layout import Candidate, RoomChoice, told_apart
from elevation.layout import choose as choose_layout
from elevation.layout.choose import obvious
from elevation.layout.freedoms import Freedom, freedoms
from elevation.layout.margin import EdgeMargin, in_words, margins
from elevation.layout.proof import proof_words
from elevation.layout.reasons import why
from elevation.pipeline import read
from elevation.plan.layout_data import count_tiles
from elevation.units import format_length
from elevation.wall import build_faces

_COLUMNS = ("slivers", "asked", "under-half", "balance", "aligned", "narrowest", "cuts")


@click.command()
@job_argument
@click.option("--keep", "number", type=click.IntRange(min=1), metavar="N", help="Write choice N into the job file.")
@json_option
@quiet_option
def choose(job: str, number: int | None, as_json: bool, quiet: bool) -> int:
    """Show the best layouts of JOB side by side, and why the first is first.

    Every wall with start = "choose" is laid out, with the joint, the niches and the soft joints that the job leaves
    open. --keep N writes choice N into the job file: comments and everything else stay as they are.
    """
    source = read(job)
    try:
        choice = choose_layout(source.job, build_faces(source.job), count=count_tiles)
    except JobError as error:
        raise JobError([source.locate(p) for p in error.problems], source.file) from error
    if not choice.candidates:
        if number is not None:
            raise click.UsageError(f'{job} leaves nothing to choose; write start = "choose" in a wall\'s layout')
        _answer(as_json, {"candidates": []}, f'{job} leaves nothing to choose: no wall has start = "choose"')
        return 0
    if number is not None:
        return _keep(job, source, choice, number, as_json=as_json, quiet=quiet)
    usual, free = obvious(choice), freedoms(choice)
    slack = margins(source.job, choice.candidates[0])
    _answer(as_json, choice_data(choice, usual, free, slack), choice_text(choice, usual, free, slack))
    return 0


def _answer(as_json: bool, data: Any, text: str) -> None:
    if as_json:
        echo_json(data)
    else:
        click.echo(text)


def _keep(job: str, source: Source, choice: RoomChoice, number: int, *, as_json: bool, quiet: bool) -> int:
    if number > len(choice.candidates):
        raise click.UsageError(f"there is no choice {number}; there are {len(choice.candidates)}")
    chosen = choice.candidates[number - 1]
    path = Path(job)
    kept = keep_text(path.read_text(encoding="utf-8"), source.job, chosen.job)
    _replace(path, kept.text)
    lines = [f"{job}: choice {number} written", *(f"  {key} = {value}" for key, value in kept.changed)]
    data = {"kept": number, "changed": [{"key": key, "value": value} for key, value in kept.changed]}
    if as_json or not quiet:
        _answer(as_json, data, "\n".join(lines))
    return 0


def _replace(path: Path, text: str) -> None:
    """Write a file beside and rename it, so that a full disk does not cost the job file."""
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name)
        beside = Path(name)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
                file.write(text)
            beside.chmod(path.stat().st_mode)
            beside.replace(path)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise OutputError(f"{path} could not be written: {error.strerror}; it is as it was") from error


def choice_data(
    choice: RoomChoice, usual: Sequence[Candidate], free: Sequence[Freedom], slack: Sequence[EdgeMargin]
) -> dict[str, Any]:
    """Return the answer for JSON; lengths in mm."""
    return {
        "candidates": [
            {**candidate_data(c), "apart": {wall: list(words) for (wall, _), words in apart.items()}}
            for c, apart in zip(choice.candidates, told_apart(choice.candidates), strict=True)
        ],
        "why": [why(choice.candidates[0].terms, c.terms, choice.asked) for c in choice.candidates[1:]],
        "usual": [{"start": s, **candidate_data(c)} for s, c in zip(("joint", "tile"), usual, strict=True)],
        "freedoms": [{"text": f.text, "taken": f.taken} for f in free],
        "margin": [
            {"face": m.face, "edge": m.edge, "reading": m.reading, "inward": round(m.inward, 4),
             "outward": round(m.outward, 4)}
            for m in slack
        ],
        "examined": sum(z.examined for z in choice.zones),
        "proved": all(z.proved for z in choice.zones if z.examined),
        "bound": max((z.bound for z in choice.zones), default=0.0),
    }  # fmt: skip


def candidate_data(candidate: Candidate) -> dict[str, Any]:
    """Return a layout for JSON."""
    unit = candidate.job.units
    starts = {w: start_value(candidate.start(w), unit).as_string() for w in sorted(candidate.open)}
    return {
        "number": candidate.number, "joint": round(candidate.joint, 4), "starts": starts,
        "terms": candidate.terms.by_name(), "words": candidate.words,
    }  # fmt: skip


def choice_text(
    choice: RoomChoice, usual: Sequence[Candidate], free: Sequence[Freedom], slack: Sequence[EdgeMargin]
) -> str:
    """Return the answer to read: a table, the layouts in words, why, freedoms, margin."""
    job = choice.asked
    rows: list[tuple[str, ...]] = [("choice", "joint", *_COLUMNS)]
    named = [*((str(c.number), c) for c in choice.candidates), ("joint", usual[0]), ("tile", usual[1])]
    rows.extend((name, *_row(c)) for name, c in named)
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    lines = ["  ".join(cell.rjust(w) for cell, w in zip(row, widths, strict=True)) for row in rows]
    lines += ["joint, tile: a joint or a tile midway on every open wall, whole tiles at the bottom", ""]
    for c, apart in zip(choice.candidates, told_apart(choice.candidates), strict=True):
        lines.append(f"{c.number}  {c.words}")
        lines.extend(f"   wall {wall}: {'; '.join(words)}" for (wall, _), words in apart.items())
        lines.extend(f"   wall {w}: start = {start_value(c.start(w), job.units).as_string()}" for w in sorted(c.open))
    first = choice.candidates[0]
    lines.append("")
    lines.extend(f"1 before {c.number}: {why(first.terms, c.terms, job)}" for c in choice.candidates[1:])
    for name, c in zip(("joint midway", "tile midway"), usual, strict=True):
        same = "comes to the same" if first.terms.key(job.room.prefer) == c.terms.key(job.room.prefer) else None
        lines.append(f"1 against a {name}, whole tiles at the bottom: {same or why(first.terms, c.terms, job)}")
    lines.extend(f"{'used' if f.taken else 'open'}: {f.text}" for f in free)
    lines.append(f"most depends on {in_words(job, slack)}")
    lines.append(proof_text(choice))
    return "\n".join(lines)


def proof_text(choice: RoomChoice) -> str:
    """Return how far the answer is proved."""
    searched = [z for z in choice.zones if z.examined]
    examined = sum(z.examined for z in searched)
    gaps = list(dict.fromkeys(gap for z in searched for gap in z.gaps))
    proof = proof_words(choice.asked, gaps, max(z.bound for z in searched))
    return f"{examined:,} starts judged; {proof}"


def _row(candidate: Candidate) -> tuple[str, ...]:
    job, terms = candidate.job, candidate.terms
    return (
        format_length(candidate.joint, job.step / 2, job.units), str(terms.slivers), str(terms.asked),
        str(terms.under_half), format_length(terms.balance, job.step, job.units), str(terms.aligned),
        f"{terms.narrowest:.0%}", str(terms.cuts),
    )  # fmt: skip
