"""Every kind that people read has words, and none is shown as the file stores it."""

import ast
import re
from enum import StrEnum
from pathlib import Path
from typing import get_args

import pytest

import planner
from planner.job.fixes import FixStep
from planner.plan.kind_words import FIX_STEPS, WORDS, kind_name
from planner.shop.garments import Location
from planner.shop.offers import Peel

_PLANNER = Path(next(iter(planner.__path__)))
_KINDS = re.compile(
    r"(?:.*_)?(?:kind|state|location|place|group|fibre|part|pressure|peel|wish|paper|serious|seriousness|direction)"
)
_STORED = {("commands/export.py", "wish")}
"""What is typed after an option of a command is what is stored."""


@pytest.mark.parametrize("kind", WORDS, ids=lambda kind: kind.__name__)
def test_every_member_of_a_kind_has_words_of_its_own(kind: type[StrEnum]) -> None:
    said = [kind_name(member) for member in kind]
    assert set(WORDS[kind]) == set(kind)
    assert all(said)
    assert len(set(said)) == len(said)


def test_kinds_that_store_the_same_are_told_apart() -> None:
    assert all(type(member) is kind for kind, words in WORDS.items() for member in words)
    assert kind_name(Peel.COLD) == WORDS[Peel][Peel.COLD]
    assert kind_name(Location.NAPE) == WORDS[Location][Location.NAPE]


def test_every_step_of_a_fix_has_words() -> None:
    union = get_args(FixStep)[0]
    steps = {model.model_fields["step"].default for model in get_args(union)}
    assert steps == set(FIX_STEPS)


def _shown_as_stored(source: str) -> set[str]:
    """Names of kinds whose `.value` is read; a call `.value()` asks a widget or the settings."""
    tree = ast.parse(source)
    called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr == "value" and id(node) not in called:
            name = getattr(node.value, "id", getattr(node.value, "attr", ""))
            if _KINDS.fullmatch(name):
                found.add(name)
    return found


@pytest.mark.parametrize("folder", ["window", "paper", "commands"])
def test_no_kind_is_shown_as_it_is_stored(folder: str) -> None:
    found = {
        (str(path.relative_to(_PLANNER)), name)
        for path in (_PLANNER / folder).rglob("*.py")
        for name in _shown_as_stored(path.read_text(encoding="utf-8"))
    }
    assert found <= _STORED, "show `kind_name(kind)`"


def test_what_is_shown_as_it_is_stored_is_found() -> None:
    assert _shown_as_stored("label(offer.kind.value)") == {"kind"}
    assert not _shown_as_stored("label(kind_name(offer.kind), field.value, box.value())")
