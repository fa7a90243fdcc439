"""Mitred pieces: tile whose edge is bevelled to meet another tile at an outside corner, on cuts and whole tiles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString

from elevation.geom import EPS, Point
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces.make import ZonePieces
from elevation.pieces.outline import Side
from elevation.pieces.piece import Piece
from elevation.pieces.runs import EdgeRun

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def is_mitre(job: Job, run: EdgeRun, laid: Sequence[LaidFace]) -> bool:
    """Tell whether the tile along an edge is mitred: it names a mitre, or it is the front of a return that meets one.

    Args:
        job: For its trims and walls.
        run: The edge.
        laid: The faces: that of a return knows which recess and which side of it it lines.
    """
    if run.trim is not None:
        return job.trim[run.trim].kind == "mitre"
    face = next(f.face for f in laid if f.face.id == run.face)
    if not face.of or run.side != "front":
        return False
    own = next(f.face for f in laid if f.face.id == face.wall)
    names = {face.kind, {"sill": "bottom", "head": "top"}.get(face.kind, face.kind)}
    edges = [b for b in own.borders if b.of == face.of and b.side in names]
    return any(b.trim is not None and job.trim[b.trim].kind == "mitre" for b in edges)


def mitred_sides(
    job: Job, laid: Sequence[LaidFace], zones: Sequence[ZonePieces], runs: Sequence[EdgeRun]
) -> dict[str, tuple[Side, ...]]:
    """Return which sides of a piece are mitred, by the piece's address; pieces without a mitre are left out."""
    if not any(t.kind == "mitre" for t in job.trim.values()):
        return {}
    by_face: dict[str, list[LineString]] = {}
    for run in runs:
        if is_mitre(job, run, laid):
            by_face.setdefault(run.face, []).extend(LineString(line) for line in run.line)
    found: dict[str, tuple[Side, ...]] = {}
    for zone in zones:
        lines = by_face.get(zone.face)
        if lines is None:
            continue
        # whole tiles may end short of the corner by no more than a joint: nobody cuts a strip for that
        joint = next(f for f in laid if f.face.id == zone.face).zone(zone.zone).joint
        near = _near(lines, joint + EPS)
        for piece in zone.pieces:
            sides = _sides(piece, near)
            if sides:
                found[piece.id] = sides
    return found


def _near(lines: Sequence[LineString], reach: float) -> tuple[shapely.Geometry, shapely.Geometry]:
    """Return what lies within reach of the level stretches of lines, and of the upright ones."""
    level, upright = list[LineString](), list[LineString]()
    for line in lines:
        for p, q in pairwise(line.coords):
            (level if abs(q[0] - p[0]) >= abs(q[1] - p[1]) else upright).append(LineString([p, q]))
    found = [
        shapely.buffer(shapely.union_all(np.array(some, dtype=object)), reach, cap_style="flat")
        for some in (level, upright)
    ]
    return found[0], found[1]


def _sides(piece: Piece, near: tuple[shapely.Geometry, shapely.Geometry]) -> tuple[Side, ...]:
    found = set()
    for p, q in zip(piece.outer, (*piece.outer[1:], piece.outer[0]), strict=True):
        middle = shapely.Point((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        side = _facing(p, q)
        if math.dist(p, q) > EPS and shapely.contains(near[0 if side in ("bottom", "top") else 1], middle):
            found.add(side)
    return tuple(s for s in SIDES if s in found)


def _facing(p: Point, q: Point) -> Side:
    """Return on which side of a piece a stretch of its outline lies; the tile is to the left of the way."""
    dx, dy = q[0] - p[0], q[1] - p[1]
    if abs(dx) >= abs(dy):
        return "bottom" if dx > 0 else "top"
    return "right" if dy > 0 else "left"
