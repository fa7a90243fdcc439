"""What every rule is: a small class with its id, its usual level, its source, and one method."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from elevation.errors import Finding, Level
from elevation.plan import Plan


@dataclass(frozen=True, slots=True)
class Source:
    """Where a rule is written down.

    Attributes:
        title: Title of the standard or book; ``common practice`` where the trade does so and nobody wrote it down.
        edition: Edition or date; empty when there is none to name.
        where: Section or subject, never a bare clause number.
        note: How it is known: ``secondary source``, ``from memory``; empty when the text itself was read.
    """

    title: str
    edition: str = ""
    where: str = ""
    note: str = ""

    def __str__(self) -> str:
        """Return ``ANSI A108.02 (current edition), joint width; secondary source``."""
        head = f"{self.title} ({self.edition})" if self.edition else self.title
        return "; ".join(part for part in (", ".join(p for p in (head, self.where) if p), self.note) if part)


COMMON = Source("common practice")


def a108(where: str) -> Source:
    """Return the installation standard, known from articles that quote it."""
    return Source("ANSI A108.02", "current edition", where, "secondary source")


class Rule(ABC):
    """A rule; what it means stands in the docstring of each, which ``elevation explain`` prints."""

    id: ClassVar[str]
    level: ClassVar[Level]
    source: ClassVar[Source]

    @abstractmethod
    def check(self, plan: Plan) -> Iterator[Finding]:
        """Yield what the rule has to say about a plan, merged: one finding for an edge or a tile, not for a piece."""

    def found(self, where: str, text: str, level: Level | None = None) -> Finding:
        """Return a finding of this rule, at its usual level unless another is given."""
        return Finding(self.id, level or self.level, where, text, str(self.source))
