"""The whole take-off, heading by heading."""

from __future__ import annotations

from collections.abc import Sequence

from elevation.cutting import CuttingPlan
from elevation.cutting.trims import TrimPlan
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces import EdgeRun, ZonePieces
from elevation.takeoff.counts import areas, tiles, trims
from elevation.takeoff.joints import soft_joints
from elevation.takeoff.mixes import backing, grout, mortar
from elevation.takeoff.quantity import Quantity
from elevation.takeoff.weights import weights


def take_off(
    job: Job,
    laid: Sequence[LaidFace],
    zones: Sequence[ZonePieces],
    runs: Sequence[EdgeRun],
    cutting: Sequence[CuttingPlan],
    sticks: Sequence[TrimPlan],
) -> tuple[Quantity, ...]:
    """Return the quantities of a job, heading by heading, in ft², ft and lb for an inch file, m², m and kg for mm.

    Where a quantity can be shared out, its total is the sum over the walls; the faces of a niche count with its wall.

    Args:
        job: The job.
        laid: Its faces, laid out.
        zones: Its pieces.
        runs: Its edges as built.
        cutting: How each tile is cut.
        sticks: How each trim is cut.
    """
    return (
        *areas(job, laid),
        *tiles(job, zones, cutting),
        *trims(job, sticks),
        *soft_joints(job, laid, runs),
        *grout(job, laid),
        *mortar(job, laid),
        *backing(job, laid),
        *weights(job, laid),
    )
