"""Every tile of a job, cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.cutting.tiles import CuttingPlan, cut_tiles
from elevation.errors import Finding
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces import ZonePieces


def cut_job(job: Job, laid: Sequence[LaidFace], zones: Sequence[ZonePieces]) -> tuple[CuttingPlan, ...]:
    """Return how each tile that is used is cut, in the order of the job's tiles.

    Args:
        job: The job.
        laid: Its faces, for the joint of every zone.
        zones: Its pieces.
    """
    joints = {(f.face.id, z.place.id): z.joint for f in laid for z in f.zones}
    plans = []
    for name, tile in job.tile.items():
        pieces = [p for z in zones for p in z.pieces if p.tile == name]
        cuts = [p for p in pieces if not p.is_whole]
        if pieces:
            plans.append(
                cut_tiles(
                    name, tile, cuts, len(pieces) - len(cuts), job.kerf, reuse=job.reuse, joint=joints,
                    sawn_joints=job.sawn_joints,
                )
            )  # fmt: skip
    return tuple(plans)


def cutting_findings(job: Job) -> Iterator[Finding]:
    """Yield a note where the job lets sawn edges stand at grout joints: the sheets mark edges to measure from."""
    if job.sawn_joints:
        yield Finding(
            "sawn-joints",
            "note",
            "sawn_joints",
            "sawn edges may stand at grout joints: two strokes on the cut sheet show the edge that a size is taken "
            "from, which may be a sawn one here; ease it with a stone before setting",
            "set in the job file",
        )
