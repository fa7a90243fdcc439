"""Keeps what can be read of a file with errors, so that the rest of it is checked in the same go."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from elevation.job.messages import Fault, faults_of
from elevation.job.models import Job
from elevation.job.paths import Path, at_path

STAND_INS: dict[str, Any] = {
    "title": "?", "name": "?", "thickness": "6 mm", "sampled": 1, "variation": 0, "edge": "pressed", "box": 1,
    "depth": "90 mm", "pattern": "stacked", "joint": 0, "sliver": "0.01 mm",
}  # fmt: skip
"""What takes the place of a value that cannot be read: harmless to every check that follows."""
_TILE = {**STAND_INS, "length": "100 mm", "width": "100 mm"}
_STAND_IN_TILE = {
    key: _TILE[key] for key in ("name", "length", "width", "thickness", "sampled", "variation", "edge", "box")
}
_ROUNDS = 16


class Kept(list[Any]):
    """A list that remembers at which places of the file its items stood."""

    def __init__(self, items: list[Any]) -> None:
        """Keep ``items``, each at the place it has now."""
        super().__init__(items)
        self.origin = list(range(len(items)))

    def drop(self, place: int) -> None:
        """Take out the item at a place."""
        del self[place]
        del self.origin[place]


def read_models(data: dict[str, Any]) -> tuple[Job | None, dict[str, Any], list[Fault]]:
    """Return the job, the data it was read from, and what the models refused.

    With faults, the job is what is left when the tables that could not be read are taken out; ``None`` when that
    is nothing. ``file_path`` tells where a place of the data left stood in the file. ``data["units"]`` must be right.
    """
    kept: dict[str, Any] = _keep(data)
    faults: list[Fault] = []
    gone: set[Path] = set()
    for turn in range(_ROUNDS):
        try:
            return Job.model_validate(kept, context={"units": data["units"]}), kept, faults
        except ValidationError as error:
            found = faults_of(error, kept)
        if turn == 0:
            faults = found
        else:
            # a check of a table as a whole runs only once all its keys can be read, so it may come late
            late = [Fault(file_path(kept, f.path), f.text, f.kind) for f in found if f.kind == "value_error"]
            faults += [f for f in late if not any(g[:-1] == f.path for g in gone)]
        for fault in sorted(found, key=lambda f: _order(f.path), reverse=True):
            _mend(kept, fault, gone)
    return None, kept, faults


def file_path(kept: Any, path: Path) -> Path:
    """Return where a place of the data left after salvage stood in the file."""
    steps: list[str | int] = []
    for step in path:
        known = isinstance(kept, Kept) and isinstance(step, int) and step < len(kept)
        steps.append(kept.origin[step] if known else step)
        kept = at_path(kept, (step,))
    return tuple(steps)


def _keep(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _keep(value) for key, value in data.items()}
    return Kept([_keep(value) for value in data]) if isinstance(data, list) else data


def _order(path: Path) -> tuple[tuple[int, str], ...]:
    """Sort later places and deeper keys behind, so that mending from behind moves nothing still to be mended."""
    return tuple((step, "") if isinstance(step, int) else (-1, step) for step in path)


def _mend(kept: dict[str, Any], fault: Fault, gone: set[Path]) -> None:
    """Replace what cannot be read by a stand-in, or take out the least table that holds it."""
    path = fault.path
    parent = at_path(kept, path[:-1])
    name = path[-1] if path else ""
    if isinstance(parent, dict) and isinstance(name, str):
        if fault.kind == "extra_forbidden":
            parent.pop(name, None)
        elif name in STAND_INS and parent.get(name) != STAND_INS[name]:
            parent[name] = STAND_INS[name]
        elif path == ("tile",):
            kept["tile"] = {"none": dict(_STAND_IN_TILE)}
        elif name == "layout" and path[0] == "wall" and len(path) == 3 and parent.get(name) is not _LAYOUT:
            parent[name] = _LAYOUT
        elif name in parent:
            gone.add(file_path(kept, path))
            del parent[name]
        else:
            _drop(kept, path[:-1], gone)
    elif path:
        _drop(kept, path, gone)


_LAYOUT = {"pattern": "stacked"}
"""Stands in for a wall's layout; the checks know it by its want of a tile."""


def _drop(kept: dict[str, Any], path: Path, gone: set[Path]) -> None:
    if not path:
        return
    parent, step = at_path(kept, path[:-1]), path[-1]
    if isinstance(parent, Kept) and isinstance(step, int) and step < len(parent):
        if isinstance(parent[step], dict) and len(path) > 1 and path[-2] != "outline":
            gone.add(file_path(kept, path))
            parent.drop(step)
        else:
            # a list of lengths or corners with one missing would be another list
            _drop(kept, path[:-1], gone)
    elif isinstance(parent, dict) and step in parent:
        gone.add(file_path(kept, path))
        del parent[step]
