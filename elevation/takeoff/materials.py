"""What a bag, a box or a cartridge makes: figures of the trade that differ from maker to maker, hence assumptions."""

from __future__ import annotations

from dataclasses import dataclass

from elevation.takeoff.formulas import bed_left
from elevation.units import Unit

GROUT_KG_PER_LITRE = 1.6
"""Powder for a litre of joint, cement grout; published coverage charts imply 1.6 to 1.7."""
GROUT_WASTE = 0.10
"""Usual in published coverage charts."""

WATER = 0.25
"""Water to mortar powder, by weight; 6 qt for a 50 lb bag in published guides; the bag's label overrides it."""

KG_PER_LB = 0.45359237
MM3_PER_LITRE = 1_000_000.0
MM3_PER_FT3 = 304.8**3
MM3_PER_FL_OZ = 29_573.529_562_5

BACK_BUTTER = {"in": 25.4 / 32, "mm": 0.8}
"""Back-buttering: so much more over the tile's back, mm; common practice."""
LARGE = 381.0
"""From a side of 15 in a tile counts as large format."""


@dataclass(frozen=True, slots=True)
class Supply:
    """How mixes are sold.

    Attributes:
        bag: A bag of bonding mortar, in kg or lb.
        bag_text: The same in words.
        bag_yield: Wet mortar out of a bag, mm³; 0.66 ft³ for 50 lb lies in the middle of published coverages.
        cartridge: A cartridge of sealant, mm³.
        cartridge_text: The same in words.
        least_bead: Least depth of a bead, mm.
    """

    bag: float
    bag_text: str
    bag_yield: float
    cartridge: float
    cartridge_text: str
    least_bead: float


SUPPLY: dict[Unit, Supply] = {
    "in": Supply(50.0, "50 lb bag", 0.66 * MM3_PER_FT3, 10.1 * MM3_PER_FL_OZ, "10.1 fl oz cartridge", 3.175),
    "mm": Supply(
        20.0, "20 kg bag", 0.66 * MM3_PER_FT3 * 20 / (50 * KG_PER_LB), 310_000.0, "310 mL cartridge", 3.0
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Trowel:
    """A square-notched trowel by its name and its notch: width, depth, land, mm."""

    name: str
    notch: tuple[float, float, float]

    @property
    def bed(self) -> float:
        """Mean bed it leaves held at 45 degrees, mm."""
        return bed_left(*self.notch, angle=45.0)


TROWELS: dict[Unit, tuple[Trowel, ...]] = {
    "in": (
        Trowel("1/4 x 1/4 in", (6.35, 6.35, 6.35)),
        Trowel("1/4 x 3/8 in", (6.35, 9.525, 6.35)),
        Trowel("1/2 x 1/2 in", (12.7, 12.7, 12.7)),
    ),
    "mm": (
        Trowel("6 mm", (6.0, 6.0, 6.0)),
        Trowel("8 mm", (8.0, 8.0, 8.0)),
        Trowel("10 mm", (10.0, 10.0, 10.0)),
        Trowel("12 mm", (12.0, 12.0, 12.0)),
    ),
}


def trowel_for(bed: float, unit: Unit) -> Trowel:
    """Return the trowel that, held at 45 degrees, leaves a mean bed nearest to ``bed``, mm."""
    return min(TROWELS[unit], key=lambda t: abs(t.bed - bed))
