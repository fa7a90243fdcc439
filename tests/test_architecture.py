"""The house keeps its own rules: registries complete, files short, what the guide names is there."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from pathlib import Path

import pytest

import elevation
from elevation.checks import RULES
from elevation.features import FEATURES
from elevation.features.base import Feature
from elevation.job.models import Wall
from elevation.patterns import PATTERNS
from elevation.patterns.base import Pattern
from elevation.sheets import SHEETS
from elevation.sheets.base import Sheet

ROOT = Path(__file__).parent.parent


def classes_in(package, base):
    module = importlib.import_module(package)
    for info in pkgutil.iter_modules(module.__path__, f"{package}."):
        for _, found in inspect.getmembers(importlib.import_module(info.name), inspect.isclass):
            if issubclass(found, base) and not inspect.isabstract(found) and found.__module__ == info.name:
                yield found


def test_every_pattern_is_registered():
    assert set(PATTERNS) == {c for c in classes_in("elevation.patterns", Pattern) if c is not Pattern}


def test_every_feature_is_registered_and_a_key_of_a_wall():
    assert set(FEATURES.values()) == set(classes_in("elevation.features", Feature))
    assert FEATURES.keys() <= Wall.model_fields.keys()


def test_every_sheet_is_registered():
    registered = {type(s) if not inspect.isclass(s) else s for s in SHEETS}
    assert registered == set(classes_in("elevation.sheets", Sheet))
    kinds = [s.kind for s in SHEETS]
    assert len(kinds) == len(set(kinds))


def test_every_rule_is_registered_named_once_and_sourced():
    ids = [rule.id for rule in RULES]
    assert len(ids) == len(set(ids))
    modules = {info.name for info in pkgutil.iter_modules(importlib.import_module("elevation.checks").__path__)}
    used = {(r if inspect.isclass(r) else type(r)).__module__.rsplit(".", 1)[1] for r in RULES}
    assert used <= modules
    for rule in RULES:
        assert str(rule.source).strip()
        assert len(inspect.getdoc(rule) or "") > 40


def modules():
    return sorted((ROOT / "elevation").rglob("*.py"))


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(ROOT)))
def test_no_module_is_long(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 420


def test_every_public_name_has_a_docstring():
    bare = []
    for info in pkgutil.walk_packages(elevation.__path__, "elevation."):
        if info.name == "elevation.__main__":
            continue
        module = importlib.import_module(info.name)
        if not inspect.getdoc(module):
            bare.append(info.name)
        for name, found in vars(module).items():
            public = not name.startswith("_") and getattr(found, "__module__", None) == info.name
            if public and (inspect.isfunction(found) or inspect.isclass(found)) and not inspect.getdoc(found):
                bare.append(f"{info.name}.{name}")
    assert not bare


def test_what_the_readme_tells_to_run_is_there():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    scripts = re.findall(r"^ {4}sh (\S+)$", text, re.MULTILINE)
    assert scripts == ["examples/draw.sh", "tests/run.sh"]
    assert all((ROOT / s).is_file() for s in scripts)


def test_what_the_guide_names_is_there():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for name in re.findall(r"`((?:patterns|features|checks|sheets|job|output|tests)/[\w/]*(?:\.py)?)`", text):
        assert (ROOT / "elevation" / name).exists() or (ROOT / name).exists(), name
