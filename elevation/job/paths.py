"""Key paths: ``wall[1].niche[2].width`` as a person reads it, and as steps through parsed TOML."""

from __future__ import annotations

import json
import re
from typing import Any

Path = tuple[str | int, ...]
"""Steps from the top of the file: names of keys, and places in lists counted from 0."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_NAMED = re.compile(r'(?P<kind>[a-z_]+)(?: "(?P<id>[A-Za-z0-9]+)")?')
_STEP = re.compile(r'(?:^|\.)(?:(?P<bare>[A-Za-z0-9_-]+)|(?P<quoted>"(?:[^"\\]|\\.)*"))|\[(?P<place>[0-9]{1,9})\]')


def key_text(path: Path) -> str:
    """Return a path as messages write it, tables that repeat counted from 1."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            name = step if _BARE.fullmatch(step) else shown(json.dumps(step, ensure_ascii=False))
            text += f".{name}" if text else name
    return text


def read_key(text: str) -> Path | None:
    """Return the steps of a path as written by ``key_text``; ``None`` when it is no path."""
    steps: list[str | int] = []
    at = 0
    while at < len(text):
        match = _STEP.match(text, at)
        if match is None:
            return None
        if match["place"] is not None:
            steps.append(int(match["place"]) - 1)
        else:
            steps.append(match["bare"] if match["bare"] is not None else json.loads(match["quoted"]))
        at = match.end()
    return tuple(steps)


def read_names(text: str, job: Any) -> Path | None:
    """Return the steps of a place that is told by ids, as later stages tell it: ``wall "B", zone "z1", restart``."""
    steps: list[str | int] = []
    at = job
    for word in text.split(", "):
        match = _NAMED.fullmatch(word)
        if match is None:
            return None
        steps.append(match["kind"])
        if match["id"] is not None:
            found = getattr(at, match["kind"], [])
            place = next((i for i, item in enumerate(found) if getattr(item, "id", None) == match["id"]), None)
            if place is None:
                return None
            steps.append(place)
            at = found[place]
    return tuple(steps)


def at_path(data: Any, path: Path) -> Any:
    """Return what stands at a path of parsed TOML; ``None`` when nothing does."""
    for step in path:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int) and 0 <= step < len(data):
            data = data[step]
        else:
            return None
    return data


def shown(text: str, most: int = 48) -> str:
    """Return text fit for one line of a message: blanks run together, odd characters spelled, long text cut."""
    line = " ".join(text.split())
    line = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in line[: 2 * most])
    return line if len(line) <= most else line[: most - 3].rstrip() + "..."
