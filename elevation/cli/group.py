"""The group of commands, and how an error becomes a message and an exit code."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from collections.abc import Sequence

import click

from elevation import __version__
from elevation.errors import ElevationError

INTERRUPTED = 130
COMMANDS = ("new", "draw", "check", "choose", "takeoff", "explain", "schema")
"""The commands, in the order of the help; each is the function of that name in the module of that name."""


class _Commands(click.Group):
    """Loads a command when it is asked for: most runs need one, and what all of them need takes time to load."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names, in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command; ``None``: there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = getattr(importlib.import_module(f"elevation.cli.{cmd_name}"), cmd_name)
        return command


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="elevation")
def cli() -> None:
    """Lay out tiled walls: from the readings of a tape to drawings, cuts and quantities.

    \b
    Begin with    elevation new bath.toml
    then          elevation check bath.toml
    and           elevation draw bath.toml

    Exit codes: 0 done; 1 done, but a finding says stop; 2 the input is wrong, nothing written; 3 the output could not
    be written; 130 interrupted.
    """  # noqa: D301 - click wants the character itself, not a backslash


def main(args: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    code = run(args)
    # the process is about to go as a whole: without this the collector looks through all of it first
    gc.freeze()
    sys.exit(code)


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
