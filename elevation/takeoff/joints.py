"""Soft joints: how long, how wide, and how many cartridges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.geom import EPS
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces import EdgeRun
from elevation.takeoff.counts import wall_of
from elevation.takeoff.formulas import bead_depth, whole_up
from elevation.takeoff.materials import SUPPLY
from elevation.takeoff.measure import Units
from elevation.takeoff.quantity import Quantity, shared_out
from elevation.wall.laps import inside_corners


@dataclass(frozen=True, slots=True)
class Bead:
    """A run of sealant: the wall it is counted on, what it is, its length and its width, least and most; mm."""

    wall: str
    what: str
    length: float
    gap: tuple[float, float]

    @property
    def width(self) -> float:
        """Mean width, mm."""
        return sum(self.gap) / 2


def beads(job: Job, laid: Sequence[LaidFace], runs: Sequence[EdgeRun]) -> tuple[Bead, ...]:
    """Return every bead of sealant, once.

    The corner of two tiled walls is one bead: the longer of its two sides, the wider of their gaps, counted on the
    left wall. A trim that meets a corner with a joint has its bead beyond the trim.
    """
    cutouts = {(f.face.id, c.id): c for f in laid for c in f.face.cutouts}
    corners = {(right, "left"): (left, "right") for left, right in inside_corners(job)}
    by_side = {(r.face, r.side): r for r in runs if not r.of}
    out: list[Bead] = []
    for run in runs:
        if run.gap[1] <= EPS or run.kind == "bare":
            continue
        partner = corners.get((run.face, run.side)) if not run.of else None
        if partner is not None and by_side.get(partner) is not None and by_side[partner].gap[1] > EPS:
            continue
        length, gap = run.length, run.gap
        for right, left in corners.items():
            if not run.of and left == (run.face, run.side) and right in by_side:
                other = by_side[right]
                length = max(length, other.length)
                gap = max(gap[0], other.gap[0]), max(gap[1], other.gap[1])
        cut = cutouts.get((run.face, run.of))
        what = "at holes" if cut is not None and cut.kind == "hole" else "soft joint"
        out.append(Bead(wall_of(run.face), what, length, gap))
    return tuple(out)


def soft_joints(job: Job, laid: Sequence[LaidFace], runs: Sequence[EdgeRun]) -> Iterator[Quantity]:
    """Yield the length of soft joints by width, and the cartridges for them."""
    units, supply = Units.of(job), SUPPLY[job.units]
    found = beads(job, laid, runs)
    kinds: dict[tuple[str, str], list[Bead]] = {}
    for bead in found:
        least, most = units.text(bead.gap[0]), units.text(bead.gap[1])
        width = least if least == most else f"{least.split(f' {job.units}')[0]} to {most}"
        kinds.setdefault((bead.what, width), []).append(bead)
    once = "the corner of two tiled walls is one joint, counted on the left one"
    for (what, width), some in sorted(kinds.items(), key=lambda k: (k[0][0] != "soft joint", k[1][0].gap)):
        shares = [(w.id, units.runs(sum(b.length for b in some if b.wall == w.id))) for w in job.wall]
        words = "Soft joint" if what == "soft joint" else "Gap round holes, hidden by their plates"
        yield shared_out(
            "soft joint", f"{width} {what}", f"{words}, {width} wide", units.run, shares,
            (once,) if what == "soft joint" and len(job.wall) > 1 else (),
        )  # fmt: skip
    joints = [b for b in found if b.what == "soft joint"]
    if not joints:
        return
    volume = sum(b.length * b.width * bead_depth(b.width, supply.least_bead) for b in joints)
    cartridges = whole_up(volume / supply.cartridge)
    depth = f"bead half as deep as it is wide, but not under {units.text(supply.least_bead)}"
    said = (f"{depth}, over backer rod or bond breaker", "nothing added for waste; holes not reckoned")
    yield Quantity("soft joint", "sealant", f"Sealant, {supply.cartridge_text}", cartridges, "cartridges", (), said)
