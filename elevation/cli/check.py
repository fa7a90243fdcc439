"""``elevation check``: findings only."""

from __future__ import annotations

import click

from elevation.cli.common import (
    echo_json,
    exit_code,
    findings_data,
    findings_text,
    job_argument,
    json_option,
    plan_of,
    quiet_option,
)


@click.command()
@job_argument
@json_option
@quiet_option
def check(job: str, as_json: bool, quiet: bool) -> int:
    """Check JOB and print what was found, each with its source; nothing is written."""
    findings = plan_of(job, quiet=quiet).findings
    if as_json:
        echo_json(findings_data(findings))
    elif quiet:
        click.echo(findings_text([f for f in findings if f.level != "note"]))
    else:
        click.echo(findings_text(findings))
    return exit_code(findings)
