"""Random jobs, built the way a job file is read: a dict through ``Job.model_validate``."""

from hypothesis import strategies as st

from elevation.job.models import Job

MEETS = ["corner", "tub", "pan", "floor", "counter", "cabinet", "ceiling", "frame", "casing"]


def job_of(data):
    """Return the job of a dict."""
    return Job.model_validate(data, context={"units": data["units"]})


def tile(length=300.0, width=100.0, **more):
    """Return a tile table, mm."""
    sizes = {"length": length, "width": width, "thickness": 8, "sampled": 10, "variation": 0.5}
    return {"name": "A tile", "edge": "pressed", "box": 20, **sizes, **more}


def wall(**more):
    """Return a wall table, mm."""
    layout = {"tile": "field", "pattern": "stacked", "start": {"x": "joint", "y": "bottom"}}
    return {"id": "A", "title": "Wall A", "width": 1500, "height": 2000, "layout": layout, **more}


def job_data(*walls, **more):
    """Return a whole job file as a dict, mm; without walls it has one plain wall."""
    base = {"title": "A job", "units": "mm", "joint": 2, "sliver": 25, "tile": {"field": tile()}}
    return {**base, **more, "wall": list(walls or (wall(),))}


def lengths(least, most):
    """Return lengths in half millimetres; borders fall on slots as often as between them."""
    return st.integers(round(least * 2), round(most * 2)).map(lambda n: n / 2)


@st.composite
def edges(draw):
    kind = draw(st.sampled_from(["fixed", "range", "trim", "bare", "none"]))
    if kind == "fixed":
        return {"meets": draw(st.sampled_from(MEETS)), "joint": draw(lengths(0, 8))}
    if kind == "range":
        least = draw(lengths(1, 6))
        return {"meets": draw(st.sampled_from(MEETS)), "joint": [least, least + draw(lengths(0, 8))]}
    if kind == "trim":
        return {"trim": "end"}
    return {"meets": "wall"} if kind == "bare" else {}


@st.composite
def layouts(draw, ties=(), tile_id="field"):
    pattern = draw(st.sampled_from(["stacked", "running-bond", "vertical-stack"]))
    table = {"tile": tile_id, "pattern": pattern}
    if pattern == "running-bond":
        table["shift"] = draw(st.sampled_from(["1/2", "1/3", "0", "0.27"]))
    if draw(st.integers(0, 4)):
        x = draw(st.one_of(st.sampled_from(["joint", "tile", "left", "right"]), lengths(-200, 500)))
        ys = [st.sampled_from(["bottom", "top"]), lengths(-200, 500), lengths(-300, 300).map(lambda d: {"datum": d})]
        y = {"wall": draw(st.sampled_from(ties))} if ties else draw(st.one_of(ys))
        table["start"] = {"x": x, "y": y}
    elif ties:
        table["start"] = {"x": "joint", "y": {"wall": draw(st.sampled_from(ties))}}
    return table


@st.composite
def features(draw, name, low, x, y, width, height):
    """Return the kind and the table of a feature inside a cell of the wall, mm; a fixture only in a low one."""
    w, h = draw(lengths(30, width * 0.8)), draw(lengths(30, height * 0.8))
    x0, y0 = x + draw(lengths(0, width - w)), y + draw(lengths(0, height - h))
    box = {"id": name, "x": x0, "y": y0, "width": w, "height": h}
    sides = st.dictionaries(st.sampled_from(["left", "right", "bottom", "top"]), edges(), max_size=4)
    kinds = ["opening", "niche", "round", "square", "zone", "none", *(["fixture"] if low else [])]
    match draw(st.sampled_from(kinds)):
        case "opening":
            return "opening", {**box, "kind": draw(st.sampled_from(["window", "door", "pass"])), "edges": draw(sides)}
        case "niche":
            trims = st.dictionaries(st.sampled_from(["sill", "head", "left", "right"]), st.just({"trim": "end"}))
            more = {"depth": 90, "edges": draw(trims)}
            if draw(st.booleans()):
                more["layout"] = draw(layouts(tile_id=draw(st.sampled_from(["field", "other"]))))
            return "niche", {**box, **more}
        case "round":
            d = draw(lengths(12, min(w, h)))
            return "hole", {"id": name, "x": x0 + w / 2, "y": y0 + h / 2, "diameter": d, "cover": d + 30}
        case "square":
            return "hole", {"id": name, "x": x0 + w / 2, "y": y0 + h / 2, "width": w / 2, "height": h / 2}
        case "zone":
            return "zone", {**box, "layout": draw(layouts(tile_id="other")), "edges": draw(sides)}
        case "fixture":
            kind = draw(st.sampled_from(["tub", "pan", "counter", "bench"]))
            radius = min(draw(st.sampled_from([0, 10, 25])), w / 2, h)
            return "fixture", {**box, "y": 0, "kind": kind, "joint": draw(lengths(0, 8)), "radius": radius}
        case _:
            return "", {}


@st.composite
def surveys(draw, width, height):
    """Return the readings of a wall that is out of true by some millimetres; the datum stands at mid height."""
    off = lengths(-6, 6)
    low, high = height / 2, height - height / 2
    return {
        "down": [[s, low + draw(off)] for s in (0, width / 2, width)],
        "up": [[s, high + draw(off)] for s in (0, width)],
        "left": [[-low, draw(off)], [high, draw(off)]],
        "right": [[-low, width + draw(off)], [0, width + draw(off)], [high, width + draw(off)]],
    }


@st.composite
def walls(draw, name, ties=()):
    width, height = draw(lengths(400, 2400)), draw(lengths(400, 2400))
    table = {"id": name, "title": f"Wall {name}", "layout": draw(layouts(ties))}
    shape = draw(st.sampled_from(["box", "box", "survey", "outline"]))
    sides = ["left", "right", "bottom", "top"]
    if shape == "box":
        table |= {"width": width, "height": height, "datum": draw(lengths(0, 1200))}
    elif shape == "survey":
        table["survey"] = draw(surveys(width, height))
    else:
        # a gable: two upright sides and a slope
        rise = draw(lengths(50, height / 2))
        table |= {
            "outline": [[0, 0], [width, 0], [width, height], [0, height - rise]],
            "datum": draw(lengths(0, 1200)),
        }
        sides = ["1", "2", "3", "4"]
    table["edges"] = draw(st.dictionaries(st.sampled_from(sides), edges(), max_size=4))
    cells = [(i, j) for i in (0, 1) for j in (0, 1)]
    for n, (i, j) in enumerate(draw(st.lists(st.sampled_from(cells), max_size=3, unique=True)), 1):
        cell = (width * (0.04 + 0.5 * i), height * (0.04 + 0.25 * j), width * 0.42, height * 0.2)
        kind, feature = draw(features(f"f{n}", j == 0, *cell))
        if kind:
            table.setdefault(kind, []).append(feature)
    return table


@st.composite
def jobs(draw):
    """Return a random job of one to three walls, tied by their datum or not, in mm."""
    length = draw(lengths(90, 620))
    tiles = {"field": tile(length, draw(lengths(60, length)), directional=draw(st.booleans()))}
    length = draw(lengths(60, 300))
    tiles["other"] = tile(length, draw(lengths(40, length)), thickness=6)
    first = draw(walls("A"))
    tables = [first]
    others = ("B", "C")[: draw(st.integers(0, 2))]
    tables += [draw(walls(name, draw(st.sampled_from([(), ("A",)])))) for name in others]
    trims = {"end": {"kind": "profile", "face": 2.5, "joint": draw(lengths(0, 3)), "height": 11, "stock": 2500}}
    room = {"first": draw(st.lists(st.sampled_from([t["id"] for t in tables]), max_size=1)), "to": draw(
        st.sampled_from(["studs", "board", "finish"])
    )}  # fmt: skip
    joint = draw(st.sampled_from([0.5, 1.5, 2, 3, 5]))
    return job_of(job_data(*tables, tile=tiles, trim=trims, room=room, joint=joint))


@st.composite
def banded_jobs(draw):
    """Return a job of one wall, or two with tied courses, with bands beyond which whole tiles resume, in mm."""
    length = draw(lengths(60, 400))
    tiles = {"field": tile(length, draw(lengths(40, length))), "other": tile(100, 50, thickness=6)}
    way, shares = draw(st.sampled_from(["level", "upright"])), draw(st.sampled_from([[0.3], [0.6], [0.3, 0.6]]))
    tables = []
    for name in "AB"[: draw(st.integers(1, 2))]:
        width, height = draw(lengths(500, 1600)), draw(lengths(500, 1600))
        bands = []
        for n, share in enumerate(shares):
            thick, place = draw(lengths(20, 120)), share * (height if way == "level" else width)
            sizes = (0, place, width, thick) if way == "level" else (place, 0, thick, height)
            box = dict(zip(("x", "y", "width", "height"), sizes, strict=True))
            sides = ["bottom", "top"] if way == "level" else ["left", "right"]
            edge = draw(st.dictionaries(st.sampled_from(sides), st.just({"trim": "end"})))
            layout = draw(layouts(tile_id="other"))
            bands.append({"id": f"band{n}", **box, "restart": True, "edges": edge, "layout": layout})
        table = {"id": name, "title": name, "width": width, "height": height, "datum": draw(lengths(0, 900))}
        table |= {"layout": draw(layouts(("A",) if name == "B" else ())), "zone": bands}
        table["edges"] = draw(
            st.dictionaries(st.sampled_from(["left", "right", "bottom", "top"]), edges(), max_size=4)
        )
        kind, feature = draw(features("f1", False, 0.1 * width, 0.2 * height, 0.8 * width, 0.6 * height))
        if kind not in ("", "zone"):
            table[kind] = [feature]
        tables.append(table)
    if len(tables) == 2 and draw(st.booleans()):
        # in the corner of the two, or, where one of their sides makes none, nowhere
        thick, leg = draw(lengths(5, 40)), st.one_of(lengths(40, 90), st.tuples(lengths(40, 90), lengths(40, 90)))
        shelf = {"id": "s9", "corner": "right", "y": draw(lengths(900, 1000)), "leg": draw(leg), "thickness": thick}
        tables[0]["corner_shelf"] = [shelf | {"joint": draw(lengths(0, 6))}]
    trims = {"end": {"kind": "profile", "face": 2.5, "joint": draw(lengths(0, 3)), "height": 11, "stock": 2500}}
    return job_of(job_data(*tables, tile=tiles, trim=trims, joint=draw(st.sampled_from([0.5, 2, 5]))))
