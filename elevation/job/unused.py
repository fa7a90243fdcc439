"""Keys that a job file may hold and that no stage reads yet: each gives one note, so that nobody relies on it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from elevation.errors import Finding
from elevation.job.paths import Path, key_text

RULE = "unused-key"
UNUSED: tuple[str, ...] = ()
"""Take a key out of this table in the change that makes a stage read it."""


def unused_notes(data: dict[str, Any]) -> tuple[Finding, ...]:
    """Return one note for each key in the file that nothing reads yet."""
    return tuple(
        Finding(RULE, "note", key_text(path), "Is read and checked, but changes nothing yet.", "this program")
        for key in UNUSED
        for path in _written((), data, key.split("."))
    )


def _written(path: Path, data: Any, steps: list[str]) -> Iterator[Path]:
    """Yield the paths at which a key is written; lists are gone through, ``*`` stands for every id."""
    if not steps:
        yield path
    elif isinstance(data, list):
        for i, item in enumerate(data):
            yield from _written((*path, i), item, steps)
    elif isinstance(data, dict):
        for name in data if steps[0] == "*" else [steps[0]] if steps[0] in data else []:
            yield from _written((*path, name), data[name], steps[1:])
