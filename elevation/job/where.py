"""Finds where in a TOML text each key stands: tomllib reads the values but keeps no lines.

The text has been read by tomllib before, so nothing is checked here again; the scan is one pass, without recursion.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field

from elevation.job.paths import Path, shown

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_STRING = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"{3,5}'
    r"|'''(?:[^']|'{1,2}(?!'))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_TOKEN = re.compile(r"[^,\]}#\n]*")


@dataclass(frozen=True, slots=True)
class Places:
    """Where the keys of a text stand.

    Attributes:
        text: The text.
        lines: Line of a key, a table or a value in a list, from 1.
        spans: Start and end of a value in the text, for what is written behind a key or in a list.
    """

    text: str
    lines: dict[Path, int]
    spans: dict[Path, tuple[int, int]]

    def line(self, path: Path) -> int | None:
        """Return the line of a key, or of the nearest table or key that holds it; ``None`` if none does."""
        for end in range(len(path), 0, -1):
            if (found := self.lines.get(path[:end])) is not None:
                return found
        return None

    def value(self, path: Path) -> str | None:
        """Return the value as written, shortened for a message; ``None`` for a table under a header."""
        span = self.spans.get(path)
        return None if span is None else shown(self.text[span[0] : span[1]])


def find_places(text: str) -> Places:
    """Return where the keys of a TOML text stand; the text must be one that tomllib reads."""
    return _Scan(text).run()


@dataclass(slots=True)
class _Open:
    """A list or an inline table that the scan is inside of."""

    path: Path
    start: int
    count: int | None = None  # values so far, of a list; None: an inline table


@dataclass(slots=True)
class _Scan:
    text: str
    at: int = 0
    line: int = 1
    counted: int = 0
    lines: dict[Path, int] = field(default_factory=dict)
    spans: dict[Path, tuple[int, int]] = field(default_factory=dict)
    repeats: dict[Path, int] = field(default_factory=dict)

    def run(self) -> Places:
        table: Path = ()
        self.skip(_BLANK)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self.header()
            else:
                path = self.keys(table)
                self.skip(_SPACE)
                self.at += 1  # the equals sign
                self.skip(_SPACE)
                self.value(path)
            self.skip(_BLANK)
        return Places(self.text, self.lines, self.spans)

    def skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match is not None:
            self.at = match.end()

    def here(self) -> int:
        """Return the line of the present place; counts forward only, so that a long file stays quick."""
        self.line += self.text.count("\n", self.counted, self.at)
        self.counted = self.at
        return self.line

    def parts(self) -> list[str]:
        """Read a dotted key."""
        names: list[str] = []
        while True:
            self.skip(_SPACE)
            match = _STRING.match(self.text, self.at) or _BARE_KEY.match(self.text, self.at)
            if match is None:
                return names
            raw = match[0]
            names.append(next(iter(tomllib.loads(f"{raw} = 0"))) if raw[0] in "\"'" else raw)
            self.at = match.end()
            self.skip(_SPACE)
            if self.text[self.at : self.at + 1] != ".":
                return names
            self.at += 1

    def keys(self, table: Path) -> Path:
        line = self.here()
        path = table
        for name in self.parts():
            path = (*path, name)
            self.lines.setdefault(path, line)
        return path

    def header(self) -> Path:
        line = self.here()
        repeated = self.text.startswith("[[", self.at)
        self.at += 2 if repeated else 1
        names = self.parts()
        self.at += 2 if repeated else 1
        path: Path = ()
        for i, name in enumerate(names):
            path = (*path, name)
            self.lines.setdefault(path, line)
            if repeated and i == len(names) - 1:
                self.repeats[path] = self.repeats.get(path, 0) + 1
            elif i == len(names) - 1:
                self.lines[path] = line
            if path in self.repeats:
                path = (*path, self.repeats[path] - 1)
                self.lines.setdefault(path, line)
        return path

    def value(self, path: Path) -> None:
        """Read one value, whatever it holds, and note where each part of it stands."""
        stack: list[_Open] = []
        while True:
            self.lines.setdefault(path, self.here())
            start = self.at
            sign = self.text[self.at : self.at + 1]
            if sign in ("[", "{") and sign:
                stack.append(_Open(path, start, 0 if sign == "[" else None))
                self.at += 1
            else:
                string = _STRING.match(self.text, self.at)
                end = (string or _TOKEN.match(self.text, self.at)).end()  # type: ignore[union-attr]  # matches empty too
                self.at = start + len(self.text[start:end].rstrip()) if string is None else end
                self.spans[path] = (start, self.at)
            step = self.onward(stack)
            if step is None:
                return
            path = step

    def onward(self, stack: list[_Open]) -> Path | None:
        """Go to the next value inside the open lists and tables; ``None`` when all are closed."""
        while stack:
            top = stack[-1]
            self.skip(_BLANK)
            sign = self.text[self.at : self.at + 1]
            if sign == ",":
                self.at += 1
            elif sign in ("]", "}", ""):
                self.at += 1
                self.spans[top.path] = (top.start, self.at)
                stack.pop()
            elif top.count is not None:
                top.count += 1
                return (*top.path, top.count - 1)
            else:
                path = self.keys(top.path)
                self.skip(_SPACE)
                self.at += 1
                self.skip(_SPACE)
                return path
        return None
