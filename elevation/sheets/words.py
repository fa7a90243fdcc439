"""Words that several sheets print: cautions, notes, assumptions; each says where it comes from."""

from __future__ import annotations

from elevation.errors import Finding, Level

LEVELS: tuple[Level, ...] = ("stop", "advise", "note")
LEVEL_WORDS: dict[Level, str] = {"stop": "STOP", "advise": "ADVISE", "note": "Note"}

CAUTIONS: tuple[str, ...] = (
    "This set is no permit and no advice on a building. Local code, the makers' written instructions and licensed"
    " trades come before it.",
    "Saw and grinder: guards on, eyes and ears covered, tile held down, hands off the line of the blade. Wet saw: keep"
    " water on the blade, and the outlet protected against earth leakage.",
    "Tile, mortar and board dust holds silica. Cut wet or with extraction at the tool; wear the respirator that the"
    " table of your authority names (in the US 29 CFR 1926.1153, Table 1).",
    "Before any hole or fixing: find pipes and cables, switch the circuit off and test that it is dead. Lights, fans"
    " and outlets: licensed electrician.",
    "Valves, drains and the setting of hot water against scalding: licensed plumber.",
    "Tile and grout do not keep water out: membrane, its laps and its upturns follow the maker's instructions, and are"
    " tested before tile goes on.",
    "Old walls: paint may hold lead, and board, adhesive or joint compound may hold asbestos. Have them tested before"
    " they are broken out.",
    "Cut edges of tile are sharp, and wet mortar and grout burn skin and eyes: gloves and goggles.",
)
"""Printed on the cover; common practice unless a source is named."""

NOTES: tuple[str, ...] = (
    "Dimensions are to finished tile face unless noted. Verify them on site before cutting or framing.",
    "Soft joint (sealant, no grout or mortar in it) at the tub or pan, at inside corners, at the ceiling, and where"
    " tile meets another material.",
    "Wet walls: tile fully supported by mortar, 95 % coverage; notch and method by the installer.",
    "The grout joint is the larger of the joint drawn and three times the measured variation of the tile.",
    "The height of the wet-area finish is as the elevations show; confirm the height required locally.",
    "Backer and membrane: type by standard number, installed to the maker's written instructions.",
    "Valve, drain and water temperature: licensed plumber. Lights, fans, receptacles: licensed electrician. Glazing:"
    " confirm the type locally.",
    "Bars and blocking, where shown, are shown for coordination; review of accessibility is by others.",
    "Cut wet or with extraction; respirator as the table of the authority says.",
    "The layout is approved by the owner before setting, signed and dated.",
)
"""Notes for a permit desk or a bid, paraphrased; each is printed with ``VERIFY`` behind the list."""

VERIFY = "Verify each of these with the local authority. They follow common practice and promise no approval."

EXCLUDED: tuple[str, ...] = (
    "Demolition, disposal, and work on what the old wall hides.",
    "Framing, blocking and straightening of walls beyond what the bed takes up.",
    "Plumbing, electrical work, glass and its hardware.",
    "Testing for lead and asbestos.",
    "Floor tile, paint and finish carpentry.",
)
"""Not in the quantities, unless agreed otherwise."""

MATERIALS: tuple[tuple[str, str, str], ...] = (
    ("Tile", "ANSI A137.1 or ISO 13006", "Class, grade and shade as chosen"),
    ("Bonding mortar", "ANSI A118.4, A118.11 or A118.15; or EN 12004 / ISO 13007-1, C2", "To suit tile and backing"),
    ("Grout", "ANSI A118.6, A118.7 or A118.3; or EN 13888 / ISO 13007-3", "To suit the width of the joint"),
    ("Sealant in soft joints", "ASTM C920 or ISO 11600", "Mildew-resistant, colour to match grout"),
    ("Backer board", "ANSI A118.9, ASTM C1178 or ASTM C1325", "Thickness as the job says"),
    ("Bonded membrane", "ANSI A118.10 or EN 14891", "Tested before tile goes on"),
)
"""Kinds of material by the number of their standard, from memory; the edition in force locally holds."""


def sorted_findings(findings: tuple[Finding, ...]) -> list[Finding]:
    """Return findings with what stops first, in their own order within a level."""
    return sorted(findings, key=lambda f: LEVELS.index(f.level))
