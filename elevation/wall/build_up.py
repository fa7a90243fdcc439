"""How thick what is still to come stands in front of what was measured to."""

from __future__ import annotations

from elevation.job.models import Job, Wall


def backing(job: Job) -> float:
    """Return what of a wall's build-up is not tile and bed and stands before what was measured to: its board, mm."""
    return job.room.board if job.room.to == "studs" else 0.0


def in_front(job: Job, wall: Wall) -> float:
    """Return membrane, bed and tile of a wall, whatever was measured to, mm."""
    assert wall.layout.tile is not None
    return job.room.membrane + job.room.bed + job.tile[wall.layout.tile].thickness


def build_up(job: Job, wall: Wall) -> float:
    """Return how far the finished face of a wall stands before what was measured to, mm."""
    if job.room.to == "finish":
        return 0.0
    return backing(job) + in_front(job, wall)
