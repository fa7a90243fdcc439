"""``elevation explain``: a rule with its source, a pattern with a picture, a key of the job file."""

from __future__ import annotations

import difflib
import inspect

import click

from elevation.checks import RULES
from elevation.job.keys import describe, keys
from elevation.job.words import nearest
from elevation.patterns import PATTERNS, Pattern


@click.command()
@click.argument("name", required=False)
def explain(name: str | None) -> None:
    """Explain NAME: a rule, a pattern or a key of the job file; without NAME, list what can be explained."""
    if name is None:
        click.echo(_contents())
        return
    patterns = {pattern_name(p): p for p in PATTERNS}
    rules = {rule.id: rule for rule in RULES}
    word = name.strip().lower().replace(" ", "-").replace("_", "-")
    if word in rules:
        rule = rules[word]
        click.echo(f"{rule.id} ({rule.level})\n\n{inspect.getdoc(rule)}\n\nSource: {rule.source}")
    elif word in patterns:
        click.echo(f"{word}\n\n{inspect.getdoc(patterns[word])}\n\n{picture(patterns[word])}")
    elif (text := describe(name)) is not None:
        click.echo(text)
    else:
        known = [*rules, *patterns, *keys()]
        near = list(dict.fromkeys(n for n in (nearest(word, known), *difflib.get_close_matches(name, known, 3)) if n))
        told = near[:3] or _that_mention(name.strip().lower())
        hint = f"; did you mean {' or '.join(told)}?" if told else "; `elevation explain` lists what there is"
        raise click.UsageError(f'nothing is called "{name}"{hint}')


def _that_mention(word: str, most: int = 4) -> list[str]:
    """Return the rules and keys in whose explanation a word stands."""
    if len(word) < 3:
        return []
    texts = {rule.id: inspect.getdoc(rule) or "" for rule in RULES}
    texts |= {key: describe(key) or "" for key in keys()}
    return [name for name, text in texts.items() if word in text.lower()][:most]


def pattern_name(pattern: type[Pattern]) -> str:
    """Return what the job file calls a pattern."""
    return str(pattern.model_fields["pattern"].annotation.__args__[0])  # type: ignore[union-attr]


def _contents() -> str:
    lines = ["Rules"]
    lines += [f"  {r.id:<24} {(inspect.getdoc(r) or '').splitlines()[0]}" for r in RULES]
    lines += ["", "Patterns"]
    lines += [f"  {pattern_name(p):<24} {(inspect.getdoc(p) or '').splitlines()[0]}" for p in PATTERNS]
    lines += ["", "Keys of the job file", "  " + "\n  ".join(keys())]
    return "\n".join(lines)


def picture(pattern: type[Pattern], columns: int = 46, rows: int = 13) -> str:
    """Return a few courses of a pattern, drawn with the characters of a keyboard, from its lattice."""
    lattice = pattern.model_validate({"pattern": pattern_name(pattern)}).lattice(11.0, 3.0, 1.0)
    grid = [[" "] * columns for _ in range(rows)]
    for j in range(-8, 9):
        for i in range(-12, 13):
            for slot in lattice.motif:
                xs = [p[0] + i * lattice.a[0] + j * lattice.b[0] for p in slot.ring]
                ys = [p[1] + i * lattice.a[1] + j * lattice.b[1] for p in slot.ring]
                _frame(grid, round(min(xs)), round(min(ys)), round(max(xs)), round(max(ys)))
    return "\n".join("".join(row).rstrip() for row in reversed(grid))


def _frame(grid: list[list[str]], x0: int, y0: int, x1: int, y1: int) -> None:
    """Draw the outline of one tile, a joint line on its left and lower side."""
    for y in range(y0 - 1, y1 + 1):
        for x in range(x0 - 1, x1 + 1):
            if 0 <= y < len(grid) and 0 <= x < len(grid[0]):
                level, upright = y in (y0 - 1, y1), x in (x0 - 1, x1)
                if level or upright:
                    grid[y][x] = (
                        "+"
                        if level and upright
                        else ("-" if level and grid[y][x] != "+" else "|" if upright else grid[y][x])
                    )
