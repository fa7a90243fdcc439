"""What the commands share: the job argument, options, progress, how findings are printed."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, TypeVar

import click

from elevation.errors import Finding
from elevation.pipeline import STAGES, Progress, read, work_out
from elevation.plan import Plan

Command = TypeVar("Command", bound=Callable[..., Any])

STOPPED = 1


def job_argument(command: Command) -> Command:
    """Add the job file as an argument."""
    return click.argument("job", type=click.Path(path_type=str))(command)


def quiet_option(command: Command) -> Command:
    """Add ``--quiet``."""
    return click.option("-q", "--quiet", is_flag=True, help="Say nothing but answers and errors.")(command)


def json_option(command: Command) -> Command:
    """Add ``--json``."""
    return click.option("--json", "as_json", is_flag=True, help="Answer in JSON.")(command)


@contextmanager
def progress_bar(*, quiet: bool) -> Iterator[Progress]:
    """Show a bar on a terminal, nothing in a pipe; yields what the pipeline calls at each stage."""
    stderr = sys.stderr
    if quiet or not stderr.isatty():
        yield lambda stage: None
        return
    with click.progressbar(length=len(STAGES), file=stderr, show_eta=False, item_show_func=lambda s: s or "") as bar:
        yield lambda stage: bar.update(1, stage)


def plan_of(job: str, *, quiet: bool) -> Plan:
    """Read a job file and work it out."""
    source = read(job)
    with progress_bar(quiet=quiet) as progress:
        return work_out(source, progress)


def exit_code(findings: Sequence[Finding]) -> int:
    """Return 1 when a finding says stop, else 0."""
    return STOPPED if any(f.level == "stop" for f in findings) else 0


def findings_text(findings: Sequence[Finding]) -> str:
    """Return the findings as lines to read, the gravest first; a last line counts them."""
    if not findings:
        return "nothing found"
    lines = []
    for finding in findings:
        lines.append(f"{finding.level:<6} {finding.where}: {finding.text}")
        lines.append(f"       [{finding.rule}; {finding.source}]")
    counts = {level: sum(f.level == level for f in findings) for level in ("stop", "advise", "note")}
    lines.append(", ".join(f"{n} {level}" for level, n in counts.items() if n))
    return "\n".join(lines)


def findings_data(findings: Sequence[Finding]) -> list[dict[str, str]]:
    """Return the findings for JSON."""
    return [{"rule": f.rule, "level": f.level, "where": f.where, "text": f.text, "source": f.source} for f in findings]


def echo_json(data: Any) -> None:
    """Print data as JSON to stdout."""
    click.echo(json.dumps(data, indent=1, ensure_ascii=False))
