"""The gauge check: what ten tiles with their joints must measure, by hand, before anything is cut."""

from __future__ import annotations

from elevation.plan import Plan
from elevation.units import format_length

COUNT = 10


def gauge_lines(plan: Plan) -> list[tuple[str, str, str, str]]:
    """Return for every tile and joint in use: name, joint, ten modules along the length, ten along the width."""
    job = plan.job
    seen: dict[tuple[str, float], None] = {}
    for face in plan.faces:
        for zone in face.zones:
            seen[zone.place.tile, zone.joint] = None
    rows = []
    for tile_id, joint in seen:
        tile = job.tile[tile_id]
        joint_text = format_length(joint, job.step / 4, job.units)
        sizes = [format_length(COUNT * (side + joint), job.step, job.units) for side in (tile.length, tile.width)]
        rows.append((tile.name, joint_text, *sizes))
    return [(a, b, c, d) for a, b, c, d in rows]
