"""Small jobs for tests, built through the same models as a job file."""

from __future__ import annotations

import copy
from typing import Any

from elevation.job.models import Job
from elevation.layout import LaidFace, lay_out
from elevation.pieces import Piece, ZonePieces, make_pieces
from elevation.wall import build_faces

TILE: dict[str, Any] = {
    "name": "Test tile", "length": 300, "width": 150, "thickness": 8, "sampled": 10, "variation": 0.5, "edge": "pressed",
    "box": 20,
}  # fmt: skip
BARE = {"meets": "wall", "joint": 0}


def job_data(*walls: dict[str, Any], units: str = "mm", **more: Any) -> dict[str, Any]:
    """Return the data of a job; keys of ``more`` replace those of the job."""
    data: dict[str, Any] = {
        "title": "Test", "units": units, "joint": 3, "sliver": 25, "tile": {"t": TILE}, "wall": list(walls),
    }  # fmt: skip
    data.update(more)
    return copy.deepcopy(data)


def wall_data(width: Any = 2000, height: Any = 1200, **more: Any) -> dict[str, Any]:
    """Return the data of a wall whose tile runs from border to border, whole at the lower left."""
    data: dict[str, Any] = {
        "id": "A", "title": "Wall", "width": width, "height": height,
        "edges": dict.fromkeys(("left", "right", "bottom", "top"), BARE),
        "layout": {"tile": "t", "pattern": "stacked", "start": {"x": "left", "y": "bottom"}},
    }  # fmt: skip
    data.update(more)
    if "outline" in data or "survey" in data:
        data = {k: v for k, v in data.items() if k not in ("width", "height")}
        if "edges" not in more and "outline" in data:
            data["edges"] = {str(n + 1): BARE for n in range(sum(isinstance(p, list) for p in data["outline"]))}
    return data


def job_of(data: dict[str, Any]) -> Job:
    """Return the validated job."""
    return Job.model_validate(data, context={"units": data["units"]})


def laid_out(data: dict[str, Any]) -> tuple[Job, tuple[LaidFace, ...]]:
    """Return job and laid faces."""
    job = job_of(data)
    return job, lay_out(job, build_faces(job))


def pieces_of(data: dict[str, Any]) -> tuple[ZonePieces, ...]:
    """Return all zones' pieces."""
    return make_pieces(*laid_out(data))


def cuts_by_number(zones: tuple[ZonePieces, ...]) -> dict[str, Piece]:
    """Return every cut by its number."""
    return {p.number: p for z in zones for p in z.pieces if p.number is not None}
