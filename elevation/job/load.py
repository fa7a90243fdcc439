"""Reads a job file: text to models, with every error of the file in one go."""

from __future__ import annotations

import difflib
import hashlib
import re
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import Any

from elevation.errors import Finding, JobError, Problem
from elevation.job.cross import cross_faults
from elevation.job.cross.view import View
from elevation.job.messages import Fault
from elevation.job.models import Job, Tile, Trim
from elevation.job.paths import key_text, read_key, read_names, shown
from elevation.job.salvage import file_path, read_models
from elevation.job.shape import keys_of
from elevation.job.unused import unused_notes
from elevation.job.where import Places, find_places
from elevation.job.words import either
from elevation.units import Unit

LARGEST = 1_000_000
"""Bytes of the largest job file; a house has walls for a hundredth of it."""
MOST_SHOWN = 200
"""Problems that are told at once; a file with more has one fault many times over."""

_PLACE = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_SYNTAX = (
    (
        "Expected newline or end of document after",
        'has something behind the value; fractions, feet and inches go in quotes: "60 3/8"',
    ),
    ("Expected newline or end of document", "has something behind it that does not belong there"),
    ("Expected '=' after a key", 'is not key = value, a [table] or a comment; write for instance width = "60 3/8"'),
    ("Invalid value", 'has a value that cannot be read; text and lengths go in quotes, such as "60 3/8"'),
    ("Cannot overwrite a value", "has a key that this table has already; keep one of the two"),
    ("Cannot declare", "opens a table that is there already; one that repeats is written with two brackets, [[wall]]"),
    ("Cannot mutate", "adds to a table that was closed already; write all its keys in one place"),
    ("Cannot redefine", "adds to a table that was closed already; write all its keys in one place"),
    ("Duplicate inline table key", "has the same key twice in one table; keep one of the two"),
    ("Unterminated string", "opens a quote that is never closed"),
    ("Illegal character '\\n'", "opens a quote that is not closed on the same line"),
    ("Illegal character", "has a character that may not stand there; retype the line"),
    ("Unescaped '\\\\'", "has a backslash in quotes; write it twice, or use single quotes"),
    ("Unclosed array", "opens a bracket [ that is never closed, or lacks a comma"),
    ("Unclosed inline table", "opens a brace { that is not closed on the same line, or lacks a comma"),
    ("Expected ']", "has a header without its closing bracket"),
    ("Invalid initial character for a key", "has no key where one is due; write key = value"),
    ("Invalid date or datetime", "has a date that is not in the calendar"),
    ("Exceeds the limit", "has a number of thousands of digits"),
)

_ONE_LINE = re.compile(r"\s*[A-Za-z0-9_.-]+\s*=\s*[^\[{\s][^\[{]*")
"""A key with a value on its line: without it the lines that follow mean the same."""
_MOST_SLIPS = 50

_INCH_MARK = 'has a quote inside quotes; an inch mark there is written \\", or left out'


@dataclass(frozen=True, slots=True)
class Source:
    r"""A job file that was read.

    Attributes:
        file: Its name as the user gave it.
        text: What it says, line ends as ``\n``.
        fingerprint: Eight digits that change with every byte of it.
        job: The models.
        notes: What is worth knowing of it, though nothing is wrong.
        places: Where its keys stand.
    """

    file: str
    text: str
    fingerprint: str
    job: Job
    notes: tuple[Finding, ...]
    places: Places

    def locate(self, problem: Problem) -> Problem:
        """Return a problem of a later stage, which knows only its key, with line and value."""
        path = read_key(problem.key) or read_names(problem.key, self.job)
        if not path:
            return problem
        line = problem.line if problem.line is not None else self.places.line(path)
        return replace(problem, line=line, value=problem.value or self.places.value(path))

    def error(self, problems: list[Problem]) -> JobError:
        """Return the error that later stages raise for problems that know only their keys."""
        return JobError([self.locate(p) for p in problems], self.file)


def read_job(path: FilePath | str) -> Source:
    """Return the job that a file describes.

    Raises:
        JobError: The file cannot be read, or is wrong; every problem that could be found is in it.
    """
    file = str(path)
    data = _bytes(file)
    return read_text(_text(data, file), file, hashlib.sha256(data).hexdigest()[:8])


def read_text(text: str, file: str, fingerprint: str = "") -> Source:
    """Return the job that a text describes; ``file`` is the name for messages.

    Raises:
        JobError: The text is wrong.
    """
    text = text.replace("\r\n", "\n")
    data = _toml(text, file)
    places = find_places(text)
    faults = _unit_faults(data)
    known = {**data, "units": _guessed(data)} if faults else dict(data)
    faults += _id_faults(known)
    job, kept, refused = read_models(known)
    faults += refused
    if job is not None:
        view = View(job, known, known["units"])
        faults += [Fault(file_path(kept, f.path), f.text) for f in cross_faults(view)]
    if faults:
        raise JobError(_problems(faults, places), file)
    assert job is not None  # without a fault the models were all read
    return Source(file, text, fingerprint, job, unused_notes(data), places)


def _problems(faults: list[Fault], places: Places) -> list[Problem]:
    once = {fault.path: fault for fault in reversed(faults)}  # one problem a key, the first that was found
    found = [
        # a key that is missing at the top has no line; it goes before the first table
        Problem(key_text(path), fault.text, places.line(path) or 1, places.value(path))
        for path, fault in once.items()
    ]
    found.sort(key=lambda p: (p.line or 0, p.key))
    if len(found) > MOST_SHOWN:
        last = Problem("", f"has {len(found) - MOST_SHOWN} more problems of this kind")
        found = [*found[:MOST_SHOWN], last]
    return found


def _refuse(file: str, text: str, line: int | None = None) -> JobError:
    return JobError([Problem("", text, line)], file)


def _bytes(file: str) -> bytes:
    path = FilePath(file)
    try:
        if path.is_dir():
            raise _refuse(file, "is a folder; name the job file in it")
        with path.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise _refuse(file, f"there is no such file{_near_file(path)}") from None
    except PermissionError:
        raise _refuse(file, "may not be read; check the rights of the file and its folder") from None
    except ValueError:
        raise _refuse(file, "is not the name of a file") from None
    except OSError as error:
        raise _refuse(file, f"cannot be read: {(error.strerror or 'unknown reason').lower()}") from None
    if len(data) > LARGEST:
        raise _refuse(file, "is larger than 1 MB; that is no job file")
    return data


def _near_file(path: FilePath) -> str:
    try:
        names = sorted(p.name for p in path.parent.glob("*.toml"))
    except OSError:
        return ""
    found = difflib.get_close_matches(path.name, names, n=1)
    return f'; did you mean "{shown(str(path.with_name(found[0])), 120)}"?' if found else ""


def _text(data: bytes, file: str) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _refuse(file, "is written in UTF-16; save it as UTF-8, plain text")
    if (nul := data.find(b"\0")) >= 0:
        raise _refuse(file, "holds a zero byte; a job file is plain text", data.count(b"\n", 0, nul) + 1)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        text = f"is not UTF-8: byte 0x{data[error.start]:02x}; save it as UTF-8, plain text"
        raise _refuse(file, text, line) from None


def _toml(text: str, file: str) -> dict[str, Any]:
    if not text.strip():
        raise _refuse(file, "is empty; `elevation new` writes a file to start from")
    problems: list[Problem] = []
    rest = text
    for _ in range(_MOST_SLIPS):
        try:
            data = tomllib.loads(rest)
        except RecursionError:
            raise _refuse(file, "has brackets in brackets too deep to read") from None
        except ValueError as error:
            problems.append(_slip(str(error), rest))
            followed = _without(rest, problems[-1].line)
            if followed is None:
                break
            rest = followed
        else:
            if not problems:
                return data
            break
    raise JobError(problems, file)


def _slip(said: str, text: str) -> Problem:
    """Return what is wrong with the line that cannot be read, from what the reader of the format said."""
    place = _PLACE.search(said)
    lines = text.split("\n")
    end = len(text.rstrip().split("\n"))
    line = int(place["line"]) if place is not None and place["line"] else end
    if said.startswith("Unclosed array"):
        line = _opened(lines, line)
    written = shown(lines[min(line, len(lines)) - 1])
    inch_mark = said.startswith("Expected newline") and written.count('"') > 2
    plain = (
        _INCH_MARK
        if inch_mark
        else next((words for start, words in _SYNTAX if said.startswith(start)), "cannot be read")
    )
    return Problem("", f"this line {plain}" + (f"; it reads: {written}" if written else ""), line)


def _opened(lines: list[str], line: int) -> int:
    """Return the line that opens a list which is found open on a later line; that line where none does above."""
    for n in range(min(line, len(lines)), 0, -1):
        if lines[n - 1].count("[") > lines[n - 1].count("]"):
            return n
    return line


def _without(text: str, line: int | None) -> str | None:
    """Return a text with one line left out, so that it can be read on; ``None`` where other lines hang on that one."""
    lines = text.split("\n")
    if line is None or line > len(lines) or not _ONE_LINE.fullmatch(lines[line - 1]) or _reads(lines[line - 1]):
        return None
    return "\n".join([*lines[: line - 1], "", *lines[line:]])


def _reads(line: str) -> bool:
    """Tell whether a line can be read by itself: what is wrong then stands before it."""
    try:
        tomllib.loads(line)
    except ValueError:
        return False
    return True


def _unit_faults(data: dict[str, Any]) -> list[Fault]:
    units = data.get("units")
    if units in ("in", "mm") and isinstance(units, str):
        return []
    if "units" not in data:
        return [Fault(("units",), 'is missing; write units = "in" or units = "mm"')]
    hint = f'; did you mean "{_guessed(data)}"?' if isinstance(units, str) and units.strip() else ""
    return [Fault(("units",), f"is not {either(('in', 'mm'))}{hint}")]


def _id_faults(data: dict[str, Any]) -> list[Fault]:
    """Find ``[tile]`` and ``[trim]`` written without an id, and read on as if they had one."""
    faults = []
    for name, model, example in (("tile", Tile, "field"), ("trim", Trim, "end")):
        table = data.get(name)
        if not isinstance(table, dict):
            continue
        bare = {key: value for key, value in table.items() if key in keys_of(model) and not isinstance(value, dict)}
        if bare:
            faults.append(Fault((name,), f"has no id; name it in the header, [{name}.{example}]"))
            data[name] = {example: bare, **{key: value for key, value in table.items() if key not in bare}}
    return faults


def _guessed(data: dict[str, Any]) -> Unit:
    """Return the unit that a file without one is most likely in, so that the rest of it can be checked."""
    units = str(data.get("units", "")).lower()
    if units[:1] in ("m", "c"):
        return "mm"
    if units[:1] in ("i", "f", '"', "'"):
        return "in"
    tiles = data.get("tile")
    for tile in tiles.values() if isinstance(tiles, dict) else ():
        length = tile.get("length") if isinstance(tile, dict) else None
        digits = re.match(r"\s*(\d+)", str(length))
        if digits is not None and "/" not in str(length):
            return "mm" if len(digits[1]) > 2 else "in"
    return "in"
