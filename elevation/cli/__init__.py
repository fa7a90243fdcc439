"""The command line: thin commands, one a file; the one place that prints and sets exit codes."""

from __future__ import annotations

from elevation.cli.group import main

__all__ = ["main"]
