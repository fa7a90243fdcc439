"""Every trim: its runs, its corners, and the sticks or pieces they are made of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from elevation.cutting.stick_joints import LongRun, cut_on_joints
from elevation.cutting.sticks import StickPlan
from elevation.cutting.trim_ends import EndCut, EndKind, TrimCorner
from elevation.cutting.trim_pieces import TrimPiece, cut_pieces, lay_pieces
from elevation.cutting.trim_runs import TrimRun, trim_runs, with_tiles
from elevation.job.models import Job, Trim
from elevation.layout import LaidFace
from elevation.pieces import ZonePieces


@dataclass(frozen=True, slots=True)
class TrimPlan:
    """A trim: its runs, and what they are made of.

    Attributes:
        trim: Its id.
        runs: Its runs, wall by wall.
        sticks: Sticks, or pieces, that it is cut from; ``None`` without a stock length, and for a mitre of two tiles.
        corners: Where two of its runs meet, or one meets a run of another trim: told of the run that comes first.
        long: Runs that are longer than a stick, with their joints; none where the trim comes in pieces.
        pieces: Bullnose and liner: the pieces of every run.
    """

    trim: str
    runs: tuple[TrimRun, ...]
    sticks: StickPlan | None
    corners: tuple[TrimCorner, ...] = ()
    long: tuple[LongRun, ...] = ()
    pieces: tuple[TrimPiece, ...] = ()

    @property
    def corner_pieces(self) -> tuple[TrimCorner, ...]:
        """The corners that take a bought corner piece."""
        return tuple(c for c in self.corners if c.kind == "piece")


def in_pieces(trim: Trim) -> bool:
    """Tell whether a trim is laid in pieces, joint by joint, rather than cut from sticks."""
    return trim.kind in ("bullnose", "liner")


def cut_trims(job: Job, laid: Sequence[LaidFace], zones: Sequence[ZonePieces]) -> tuple[TrimPlan, ...]:
    """Return a plan for each trim of the job that is used, in the order of the job.

    Args:
        job: The job.
        laid: Its faces, laid out.
        zones: Its pieces: their joints are where the joints of long runs go.
    """
    bare, corners = trim_runs(job, laid)
    widest = {f.face.id: max(z.joint for z in f.zones) for f in laid}
    by_face = {f: [p for z in zones if z.face == f for p in z.pieces] for f in dict.fromkeys(r.face for r in bare)}
    runs = [with_tiles(r, by_face[r.face], widest[r.face]) for r in bare]
    plans = []
    for name, trim in job.trim.items():
        own = tuple(r for r in runs if r.trim == name)
        if not own:
            continue
        met = tuple(c for c in corners if c.trims[0] == name)
        if trim.stock is None or trim.kind == "mitre":
            plans.append(TrimPlan(name, own, None, met))
        elif in_pieces(trim):
            pieces = tuple(p for r in own for p in lay_pieces(r, trim, job.sliver))
            plans.append(TrimPlan(name, own, cut_pieces(job, trim, own, pieces), met, pieces=pieces))
        else:
            joints = {r.id: r.tile_joints for r in own}
            sticks, long = cut_on_joints([(r.id, r.length) for r in own], joints, trim.stock, job.kerf)
            plans.append(TrimPlan(name, own, sticks, met, long))
    return tuple(plans)


__all__ = ["EndCut", "EndKind", "LongRun", "TrimCorner", "TrimPiece", "TrimPlan", "TrimRun", "cut_trims", "in_pieces"]
