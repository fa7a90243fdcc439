"""Checks that need more than one key of the file: names, ties, places, sizes. Adding one means adding it here."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from elevation.job.cross.corners import outside_corners
from elevation.job.cross.moves import sides_may_move
from elevation.job.cross.names import edge_sides, names_used, own_ids
from elevation.job.cross.outlines import feature_outlines, wall_outlines
from elevation.job.cross.places import features_apart, features_on_wall, fixture_corners, zones_apart
from elevation.job.cross.recesses import niche_insides, recess_depths
from elevation.job.cross.shelves import corner_shelves
from elevation.job.cross.sizes import gaps_leave_room, job_sizes, tile_sizes, trim_sizes
from elevation.job.cross.surveys import fixture_rims, survey_readings, survey_sizes
from elevation.job.cross.ties import datum_there, same_courses, starts_on, ties_end
from elevation.job.cross.view import View
from elevation.job.messages import Fault

CHECKS: tuple[Callable[[View], Iterator[Fault]], ...] = (
    own_ids, names_used, edge_sides, outside_corners,
    starts_on, ties_end, datum_there, same_courses,
    wall_outlines, feature_outlines, survey_readings, survey_sizes, fixture_rims,
    features_on_wall, features_apart, zones_apart, fixture_corners, niche_insides, recess_depths, corner_shelves,
    sides_may_move,
    job_sizes, tile_sizes, trim_sizes, gaps_leave_room,
)  # fmt: skip


def cross_faults(view: View) -> list[Fault]:
    """Return everything that the checks find, each once."""
    return list(dict.fromkeys(fault for check in CHECKS for fault in check(view)))
