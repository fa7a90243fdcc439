"""What tile, mortar and grout weigh on the wall, when the weight of a tile is given."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.job.models import Job
from elevation.layout import LaidFace, LaidZone
from elevation.takeoff.materials import GROUT_KG_PER_LITRE, KG_PER_LB, MM3_PER_LITRE, SUPPLY, WATER
from elevation.takeoff.measure import Units
from elevation.takeoff.mixes import bed_of, grout_volume
from elevation.takeoff.quantity import Quantity, shared_out

_MM2_PER_M2 = 1e6


@dataclass(frozen=True, slots=True)
class Weight:
    """What hangs on the wall, kg a square metre of tiled area: tile, mortar, grout."""

    tile: float
    mortar: float
    grout: float

    @property
    def total(self) -> float:
        """All three together."""
        return self.tile + self.mortar + self.grout


def weight_on(job: Job, zone: LaidZone) -> Weight | None:
    """Return what the tile of a zone weighs with its mortar and grout; ``None``: nobody gave the weight of a tile.

    Whole tiles, joints included, mortar with its mixing water, joints full of grout: the weight before anything dries.
    """
    tile = job.tile[zone.place.tile]
    if tile.weight is None:
        return None
    module = (tile.length + zone.joint) * (tile.width + zone.joint)
    kg = tile.weight * (KG_PER_LB if job.units == "in" else 1.0)
    supply = SUPPLY[job.units]
    powder = supply.bag * (KG_PER_LB if job.units == "in" else 1.0) / supply.bag_yield
    return Weight(
        kg / module * _MM2_PER_M2,
        bed_of(job, tile) * powder * (1 + WATER) * _MM2_PER_M2,
        grout_volume(tile, zone.joint, _MM2_PER_M2) / MM3_PER_LITRE * GROUT_KG_PER_LITRE,
    )


def per_area(job: Job, kg_per_m2: float) -> str:
    """Return a weight on the wall in words: ``6.1 lb/ft2 (30 kg/m2)``, ``30 kg/m2``."""
    metric = f"{kg_per_m2:.0f} kg/m2"
    return metric if job.units == "mm" else f"{kg_per_m2 * 0.3048**2 / KG_PER_LB:.1f} lb/ft2 ({metric})"


def _tenths(value: float) -> str:
    """Return a weight with one decimal: ``4.0``; ``under 0.1`` for what is there though it rounds to nothing."""
    return "under 0.1" if 0 < value < 0.05 else f"{value:.1f}"


def weights(job: Job, laid: Sequence[LaidFace]) -> Iterator[Quantity]:
    """Yield what each tile weighs on the walls with its mortar and grout."""
    units = Units.of(job)
    for name, tile in job.tile.items():
        there = [
            (f.face.wall, z, w) for f in laid for z in f.zones if z.place.tile == name and (w := weight_on(job, z))
        ]
        if not there:
            continue
        shares = [
            (wall.id, units.masses(sum(w.total * z.region.area for at, z, w in there if at == wall.id) / _MM2_PER_M2))
            for wall in job.wall
        ]
        one = there[0][2]
        share = units.masses(1.0) / units.areas(_MM2_PER_M2)
        thing = "sheet" if tile.chip is not None else "tile"
        yield shared_out(
            "weight", name, f"Weight of {tile.name} with mortar and grout", units.mass, shares,
            (
                f"{per_area(job, one.total)}: tile {_tenths(one.tile * share)}, "
                f"mortar {_tenths(one.mortar * share)}, grout {_tenths(one.grout * share)} {units.mass}/{units.area}",
                f"{tile.weight:g} {units.mass} a {thing}, as given; mortar wet, with {WATER * 100:.0f} % of water to "
                "its powder; grout as its powder; board not counted",
                "what the wall carries is for its engineer and the board's maker to say",
            ),
        )  # fmt: skip
