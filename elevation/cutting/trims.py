"""Every run of every trim, and the sticks they are cut from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from elevation.cutting.sticks import StickPlan, cut_sticks
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces import EdgeRun
from elevation.units import Mm


@dataclass(frozen=True, slots=True)
class TrimRun:
    """One unbroken run of trim.

    Attributes:
        id: Side it stands at, ``B n1 sill``; a second stretch of the same side gets ``/2``.
        face: Id of the face.
        length: Length over its outer edge, mm.
    """

    id: str
    face: str
    length: Mm


@dataclass(frozen=True, slots=True)
class TrimPlan:
    """A trim: its runs, and the sticks they are cut from; ``sticks`` is ``None`` without a stock length in the job."""

    trim: str
    runs: tuple[TrimRun, ...]
    sticks: StickPlan | None


def cut_trims(job: Job, laid: Sequence[LaidFace], runs: Sequence[EdgeRun]) -> tuple[TrimPlan, ...]:
    """Return a plan for each trim of the job that is used, in the order of the job; mitres of tile need no stick."""
    faces = {f.face.id: f for f in laid}
    plans = []
    for name, trim in job.trim.items():
        used = [t for run in runs if run.trim == name for t in _trim_runs(job, faces[run.face], run)]
        if not used or trim.kind == "mitre":
            continue
        sticks = cut_sticks([(t.id, t.length) for t in used], trim.stock, job.kerf) if trim.stock is not None else None
        plans.append(TrimPlan(name, tuple(used), sticks))
    return tuple(plans)


def _trim_runs(job: Job, face: LaidFace, run: EdgeRun) -> list[TrimRun]:
    """Return the stretches of one side, each as long as the trim's outer edge.

    At a corner with another trimmed side the two are mitred: round a niche the trim lies inside the tile's edge and is
    shorter by the joint at either end, at the wall's border it lies outside and is longer by its whole width.
    """
    assert run.trim is not None
    trim = job.trim[run.trim]
    inside = any(c.id == run.of for c in face.face.cutouts)
    change = -trim.joint if inside else trim.face + trim.joint
    ends = _trimmed_neighbours(face, run) if len(run.line) == 1 else 0
    lengths = [sum(math.dist(p, q) for p, q in pairwise(line)) for line in run.line]
    return [
        TrimRun(run.name if n == 1 else f"{run.name}/{n}", run.face, length + ends * change)
        for n, length in enumerate(lengths, 1)
    ]


def _trimmed_neighbours(face: LaidFace, run: EdgeRun) -> int:
    """Return how many of the two sides next to a side are trimmed too."""
    shapes = [face.face.outline, *(c.shape for c in face.face.cutouts), *(z.shape for z in face.face.zones if z.shape)]
    for shape in shapes:
        order = list(dict.fromkeys(shape.borders))
        names = [(face.edges[i].border.of, face.edges[i].border.side) for i in order]
        if (run.of, run.side) in names:
            at = names.index((run.of, run.side))
            beside = (order[at - 1], order[(at + 1) % len(order)])
            return sum(face.edges[i].border.kind == "trim" for i in beside)
    return 0
