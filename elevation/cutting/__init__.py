"""Cut pieces out of tiles and runs of trim out of sticks: the fewest, proved fewest where the bound is met."""

from elevation.cutting.job import cut_job, cutting_findings
from elevation.cutting.sticks import Length, StickCut, StickPlan, cut_sticks
from elevation.cutting.tiles import CuttingPlan, Placement, TileCut, cut_tiles

__all__ = [
    "CuttingPlan",
    "Length",
    "Placement",
    "StickCut",
    "StickPlan",
    "TileCut",
    "cut_job",
    "cut_sticks",
    "cut_tiles",
    "cutting_findings",
]
