"""The frozen bundle of all that the stages found out about a job; what checks and sheets read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from shapely.geometry import Polygon

from elevation.cutting import CuttingPlan
from elevation.cutting.trims import TrimPlan
from elevation.errors import Finding
from elevation.job.models import Job, Tile
from elevation.layout import LaidFace, RoomChoice
from elevation.layout.sensitivity import EdgeSensitivity, sensitivity
from elevation.pieces import Piece, ZonePieces
from elevation.pieces.hole_centres import HoleCentre, hole_centres
from elevation.pieces.measure import Measure, measure_pieces
from elevation.pieces.mitres import mitred_sides
from elevation.pieces.outline import Side
from elevation.pieces.runs import EdgeRun
from elevation.plan.along import ShapeTree, shapes_of
from elevation.takeoff import Quantity


@dataclass(frozen=True)
class Plan:
    """A job, worked out.

    Attributes:
        job: What the user wrote, lengths in mm.
        file: Name of the job file, as given.
        fingerprint: First 8 hexadecimal digits of the job file's SHA-256: tells a superseded sheet.
        faces: Every face laid out: each wall, then the faces of its niches.
        zones: The pieces of every zone of every face, in the same order.
        runs: Every edge as built: soft joints, trims, bare edges, with their lengths.
        cutting: Cut pieces into tiles, one for each tile used.
        trims: Trims into sticks, one for each trim used.
        takeoff: Quantities.
        findings: What loading, the stages and the rules have to say.
        choice: How the starts came about, with the layouts that were offered; ``None``: not kept.
    """

    job: Job
    file: str
    fingerprint: str
    faces: tuple[LaidFace, ...]
    zones: tuple[ZonePieces, ...]
    runs: tuple[EdgeRun, ...]
    cutting: tuple[CuttingPlan, ...]
    trims: tuple[TrimPlan, ...]
    takeoff: tuple[Quantity, ...]
    findings: tuple[Finding, ...] = ()
    choice: RoomChoice | None = None

    @cached_property
    def walls(self) -> tuple[LaidFace, ...]:
        """The faces that are walls themselves, in the order of the job."""
        return tuple(f for f in self.faces if f.face.kind == "wall")

    def face(self, name: str) -> LaidFace:
        """Return the face of that id."""
        return next(f for f in self.faces if f.face.id == name)

    def faces_of(self, wall: str) -> tuple[LaidFace, ...]:
        """Return a wall and all its faces."""
        return tuple(f for f in self.faces if f.face.wall == wall)

    @cached_property
    def trim_tags(self) -> dict[str, str]:
        """The tag of every run of trim, by its id: what the sheets call it."""
        return {r.id: r.tag for t in self.trims for r in t.runs}

    @cached_property
    def _by_face(self) -> dict[str, tuple[Piece, ...]]:
        return {f.face.id: tuple(p for z in self.zones if z.face == f.face.id for p in z.pieces) for f in self.faces}

    def pieces_of(self, face: str) -> tuple[Piece, ...]:
        """Return every piece on a face, zone by zone, course by course from below, from the left."""
        return self._by_face[face]

    def courses(self, face: str, zone: str) -> Iterator[tuple[int, tuple[Piece, ...]]]:
        """Yield course number and pieces of a zone, from below, each from the left."""
        found = next(z for z in self.zones if (z.face, z.zone) == (face, zone))
        for course, pieces in groupby(found.pieces, key=lambda p: p.course):
            yield course, tuple(pieces)

    @cached_property
    def cuts(self) -> tuple[Piece, ...]:
        """Every piece that needs the saw, in the order of faces, courses, places."""
        return tuple(p for z in self.zones for p in z.pieces if not p.is_whole)

    @cached_property
    def by_id(self) -> dict[str, Piece]:
        """Every piece by its address."""
        return {p.id: p for z in self.zones for p in z.pieces}

    @cached_property
    def tile_no(self) -> dict[str, int]:
        """The number of the tile that a piece is cut from, by the piece's id; numbers run tile by tile of the job."""
        return {p: cut.tile_no for plan in self.cutting for cut in plan.plan for p in cut.pieces}

    @cached_property
    def measures(self) -> dict[str, Measure]:
        """The printed numbers of every cut piece, by its address: the same on every sheet and in every file."""
        return measure_pieces(self.job, self.faces, self.zones, self.runs)

    @cached_property
    def mitred(self) -> dict[str, tuple[Side, ...]]:
        """Which sides of a piece are mitred, by its address; whole tiles too, pieces without a mitre left out."""
        return mitred_sides(self.job, self.faces, self.zones, self.runs)

    @cached_property
    def _along(self) -> dict[str, tuple[Piece, ...]]:
        trees = {f.face.id: ShapeTree(self.pieces_of(f.face.id), self.shapes) for f in self.faces}
        return {run.name: trees[run.face].along(run) for run in self.runs}

    @cached_property
    def shapes(self) -> dict[str, Polygon]:
        """The outline of every piece as a shapely polygon, by the piece's address; mm on its face."""
        pieces = [p for z in self.zones for p in z.pieces]
        return dict(zip((p.id for p in pieces), shapes_of(pieces), strict=True))

    def along(self, run: EdgeRun) -> tuple[Piece, ...]:
        """Return the pieces that end at an edge."""
        return self._along[run.name]

    @cached_property
    def sensitivity(self) -> tuple[EdgeSensitivity, ...]:
        """What the tape does to the smallest cut of every edge of every wall."""
        return sensitivity(self.job, self.faces)

    @cached_property
    def hole_centres(self) -> tuple[HoleCentre, ...]:
        """The centre of every hole, from its wall and from the tiles that it is cut in."""
        found = ((f, self.pieces_of(f.face.id)) for f in self.faces)
        return tuple(h for f, pieces in found for h in hole_centres(f, pieces, self.shapes, self.measures))

    def tile(self, piece: Piece) -> Tile:
        """Return the tile that a piece is cut from."""
        return self.job.tile[piece.tile]
