"""Which tiles are laid with which joint, and where."""

from __future__ import annotations

from elevation.plan import Plan


def joints(plan: Plan) -> dict[tuple[str, float], list[str]]:
    """Return, by tile and joint in mm, the walls it is laid on, in the order of the job."""
    found: dict[tuple[str, float], list[str]] = {}
    for face in plan.faces:
        for zone in face.zones:
            walls = found.setdefault((zone.place.tile, zone.joint), [])
            if face.face.wall not in walls:
                walls.append(face.face.wall)
    return found
