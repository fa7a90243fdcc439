"""Grout, bonding mortar, board and membrane: estimates, each with its assumptions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.job.models import Job, Tile
from elevation.layout import LaidFace
from elevation.takeoff.counts import tiled_areas
from elevation.takeoff.formulas import grout_depth_per_area, whole_up
from elevation.takeoff.materials import (
    BACK_BUTTER,
    GROUT_KG_PER_LITRE,
    GROUT_WASTE,
    LARGE,
    MM3_PER_LITRE,
    SUPPLY,
    trowel_for,
)
from elevation.takeoff.measure import Units
from elevation.takeoff.quantity import Quantity, shared_out


def grout_volume(tile: Tile, joint: float, area: float) -> float:
    """Return the volume of the joints in a tiled area, mm³; a mosaic is reckoned by its chips.

    Args:
        tile: The tile.
        joint: Grout joint, mm.
        area: Tiled area, joints included, mm².
    """
    length, width = tile.chip or (tile.length, tile.width)
    return area * grout_depth_per_area(length, width, joint, tile.thickness)


def grout(job: Job, laid: Sequence[LaidFace]) -> Iterator[Quantity]:
    """Yield the grout for each tile and joint."""
    units = Units.of(job)
    kinds: dict[tuple[str, float], dict[str, float]] = {}
    for face in laid:
        for zone in face.zones:
            if zone.joint > 0:
                by_wall = kinds.setdefault((zone.place.tile, zone.joint), {})
                by_wall[face.face.wall] = by_wall.get(face.face.wall, 0.0) + zone.region.area
    for (name, joint), by_wall in kinds.items():
        tile = job.tile[name]
        shares = [
            (
                w.id,
                units.masses(
                    grout_volume(tile, joint, by_wall.get(w.id, 0.0))
                    / MM3_PER_LITRE
                    * GROUT_KG_PER_LITRE
                    * (1 + GROUT_WASTE)
                ),
            )
            for w in job.wall
        ]
        width = units.text(joint)
        yield shared_out(
            "grout", f"{name} {width}", f"Grout, {width} joints of {tile.name}", units.mass, shares,
            (
                f"{GROUT_KG_PER_LITRE:g} kg of powder for a litre of joint; the bag's label overrides it",
                f"joints full to the thickness of the tile, {units.text(tile.thickness)}",
                f"{GROUT_WASTE * 100:.0f} % added for waste",
            ),
        )  # fmt: skip


def bed_of(job: Job, tile: Tile) -> float:
    """Return the mean thickness of mortar under a tile, what is buttered on its back included, mm."""
    return job.room.bed + _butter(job, tile) if job.room.bed > 0 else 0.0


def _butter(job: Job, tile: Tile) -> float:
    return BACK_BUTTER[job.units] if tile.length >= LARGE and tile.chip is None else 0.0


def mortar(job: Job, laid: Sequence[LaidFace]) -> Iterator[Quantity]:
    """Yield the bonding mortar for each tile, by the bed of the job, and the bags in all."""
    units, supply, bed = Units.of(job), SUPPLY[job.units], job.room.bed
    if bed <= 0:
        return
    trowel = trowel_for(bed, job.units)
    total = 0.0
    for name, tile in job.tile.items():
        shares, volume = [], 0.0
        butter = _butter(job, tile)
        for wall in job.wall:
            area = sum(v for t, v in tiled_areas(laid, wall.id) if t == name)
            volume += area * (bed + butter)
            shares.append((wall.id, area * (bed + butter) / supply.bag_yield * supply.bag))
        if not volume:
            continue
        total += volume
        said = [
            f"bed of {units.text(bed)} over the tiled area; a notch of {trowel.name} held at 45 degrees leaves "
            f"about {units.text(trowel.bed)}"
        ]
        if butter:
            said.append(f"{units.text(butter)} more on the backs, since a side is 15 in or longer (common practice)")
        yield shared_out("mortar", name, f"Bonding mortar under {tile.name}", units.mass, shares, tuple(said))
    if total:
        made = supply.bag_yield / (304.8**3 if job.units == "in" else MM3_PER_LITRE)
        wet = f"a bag makes {made:.3g} {'ft3' if job.units == 'in' else 'L'} wet"
        note = f"{wet}; published yields differ by up to twice: the bag's label overrides it"
        bags = whole_up(total / supply.bag_yield)
        yield Quantity("mortar", "bags", f"Bonding mortar, {supply.bag_text}", bags, "bags", (), (note,))


def backing(job: Job, laid: Sequence[LaidFace]) -> Iterator[Quantity]:
    """Yield the area of board and membrane that the job still needs, when its walls were measured before them."""
    units, room = Units.of(job), job.room
    shares = [(w.id, units.areas(sum(v for _, v in tiled_areas(laid, w.id)))) for w in job.wall]
    note = ("equal to the tiled area; laps, offcuts and the returns of niches and windows not reckoned",)
    if room.to == "studs" and room.board > 0:
        yield shared_out("backing", "board", f"Backer board, {units.text(room.board)}", units.area, shares, note)
    if room.to != "finish" and room.membrane > 0:
        yield shared_out("backing", "membrane", f"Membrane, {units.text(room.membrane)}", units.area, shares, note)
