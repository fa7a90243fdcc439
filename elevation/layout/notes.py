"""What the layout stage has to say about a job: how each edge with a range came out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevation.errors import Finding
from elevation.job.models import Job
from elevation.layout.laid import LaidFace
from elevation.units import format_length


def layout_findings(job: Job, laid: Sequence[LaidFace]) -> Iterator[Finding]:
    """Yield a note for every edge where the range of its joint decided something."""
    for face in laid:
        for edge in face.edges:
            if not edge.why:
                continue
            least, most = (format_length(g, job.step, job.units) for g in edge.gap)
            width = least if least == most else f"{least} to {most}"
            where = f"{face.face.id} {edge.border.name}"
            yield Finding("edge-range", "note", where, f"{edge.why}; drawn at {width}", "range given in the job file")
