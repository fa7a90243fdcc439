"""Everything that may stop the tool, each kind with its exit code and a message that says what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


class ElevationError(Exception):
    """Base of every error that a user is meant to read; ``exit_code`` is what the command returns."""

    exit_code = 2


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a job file.

    Attributes:
        key: Path of the key, ``wall[1].niche[1].width``; empty when the file as a whole is meant. Tables
            that repeat are counted from 1, as a person counts them.
        text: What is wrong and what would do, one sentence, lower case, no full stop.
        line: Line in the file, from 1; ``None`` when there is none to show.
        value: The value as written, already quoted for the message; ``None`` when there is none.
    """

    key: str
    text: str
    line: int | None = None
    value: str | None = None

    def message(self, file: str) -> str:
        """Return ``file:line: key = value: text``, leaving out what is not known."""
        where = file if self.line is None else f"{file}:{self.line}"
        what = self.key if self.value is None else f"{self.key} = {self.value}"
        return ": ".join(part for part in (where, what, self.text) if part)


class JobError(ElevationError):
    """The job file is wrong; carries every problem found, so that all can be mended in one go."""

    def __init__(self, problems: list[Problem] | tuple[Problem, ...], file: str = "") -> None:
        """Keep ``problems`` in the order of the file; ``file`` is the name as the user gave it."""
        self.problems = tuple(sorted(problems, key=lambda p: (p.line is None, p.line or 0)))
        self.file = file
        super().__init__("\n".join(p.message(file) for p in self.problems))


class OutputError(ElevationError):
    """The output could not be written; what stood there before still stands."""

    exit_code = 3


Level = Literal["note", "advise", "stop"]


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a stage or a rule has to say about a job that could be drawn.

    Attributes:
        rule: Id of the rule, or of the stage that speaks: letters, digits, dashes.
        level: ``note``: for information; ``advise``: a good setter would change it; ``stop``: do not cut yet.
        where: What it is about: a wall, ``B``; an edge, ``B left``; a piece, ``B4-1``; a key of the job file.
        text: One or two sentences that say what is, by how much, and what would cure it.
        source: Where the rule is written down, or ``common practice``.
    """

    rule: str
    level: Level
    where: str
    text: str
    source: str
