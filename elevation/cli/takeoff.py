"""``elevation takeoff``: quantities."""

from __future__ import annotations

import click

from elevation.cli.common import echo_json, exit_code, job_argument, json_option, plan_of, quiet_option
from elevation.output.tables import takeoff_csv
from elevation.plan.as_json import quantity_data
from elevation.takeoff import Quantity


@click.command()
@job_argument
@json_option
@click.option("--csv", "as_csv", is_flag=True, help="Answer in CSV.")
@quiet_option
def takeoff(job: str, as_json: bool, as_csv: bool, quiet: bool) -> int:
    """Print the quantities of JOB: tile, trim, soft joints, grout, mortar, with what was assumed."""
    if as_json and as_csv:
        raise click.UsageError("--json and --csv exclude each other")
    plan = plan_of(job, quiet=quiet)
    if as_json:
        echo_json([quantity_data(q) for q in plan.takeoff])
    elif as_csv:
        click.echo(takeoff_csv(plan).decode().replace("\r\n", "\n"), nl=False)
    else:
        click.echo(_text(plan.takeoff))
    return exit_code(plan.findings)


def _text(quantities: tuple[Quantity, ...]) -> str:
    """Return the quantities as lines, grouped; assumptions below the line they belong to."""
    amounts = [f"{q.amount:,.2f}".rstrip("0").rstrip(".") for q in quantities]
    wide = max((len(a) for a in amounts), default=0)
    lines: list[str] = []
    group = ""
    for quantity, amount in zip(quantities, amounts, strict=True):
        if quantity.group != group:
            group = quantity.group
            lines += ["", group] if lines else [group]
        lines.append(f"  {amount:>{wide}} {quantity.unit:<8} {quantity.description}")
        lines += [f"  {'':>{wide}} {'':<8}   assumed: {a}" for a in quantity.assumptions]
    return "\n".join(lines)
