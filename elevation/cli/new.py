"""``elevation new``: ask for the readings, write a commented job file."""

from __future__ import annotations

from pathlib import Path

import click

from elevation.errors import OutputError
from elevation.job.new import UNITS, WALLS, Question, answer_fault, questions, write_job
from elevation.units import Unit


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False), default="job.toml")
def new(file: Path) -> None:
    """Ask for the readings and write a commented job file to FILE [default: job.toml].

    Every question has a usual answer: press return to take it, and mend the file afterwards.
    """
    if file.exists() and not click.confirm(f"{file} is there already. Write over it?", default=False):
        click.echo(f"{file} was left as it is", err=True)
        return
    unit: Unit = "mm" if _ask(UNITS, "in") == "mm" else "in"
    walls = _ask(WALLS, unit)
    answers = {"units": unit, "walls": walls}
    for question in questions(unit, int(walls)):
        answers[question.key] = _ask(question, unit)
    try:
        file.write_text(write_job(answers), encoding="utf-8")
    except OSError as error:
        raise OutputError(f"{file} could not be written: {error.strerror}") from error
    click.echo(f"{file} is written; look through it, then: elevation draw {file}")


def _ask(question: Question, unit: Unit) -> str:
    """Ask until the answer will do."""
    while True:
        answer: str = click.prompt(question.text, default=question.default, err=True)
        fault = answer_fault(question, answer, unit)
        if not fault:
            return answer
        click.echo(f"{answer} {fault}", err=True)
