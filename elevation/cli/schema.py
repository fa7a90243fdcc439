"""``elevation schema``: JSON Schema of the job file or of plan.json."""

from __future__ import annotations

import click

from elevation.cli.common import echo_json
from elevation.job.schema import job_schema
from elevation.plan.schema import plan_schema


@click.command()
@click.option("--plan", "of_plan", is_flag=True, help="The schema of plan.json instead.")
def schema(of_plan: bool) -> None:
    """Print the JSON Schema of the job file, for editors that check while you type."""
    echo_json(plan_schema() if of_plan else job_schema())
