"""Papers a set may be printed on, all lying: size, margins, and the strip that holds the title block."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper, landscape; mm.

    Attributes:
        name: As the command line takes it.
        label: As the sheets name it: ``11x17``, ``A3``.
        width: Long side.
        height: Short side.
        left: Left margin; wider on ISO papers, where a set is filed.
        margin: The other margins.
        strip: Width of the title block at the right.
        words: How much larger words stand on it: large sheets are read from further off, or printed at half size.
    """

    name: str
    label: str
    width: float
    height: float
    left: float
    margin: float
    strip: float
    words: float = 1.0

    def reduced(self) -> Paper:
        """Return the paper by its own measure of words: what is composed on it is enlarged ``words`` times."""
        k = self.words
        return replace(
            self, width=self.width / k, height=self.height / k, left=self.left / k, margin=self.margin / k,
            strip=self.strip / k, words=1.0,
        )  # fmt: skip


_US = 12.7
PAPERS: dict[str, Paper] = {
    p.name: p
    for p in (
        Paper("letter", "8.5x11", 279.4, 215.9, _US, _US, 50.0),
        Paper("tabloid", "11x17", 431.8, 279.4, _US, _US, 60.0),
        Paper("arch-c", "18x24", 609.6, 457.2, _US, _US, 76.0, 1.4),
        Paper("arch-d", "24x36", 914.4, 609.6, _US, _US, 90.0, 1.4),
        Paper("a4", "A4", 297.0, 210.0, 20.0, 10.0, 50.0),
        Paper("a3", "A3", 420.0, 297.0, 20.0, 10.0, 60.0),
        Paper("a2", "A2", 594.0, 420.0, 20.0, 10.0, 76.0, 1.4),
        Paper("a1", "A1", 841.0, 594.0, 20.0, 10.0, 90.0, 1.4),
    )
}
