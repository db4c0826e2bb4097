"""Every kind that people read has words, and none is shown as the file stores it."""

import ast
import re
from enum import StrEnum
from pathlib import Path
from typing import get_args

import pytest

import planner
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.fixes import FixStep
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.plan.finding_words import SENTENCES
from planner.plan.kind_words import FIX_STEPS, SUBJECTS, WORDS, kind_name, subject_name
from planner.shop.garments import Location, SizeGroup
from planner.shop.offers import Peel

_PLANNER = Path(next(iter(planner.__path__)))
_KINDS = re.compile(
    r"(?:.*_)?(?:kind|style|state|location|place|group|fibre|part|pressure|peel|wish|paper|serious|seriousness|direction)"
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


def _subjects_written(source: str) -> set[str]:
    """Subjects of findings that stand in the code as text, as they are stored."""
    return {
        node.value.value
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.keyword) and node.arg == "subject"
        if isinstance(node.value, ast.Constant) and node.value.value
    }


def test_every_subject_of_a_finding_that_stands_in_the_code_has_words() -> None:
    written = {
        subject
        for folder in ("artwork", "buying", "pressing", "plan")
        for path in (_PLANNER / folder).rglob("*.py")
        for subject in _subjects_written(path.read_text(encoding="utf-8"))
    }
    assert {"transfers", "photograph"} <= written
    assert written <= {subject for subjects in SUBJECTS.values() for subject in subjects}


@pytest.mark.parametrize(
    ("kind", "subject"),
    [(kind, subject) for kind, subjects in SUBJECTS.items() for subject in subjects],
)
def test_a_subject_is_told_in_words(monkeypatch: pytest.MonkeyPatch, kind: FindingKind, subject: str) -> None:
    monkeypatch.setitem(SUBJECTS, kind, {subject: "in other words"})  # type: ignore[arg-type]
    said = wording.finding(_finding(kind, subject), LengthUnit.MILLIMETRE)
    assert ("in other words" in said) == ("{subject}" in SENTENCES[kind].text)


def test_the_shops_own_names_stay() -> None:
    assert subject_name(_finding(FindingKind.PRINTS_TOO_CLOSE, "over the heart")) == "over the heart"
    said = subject_name(_finding(FindingKind.STOCK_USED, "youth, Film of the quay, Dec 1"))
    assert said == f"{WORDS[SizeGroup][SizeGroup.YOUTH]}, Film of the quay, Dec 1"


def _finding(kind: FindingKind, subject: str) -> Finding:
    return Finding(kind=kind, seriousness=Seriousness.LOOK, found=2, needed=1, subject=subject)


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


@pytest.mark.parametrize("folder", ["window", "paper", "commands", "pricing"])
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
