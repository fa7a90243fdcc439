"""What the user wrote: the job file as models, read with every error of the file in one go."""

from __future__ import annotations

from elevation.job.load import Source, read_job, read_text
from elevation.job.models import Job, Room, Survey, Tile, Trim, Wall

__all__ = ["Job", "Room", "Source", "Survey", "Tile", "Trim", "Wall", "read_job", "read_text"]
