"""The group of commands, and how an error becomes a message and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

import click

from elevation import __version__
from elevation.cli.check import check
from elevation.cli.choose import choose
from elevation.cli.draw import draw
from elevation.cli.explain import explain
from elevation.cli.new import new
from elevation.cli.schema import schema
from elevation.cli.takeoff import takeoff
from elevation.errors import ElevationError

INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="elevation")
def cli() -> None:
    r"""Lay out tiled walls: from the readings of a tape to drawings, cuts and quantities.

    \b
    Begin with    elevation new bath.toml
    then          elevation check bath.toml
    and           elevation draw bath.toml

    Exit codes: 0 done; 1 done, but a finding says stop; 2 the input is wrong, nothing written; 3 the output could not
    be written; 130 interrupted.
    """


for _command in (new, draw, check, choose, takeoff, explain, schema):
    cli.add_command(_command)


def main(args: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    sys.exit(run(args))


def run(args: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code; every message that is not an answer goes to stderr."""
    try:
        code = cli.main(args=list(args) if args is not None else None, prog_name="elevation", standalone_mode=False)
        sys.stdout.flush()
        return code if isinstance(code, int) else 0
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("interrupted", err=True)
        return INTERRUPTED
    except ElevationError as error:
        click.echo(str(error), err=True)
        return error.exit_code
    except BrokenPipeError:
        # the reader of a pipe went away (head, less): nothing to say, and nothing more to flush
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
