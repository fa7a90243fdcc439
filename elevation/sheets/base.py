"""What a sheet kind is: a small class that composes what stands inside the frame, page after page."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal

from elevation.drawing.marks import Mark
from elevation.plan import Plan
from elevation.units import Unit

Edition = Literal["installer", "homeowner", "permit", "bid"]
EDITIONS: tuple[Edition, ...] = ("installer", "homeowner", "permit", "bid")


@dataclass(frozen=True, slots=True)
class IndexLine:
    """A line of the sheet index: number in the set, kind, title."""

    number: int
    kind: str
    title: str


@dataclass(frozen=True, slots=True)
class Body:
    """The free area inside the frame of a page, and who will read it.

    Attributes:
        x: Left side, mm of paper.
        y: Lower side.
        width: Width.
        height: Height.
        unit: Unit of the sheet's figures.
        edition: Reader of the set.
        step: What figures are rounded to, mm.
        words: How much larger words stand on a large paper.
        index: Every sheet of the set, for sheets with ``needs_index``; empty for the others.
    """

    x: float
    y: float
    width: float
    height: float
    unit: Unit
    edition: Edition
    step: float
    words: float = 1.0
    index: tuple[IndexLine, ...] = ()

    @property
    def top(self) -> float:
        """Upper side, mm of paper."""
        return self.y + self.height

    @property
    def right(self) -> float:
        """Right side, mm of paper."""
        return self.x + self.width


@dataclass(frozen=True, slots=True)
class Content:
    """What stands inside the frame of one page.

    Attributes:
        id: What it shows, for the file's name: a wall's id, or a running number; letters, digits and dashes.
        title: Sheet title.
        scale_text: As the title block prints it; empty where nothing is drawn to scale.
        scale_ratio: 1:n, for the graphic scale bar; ``None`` where there is none or more than one.
        marks: Everything inside the frame.
        description: One sentence for people who cannot see it.
        full_size: True for 1:1 pages.
        paper: Name of a paper of its own in ``slim.SLIM_PAPERS``, for what any printer must print at full size;
            empty: the set's.
    """

    id: str
    title: str
    scale_text: str
    scale_ratio: float | None
    marks: tuple[Mark, ...]
    description: str
    full_size: bool = False
    paper: str = ""


class Sheet(ABC):
    """A kind of sheet: one file, one line in the registry.

    Attributes:
        kind: As in the file name ``NN-KIND-ID.svg``.
        editions: The editions it belongs to.
        needs_index: Whether it prints the sheet index, and so is composed last.
        aside: Whether it is composed in a copy of the process, beside the others: about half of the work should be.
    """

    kind: ClassVar[str]
    editions: ClassVar[frozenset[Edition]] = frozenset(EDITIONS)
    needs_index: ClassVar[bool] = False
    aside: ClassVar[bool] = False

    @abstractmethod
    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of this kind, in order; none where the job has nothing to show on them."""
