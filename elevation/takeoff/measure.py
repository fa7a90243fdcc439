"""Units that a take-off is printed in."""

from __future__ import annotations

from dataclasses import dataclass

from elevation.job.models import Job
from elevation.takeoff.materials import KG_PER_LB
from elevation.units import Unit, format_length


@dataclass(frozen=True, slots=True)
class Units:
    """The printed units of a job: ft², ft and lb, or m², m and kg."""

    unit: Unit
    step: float

    @classmethod
    def of(cls, job: Job) -> Units:
        """Return the units of a job."""
        return cls(job.units, job.step)

    @property
    def area(self) -> str:
        """Name of the unit of areas."""
        return "ft2" if self.unit == "in" else "m2"

    @property
    def run(self) -> str:
        """Name of the unit of lengths that are bought."""
        return "ft" if self.unit == "in" else "m"

    @property
    def mass(self) -> str:
        """Name of the unit of mass."""
        return "lb" if self.unit == "in" else "kg"

    def areas(self, mm2: float) -> float:
        """Return an area, given in mm²."""
        return mm2 / (304.8**2 if self.unit == "in" else 1e6)

    def runs(self, mm: float) -> float:
        """Return a length to be bought, given in mm."""
        return mm / (304.8 if self.unit == "in" else 1000.0)

    def masses(self, kg: float) -> float:
        """Return a mass, given in kg."""
        return kg / KG_PER_LB if self.unit == "in" else kg

    def text(self, mm: float) -> str:
        """Return a length with its unit, as in ``1/8 in`` or ``3 mm``; finer than the sheet's step where needed."""
        step = min(self.step, 25.4 / 64 if self.unit == "in" else 0.1)
        return f"{format_length(mm, step, self.unit)} {self.unit}"
