"""Rules, each with its source. One file each; adding one means adding it to ``RULES``."""

from __future__ import annotations

import re
from collections.abc import Iterable

from elevation.checks.band_courses import BandCourses
from elevation.checks.base import Rule, Source
from elevation.checks.corner_edge import CornerEdge
from elevation.checks.cover_plate import CoverPlate
from elevation.checks.few_samples import FewSamples
from elevation.checks.flatness import Flatness
from elevation.checks.full_tile import FullTile
from elevation.checks.grab_bar import GrabBar
from elevation.checks.half_tile import HalfTile
from elevation.checks.hole_edge import HoleEdge
from elevation.checks.hole_gap import HoleGap
from elevation.checks.hole_joint import HoleJoint
from elevation.checks.joint_minimum import JointMinimum
from elevation.checks.joint_variation import JointVariation
from elevation.checks.light_zone import LightZone
from elevation.checks.mitre_side import MitreSide
from elevation.checks.mixed_tiles import MixedTiles
from elevation.checks.niche_bay import NicheBay
from elevation.checks.niche_depth import NicheDepth
from elevation.checks.niche_joints import NicheJoints
from elevation.checks.nominal_tile import NominalTile
from elevation.checks.offset_joint import OffsetJoint
from elevation.checks.offset_limit import OffsetLimit
from elevation.checks.outlet_zone import OutletZone
from elevation.checks.perimeter_gap import PerimeterGap
from elevation.checks.safety_glazing import SafetyGlazing
from elevation.checks.shelf_course import ShelfCourse
from elevation.checks.sliver import Sliver
from elevation.checks.soft_joint_spacing import SoftJointSpacing
from elevation.checks.soft_joint_width import SoftJointWidth
from elevation.checks.tape import Tape
from elevation.checks.taper import Taper
from elevation.checks.tile_weight import TileWeight
from elevation.checks.trim_corner import TrimCorners
from elevation.checks.trim_height import TrimHeight
from elevation.checks.trim_joint import TrimJoint
from elevation.checks.uncovered import Uncovered
from elevation.checks.unlikely_size import UnlikelySize
from elevation.checks.wet_height import WetHeight
from elevation.checks.zone_joints import ZoneJoints
from elevation.errors import Finding
from elevation.plan import Plan

RULES: tuple[Rule, ...] = (
    Uncovered(),
    UnlikelySize(),
    Sliver(),
    HalfTile(),
    FullTile(),
    Taper(),
    Tape(),
    NominalTile(),
    FewSamples(),
    JointMinimum(),
    JointVariation(),
    OffsetLimit(),
    OffsetJoint(),
    MixedTiles(),
    BandCourses(),
    ZoneJoints(),
    SoftJointWidth(),
    PerimeterGap(),
    SoftJointSpacing(),
    TrimHeight(),
    TileWeight(),
    TrimJoint(),
    TrimCorners(),
    MitreSide(),
    CornerEdge(),
    NicheBay(),
    NicheDepth(),
    NicheJoints(),
    ShelfCourse(),
    CoverPlate(),
    HoleGap(),
    HoleEdge(),
    HoleJoint(),
    Flatness(),
    WetHeight(),
    SafetyGlazing(),
    LightZone(),
    OutletZone(),
    GrabBar(),
)

_GRAVEST = ("stop", "advise", "note")
_WALL_KEY = re.compile(r"wall\[(\d+)\]")


def all_findings(plan: Plan, notes: Iterable[Finding] = ()) -> tuple[Finding, ...]:
    """Return what the rules, and the stages before them, have to say.

    Args:
        plan: The plan.
        notes: Findings of the stages: keys that nothing reads, laps, edges with a range.

    Returns:
        The gravest first, then in the order of the walls, the whole job before them.
    """
    found = [*notes, *(f for rule in RULES for f in rule.check(plan))]
    walls = [w.face.id for w in plan.walls]
    return tuple(sorted(found, key=lambda f: (_GRAVEST.index(f.level), _turn(walls, f.where))))


def _turn(walls: list[str], where: str) -> int:
    """Return the place of a finding's wall in the job, from 1; 0 for the whole job."""
    if (key := _WALL_KEY.match(where)) is not None:
        return int(key[1])
    name = re.split(r"[ .]", where, maxsplit=1)[0]
    return walls.index(name) + 1 if name in walls else 0


__all__ = ["RULES", "Rule", "Source", "all_findings"]
