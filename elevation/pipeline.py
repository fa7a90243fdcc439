"""Every stage, named once, in order: job, wall, layout, pieces, cutting, take-off, plan, checks, sheets, output."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from pathlib import Path

from elevation.checks import all_findings
from elevation.cutting import cut_job, cutting_findings
from elevation.cutting.trims import cut_trims
from elevation.drawing.marks import Page
from elevation.errors import JobError, OutputError, Problem
from elevation.job.load import Source, read_job
from elevation.job.models import Job
from elevation.layout import choice_findings, choose, layout_findings
from elevation.output.pdf import Printer, pages_pdf
from elevation.output.svg import page_svg
from elevation.output.tables import cuts_csv, plan_json, takeoff_csv
from elevation.pieces import edge_runs, make_pieces
from elevation.plan import Plan
from elevation.plan.layout_data import count_tiles
from elevation.sheets import compose_set
from elevation.takeoff import take_off
from elevation.wall import build_faces, wall_findings

Progress = Callable[[str], None]
STAGES = ("walls", "layout", "pieces", "cutting", "take-off", "checks", "sheets", "drawing", "PDF")
"""What ``Progress`` is told, in order, each stage once."""


def _silent(stage: str) -> None:
    """Say nothing."""


def read(path: Path | str) -> Source:
    """Read a job file.

    Raises:
        JobError: It is wrong; every fault in one go.
    """
    return read_job(path)


def work_out(source: Source, progress: Progress = _silent) -> Plan:
    """Return the plan of a job: all that can be said before anything is drawn.

    Raises:
        JobError: The job cannot be laid out: gaps that leave no room, starts that stand on nothing.
    """
    try:
        progress("walls")
        faces = build_faces(source.job)
        progress("layout")
        choice = choose(source.job, faces, count=count_tiles)
        job, laid = choice.job, choice.laid
        progress("pieces")
        zones = make_pieces(job, laid)
    except JobError as error:
        raise JobError([source.locate(p) for p in error.problems], source.file) from error
    runs = edge_runs(laid)
    progress("cutting")
    cutting = cut_job(job, laid, zones)
    trims = cut_trims(job, laid, zones)
    progress("take-off")
    quantities = take_off(job, laid, zones, runs, cutting, trims)
    plan = Plan(job, source.file, source.fingerprint, laid, zones, runs, cutting, trims, quantities, choice=choice)
    progress("checks")
    said = (*wall_findings(job), *layout_findings(job, laid), *choice_findings(choice), *cutting_findings(job))
    return replace(plan, findings=all_findings(plan, (*source.notes, *said)))


@dataclass(frozen=True, slots=True)
class DrawnSet:
    """The set as it will be written.

    Attributes:
        pages: Every sheet, in order.
        files: Name inside the folder and content.
        no_pdf: Why there is no set.pdf among them, and what to install; empty when there is one.
    """

    pages: tuple[Page, ...]
    files: dict[str, bytes]
    no_pdf: str = ""


def draw(
    plan: Plan,
    edition: str,
    paper: str,
    progress: Progress = _silent,
    only: Collection[str] = (),
    printer: Printer | None = None,
) -> DrawnSet:
    """Return the whole set of an edition on a paper, or only some kinds of sheet; nothing is written.

    SVG, JSON and CSV need no library outside Python; where cairo is missing the set comes without its PDF.

    Args:
        plan: The job, worked out.
        edition: Who reads the set.
        paper: Name of the paper.
        progress: Told of each stage.
        only: Kinds of sheet to draw; empty: all.
        printer: Makes the PDF beside the other files; ``None``: it is made here, after them.

    Raises:
        JobError: Only some kinds are asked for, and the job has nothing to show on them.
    """
    progress("sheets")
    pages = compose_set(plan, edition, paper, only)
    if not pages:
        text = f"this job has nothing to draw on {' or '.join(only)} for this reader"
        raise JobError([Problem("", text)], plan.file)
    title, date = plan.job.title, _iso_date(plan.job)
    if printer is not None:
        printer.start(pages, title, date)
    progress("drawing")
    names = [f"sheets/{n:02d}-{page.kind}-{page.id}.svg" for n, page in enumerate(pages, 1)]
    files = {name: page_svg(page) for name, page in zip(names, pages, strict=True)}
    files["plan.json"] = plan_json(plan)
    files["cuts.csv"] = cuts_csv(plan)
    files["takeoff.csv"] = takeoff_csv(plan)
    progress("PDF")
    try:
        files["set.pdf"] = printer.finish() if printer is not None else pages_pdf(pages, title, date)
    except OutputError as error:
        return DrawnSet(pages, files, str(error))
    return DrawnSet(pages, files)


def _iso_date(job: Job) -> str | None:
    """Return the job's date as YYYY-MM-DD; ``None`` when it has none or writes it in words of its own."""
    try:
        return datetime.date.fromisoformat(str(job.date)).isoformat()
    except ValueError:
        return None
