"""What is counted exactly: areas, tiles, trims."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from elevation.cutting import CuttingPlan, StickPlan
from elevation.cutting.trims import TrimPlan, in_pieces
from elevation.geom import polygon
from elevation.job.models import Job, Tile, Trim
from elevation.job.spares import Spares
from elevation.layout import LaidFace
from elevation.pieces import Piece, ZonePieces
from elevation.takeoff.formulas import whole_up
from elevation.takeoff.measure import Units
from elevation.takeoff.quantity import Quantity, shared_out


def wall_of(face: str) -> str:
    """Return the wall that a face belongs to, by its id: ``B`` for ``B.n1.back``."""
    return face.split(".")[0]


def areas(job: Job, laid: Sequence[LaidFace]) -> Iterator[Quantity]:
    """Yield the wall area, openings not taken off, and the tiled area, in all and by tile."""
    units = Units.of(job)
    gross = [(f.face.id, units.areas(polygon(f.face.outline.ring).area)) for f in laid if f.face.kind == "wall"]
    yield shared_out("area", "wall", "Walls as measured, openings not taken off", units.area, gross)
    tiled = [(w.id, units.areas(sum(v for _, v in tiled_areas(laid, w.id)))) for w in job.wall]
    note = ("joints between tiles included; faces of niches and tiled returns included",)
    yield shared_out("area", "tiled", "Tiled", units.area, tiled, note)
    used = dict.fromkeys(z.place.tile for f in laid for z in f.zones)
    if len(used) > 1:
        for tile in job.tile:
            if tile in used:
                by_wall = [(w.id, sum(v for t, v in tiled_areas(laid, w.id) if t == tile)) for w in job.wall]
                shares = [(wall, units.areas(v)) for wall, v in by_wall]
                yield shared_out("area", tile, f"Tiled with {job.tile[tile].name}", units.area, shares)


def tiled_areas(laid: Sequence[LaidFace], wall: str) -> Iterator[tuple[str, float]]:
    """Yield the tile and the area of every zone on the faces of a wall, mm²."""
    for face in laid:
        if face.face.wall == wall:
            for zone in face.zones:
                yield zone.place.tile, zone.region.area


def tiles(job: Job, zones: Sequence[ZonePieces], cutting: Sequence[CuttingPlan]) -> Iterator[Quantity]:
    """Yield for each tile whole ones, cuts, tiles needed, tiles to order, boxes, and what is left over."""
    for plan in cutting:
        tile = job.tile[plan.tile]
        unit = "tiles" if tile.chip is None else "sheets"
        pieces = [p for z in zones for p in z.pieces if p.tile == plan.tile]

        def count(wanted: Callable[[Piece], bool], pieces: list[Piece] = pieces) -> list[tuple[str, float]]:
            return [(w.id, sum(wanted(p) and wall_of(p.face) == w.id for p in pieces)) for w in job.wall]

        yield shared_out("tile", plan.tile, f"{tile.name}: whole", unit, count(lambda p: p.is_whole))
        yield shared_out("tile", plan.tile, f"{tile.name}: cut pieces", "pieces", count(lambda p: not p.is_whole))
        proof = "proved fewest" if plan.proved else f"no plan needs fewer than {plan.lower_bound}"
        how = (
            f"cuts share tiles as the cutting plan shows, kerf taken off; {proof}"
            if job.reuse
            else "one tile for each cut: no rest is used again"
        )
        yield Quantity("tile", plan.tile, f"{tile.name}: needed", plan.tiles, unit, (), (how,))
        yield from _spares(tile, plan, tile.spares or job.spares, unit)


def _spares(tile: Tile, plan: CuttingPlan, spares: Spares, unit: str) -> Iterator[Quantity]:
    """Yield what is ordered beyond the tiles needed; attic stock is bought apart and never counts as breakage."""
    name = f"{tile.name}: "
    broken = spares.breakage.of(plan.tiles, tile.box)
    extra = f"{spares.breakage} for tiles that break or are miscut (common practice); change it to suit"
    yield Quantity("tile", plan.tile, f"{name}breakage", broken, unit, (), (extra,))
    order = plan.tiles + broken
    yield Quantity("tile", plan.tile, f"{name}to order", order, unit, (), ("needed and breakage, attic stock apart",))
    boxes = whole_up(order / tile.box)
    note = f"{tile.box} {unit} a box, rounded up; order all of one lot and one caliber"
    yield Quantity("tile", plan.tile, f"{name}boxes", boxes, "boxes", (), (note,))
    left = boxes * tile.box - plan.tiles
    yield Quantity("tile", plan.tile, f"{name}spare", left, unit, (), ("if none breaks; keep them for repairs",))
    attic = spares.attic.of(plan.tiles, tile.box)
    if attic:
        kept = whole_up(attic / tile.box)
        note = (
            f"{spares.attic}, {attic} {unit}, in boxes that stay closed and with the owner, on top of those above; of "
            "the same lot"
        )
        yield Quantity("tile", plan.tile, f"{name}attic stock", kept, "boxes", (), (note,))


def trims(job: Job, plans: Sequence[TrimPlan]) -> Iterator[Quantity]:
    """Yield for each trim its length, the sticks or pieces it is cut from, and its corner pieces."""
    units = Units.of(job)
    for plan in plans:
        name, trim = plan.trim, job.trim[plan.trim]
        words = "mitred tile edges" if trim.kind == "mitre" else f"{trim.kind}, {units.text(trim.face)} face"
        shares = [(w.id, units.runs(sum(r.length for r in plan.runs if wall_of(r.face) == w.id))) for w in job.wall]
        yield shared_out("trim", name, f"{name}: {words}", units.run, shares, (_along(trim, plan),))
        if plan.sticks is not None and trim.stock is not None:
            yield _stock(units, trim, plan, plan.sticks)
        for turn, way in (("outside", "round corners of the tile"), ("inside", "with the tile going round them")):
            corners = [wall_of(c.face) for c in plan.corner_pieces if c.turn == turn]
            if corners:
                shares = [(w.id, float(corners.count(w.id))) for w in job.wall]
                yield shared_out("trim", name, f"{name}: corner pieces, {turn}", "pieces", shares, (way,))


def _along(trim: Trim, plan: TrimPlan) -> str:
    """Return over what a trim is measured."""
    if trim.kind == "mitre":
        return "along the tile's edge"
    if not plan.corners:
        return "over its length"
    kinds = {c.kind for c in plan.corners}
    words = {
        "mitre": "corners mitred, long point to long point",
        "butt": "corners butted, the more level run goes through",
        "piece": "corner pieces taken off",
    }
    return "; ".join(words[k] for k in words if k in kinds)


def _stock(units: Units, trim: Trim, plan: TrimPlan, found: StickPlan) -> Quantity:
    assert trim.stock is not None
    proof = "proved fewest" if found.proved else f"no plan needs fewer than {found.lower_bound}"
    said = [f"sold {units.text(trim.stock)} long; {proof}"]
    if in_pieces(trim):
        cut = sum(not p.is_whole for p in plan.pieces)
        said.append(f"{len(plan.pieces) - cut} whole and {cut} cut; nothing added for breakage")
        return Quantity("trim", plan.trim, f"{plan.trim}: pieces", found.sticks, "pieces", (), tuple(said))
    for run in plan.long:
        n = len(run.joints)
        where = "on tile joints" if run.on_tile else "off the tile joints"
        said.append(f"{run.run} is longer than one of them: {n} joint{'s' if n > 1 else ''}, {where}")
    return Quantity("trim", plan.trim, f"{plan.trim}: sticks", found.sticks, "sticks", (), tuple(said))
