"""``elevation draw``: lay out, check, draw, write the set."""

from __future__ import annotations

from pathlib import Path

import click

from elevation.cli.common import (
    echo_json,
    exit_code,
    findings_data,
    findings_text,
    job_argument,
    json_option,
    progress_bar,
    quiet_option,
)
from elevation.errors import OutputError
from elevation.output.pdf import Printer
from elevation.output.write import write_set
from elevation.pipeline import draw as draw_set
from elevation.pipeline import read, work_out
from elevation.sheets import EDITIONS, PAPERS, SHEETS


@click.command()
@job_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="Folder for the set [default: the job file's name, beside it].",
)
@click.option(
    "--for",
    "edition",
    type=click.Choice([*EDITIONS, "all"]),
    default="installer",
    show_default=True,
    help="Reader of the set.",
)
@click.option(
    "--paper", type=click.Choice(list(PAPERS)), help="Paper [default: tabloid for inches, a3 for millimetres]."
)
@click.option(
    "--only",
    multiple=True,
    type=click.Choice([s.kind for s in SHEETS]),
    help="Draw these kinds of sheet and no others; may be given more than once.",
)
@json_option
@quiet_option
def draw(
    job: str,
    output: Path | None,
    edition: str,
    paper: str | None,
    only: tuple[str, ...],
    as_json: bool,
    quiet: bool,
) -> int:
    """Lay out, check and draw JOB, and write the set.

    Writes set.pdf, sheets/, plan.json, cuts.csv and takeoff.csv. The set is written beside and then renamed: if
    anything fails, what stood there before still stands.
    """
    source = read(job)
    folder = output if output is not None else Path(job).with_suffix("")
    if folder == Path(job):
        raise click.UsageError(f"{job} has no ending to leave out; name the folder with -o")
    with Printer() as printer, progress_bar(quiet=quiet) as progress:
        plan = work_out(source, progress)
        paper = paper or ("tabloid" if plan.job.units == "in" else "a3")
        drawn = draw_set(plan, edition, paper, progress, only, printer)
    write_set(folder, drawn.files, remove=() if not drawn.no_pdf else ("set.pdf",))
    if as_json:
        names = sorted(drawn.files)
        echo_json({"folder": str(folder), "files": names, "findings": findings_data(plan.findings)})
    else:
        full = sum(page.kind == "templates" for page in drawn.pages)
        counts = [f"{len(drawn.pages) - full} sheets on {paper}"] if full < len(drawn.pages) else []
        counts += [f"{full} templates on {'letter' if plan.job.units == 'in' else 'a4'}"] if full else []
        click.echo(f"{folder}: {', '.join(counts)}")
        if not quiet:
            click.echo(findings_text([f for f in plan.findings if f.level != "note"]), err=True)
    if drawn.no_pdf:
        raise OutputError(f"everything but set.pdf was written: {drawn.no_pdf}")
    return exit_code(plan.findings)
