"""What happens at a side: soft joint, trim or bare edge, and how wide, from what the user said and the usual."""

from __future__ import annotations

from elevation.features import Edge
from elevation.geom import Point
from elevation.job.models import Job
from elevation.wall.face import Border, EdgeKind

SOFT = {"in": 3.175, "mm": 3.0}
"""Soft joint of a side of which nothing is said: 1/8 in (3 mm), the least of EJ171 as secondary sources quote it."""

# the tile ends here in plain sight or in the same plane; nobody asks for sealant unless the user gives a joint
_BARE = ("wall", "outside")


def border(
    job: Job,
    of: str,
    side: str,
    line: tuple[Point, ...],
    edge: Edge | None,
    usual: tuple[float, float] | None = None,
    behind: float | None = None,
) -> Border:
    """Return the border of one side.

    Args:
        job: For its trims and unit.
        of: Id of the feature, empty for the face itself.
        side: Name of the side.
        line: The side as found, mm.
        edge: What the user said; ``None``: nothing.
        usual: Gap where nothing is said, mm; ``None``: the usual soft joint.
        behind: At a tiled return: how much of the return's tile shows its edge before this one, mm. Where nothing is
            said, ``usual`` is then a grout joint, which needs no sealant. ``None``: no return is tiled there.
    """
    edge = edge or Edge()
    grouted = behind is not None and edge.trim is None and edge.joint is None and edge.meets is None
    soft = (SOFT[job.units], SOFT[job.units])
    trim = job.trim[edge.trim] if edge.trim is not None else None
    if edge.joint is not None:
        joint = edge.joint
    elif (trim is not None and edge.meets in (None, *_BARE)) or edge.meets in _BARE:
        joint = (0.0, 0.0)
    elif edge.meets is not None or usual is None:
        joint = soft
    else:
        joint = usual
    kind: EdgeKind = "trim" if trim is not None else "soft" if joint[1] > 0 and not grouted else "bare"
    return Border(
        of=of,
        side=side,
        line=line,
        kind=kind,
        meets=edge.meets,
        joint=joint,
        trim=edge.trim,
        trim_width=trim.face + trim.joint if trim is not None else 0.0,
        full=edge.full,
        behind=behind if behind is not None and grouted else 0.0,
        round_corner=edge.with_,
    )
