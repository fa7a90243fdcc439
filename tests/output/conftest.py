"""A page with everything on it, and the tools that look at it."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from elevation.drawing.marks import Area, Circle, Group, Line, Page, Segments, Text

NASTY = 'Bath <script>alert(1)</script> & "quotes" \x07\ud83d 漢'


def need(tool: str) -> str:
    """Return the path of a tool; without it the test is skipped, but never in continuous integration."""
    found = shutil.which(tool)
    if found is None:
        message = f"{tool} is not on this machine"
        (pytest.fail if os.environ.get("CI") else pytest.skip)(message)
    assert found is not None
    return found


def svg_dtd() -> Path:
    """Return the path of the SVG 1.1 DTD of the package w3c-sgml-lib."""
    folder = Path("/usr/share/xml/w3c-sgml-lib")
    found = sorted(folder.rglob("svg11.dtd"))
    if not found:
        (pytest.fail if os.environ.get("CI") else pytest.skip)("the package w3c-sgml-lib is not on this machine")
    return found[0]


def run(*command: str | Path) -> str:
    """Return what a command prints; it must succeed."""
    return subprocess.run([str(c) for c in command], check=True, capture_output=True, text=True).stdout


def sample_page(kind: str = "elevation", title: str = "Wall B, back", *, full_size: bool = False) -> Page:
    """Return a tabloid page with each kind of mark, lengths known."""
    tiles = tuple(
        Group(
            (Area((((x, y), (x + 18.1234, y), (x + 18.1234, y + 9), (x, y + 9)),), "cut" if x < 80 else "whole"),),
            id=f"t-{x:.0f}-{y:.0f}",
            classes="tile cut" if x < 80 else "tile whole",
            title=f"Tile {x:.0f}",
            data=(("id", f"{x:.0f}"), ("width", "18.1234")),
        )
        for x in range(60, 160, 20)
        for y in range(40, 80, 10)
    )
    marks = (
        Line(((20, 20), (120, 20)), "wall"),
        Line(((20, 30), (20, 131.6)), "feature"),
        Line(((20, 25), (220, 25)), "centre"),
        Group(tiles, id="tiles", classes="tiles", title="Tiles", clip=(59, 39, 90, 60)),
        Area(
            (((200, 40), (250, 40), (250, 90), (200, 90)), ((210, 50), (210, 60), (220, 60), (220, 50))),
            "rule",
            "pale",
        ),
        Circle((300, 60), 12.5, "feature", "#f2efe6"),
        Segments(tuple((200.0 + k, 100.0, 210.0 + k, 110.0) for k in range(0, 60, 2)), "hatch"),
        Text((300, 120), "4'-6  7/16\"", 3.5, "middle"),
        Text((30, 150), "BACK WALL fi fl", 5, weight="semibold"),
        Text((190, 150), "B4-1 turned", 2.5, "end", angle=90, colour="grey"),
        Text((250, 170), "AVAVA To 1234", 7, "end"),
    )
    return Page(kind, "B", title, 431.8, 279.4, marks, "A wall with twenty tiles.", full_size)
