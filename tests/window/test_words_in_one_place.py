"""What people read stands in the modules of words, so that a translator finds all of it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import planner

_PLANNER = Path(next(iter(planner.__path__)))
_FOLDERS = ("window", "paper", "commands")
_WORDS = re.compile(r"(?:.*_)?words|wording|steps|meanings|sentences|to_accept")
_NO_WORDS = {
    Path("window/dress.py"): "a style sheet",
    Path("window/offers/columns.py"): "widest cells, to measure by",
    Path("paper/fonts.py"): "files of the typeface, categories of characters",
    Path("paper/image_streams.py"): "names of PDF",
    Path("paper/marks.py"): "the program's name",
}
_SHOWING = frozenset(
    (
        *("label", "button", "ElidedLabel", "QLabel", "QPushButton", "QCheckBox", "QAction", "Combo"),
        *("setText", "setToolTip", "setStatusTip", "setAccessibleName", "setAccessibleDescription"),
        *("setPlaceholderText", "setWindowTitle", "setTitle", "addAction", "addMenu", "addItem", "addTab"),
        *("heading", "text", "money", "figure", "length", "choice", "flag", "lines", "several", "heat"),
        *("Unreadable",),
    )
)
"""Calls whose words are read by people, whatever they look like."""
_SHOWING_KEYWORDS = frozenset(("hint", "words", "placeholder", "title", "tip"))
_SILENT = frozenset(
    ("QKeySequence", "Decimal", "compile", "setStyleSheet", "setProperty", "getattr", "QFont")
)
_UNITS = frozenset(("mm", "min", "ppi", "in", "px"))
_UNREAD = re.compile(
    r"^image/|^transfer-job-planner$|^letterhead and rates settled$|://|[|^$]|^[a-z_0-9.{}]+$|^_|^/[A-Z]"
    r"| Do Q$"
)
"""Addresses, patterns, names of fields, a key of the settings, names and operators of PDF."""
_KEYS = re.compile(r"(?:Ctrl|Shift|Alt|Meta)\+\S*|Del|Backspace|Return|Enter|Esc")


def _text(node: ast.expr) -> str | None:
    """The text of a literal; of an f-string what stands between its values."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "{}".join(part.value for part in node.values if isinstance(part, ast.Constant))
    return None


def _reads_like_words(text: str) -> bool:
    """Capital and small letters as a sentence begins, or three words on."""
    if _KEYS.fullmatch(text) or _UNREAD.search(text):
        return False
    words = re.findall(r"[^\W\d_]{2,}", text)
    return bool(re.match(r"[\W\d_]*[A-Z][a-z]+(?:[ …,.:].*)?$", text, re.DOTALL)) or len(words) >= 3


def _shows_words(text: str) -> bool:
    silent = text in _UNITS or "_" in text or _KEYS.fullmatch(text)
    return not silent and bool(re.search(r"[^\W\d_]{2}", text))


def visible_words(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of every literal in a module that people read."""

    def walk(node: ast.AST, *, shown: bool) -> Iterator[tuple[int, str]]:
        text = _text(node) if isinstance(node, ast.expr) else None
        if text is not None:
            if _reads_like_words(text) or (shown and _shows_words(text)):
                yield node.lineno, text
            if isinstance(node, ast.JoinedStr):
                for part in node.values:
                    if isinstance(part, ast.FormattedValue):
                        yield from walk(part.value, shown=False)
            return
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            body = [part for part in node.body if not _is_text_alone(part)]
            for part in (*node.body, *getattr(node, "decorator_list", ())):
                if part in body or part not in node.body:
                    yield from walk(part, shown=False)
            for part in [getattr(node, "args", None)]:
                if part is not None:
                    yield from walk(part, shown=False)
            return
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            if name in _SILENT:
                return
            yield from walk(node.func, shown=False)
            for part in node.args:
                yield from walk(part, shown=name in _SHOWING)
            for keyword in node.keywords:
                yield from walk(keyword.value, shown=keyword.arg in _SHOWING_KEYWORDS)
            return
        for child in ast.iter_child_nodes(node):
            yield from walk(child, shown=shown and isinstance(node, ast.IfExp | ast.BoolOp | ast.BinOp))

    yield from walk(ast.parse(source), shown=False)


def _is_text_alone(part: ast.stmt) -> bool:
    """A docstring, of a class, a function or a field."""
    return isinstance(part, ast.Expr) and isinstance(part.value, ast.Constant)


@pytest.mark.parametrize(
    "path",
    [
        path
        for folder in _FOLDERS
        for path in sorted((_PLANNER / folder).rglob("*.py"))
        if not _WORDS.fullmatch(path.stem) and path.relative_to(_PLANNER) not in _NO_WORDS
    ],
    ids=lambda path: str(path.relative_to(_PLANNER)),
)
def test_no_words_stand_outside_the_modules_of_words(path: Path) -> None:
    found = [f"{line}: {text!r}" for line, text in visible_words(path.read_text(encoding="utf-8"))]
    assert not found, f"move these to a module of words:\n{chr(10).join(found)}"


@pytest.mark.parametrize(
    "source",
    [
        'label("gap")',
        'button("OK then", go, hint="x")',
        'field.setToolTip(f"press {name}")',
        'TITLE = "Usual widths"',
        'def f():\n    return f"{a} of {b} ride along for {c}"',
        'box.setText("pinned" if on else "free")',
        'CHOICES = {Way.LOOSE: "by hand alone"}',
    ],
)
def test_words_are_found_where_they_stand(source: str) -> None:
    assert list(visible_words(source))


@pytest.mark.parametrize(
    "source",
    [
        '"""Words of a docstring."""',
        'class A:\n    x: int\n    """How many pieces must be chosen."""',
        'QKeySequence("Ctrl+Shift+O")',
        'made.setProperty("role", "link")',
        "label(words.GAP)",
        're.compile("one of these")',
        'settings.value("findings folded")',
    ],
)
def test_names_that_nobody_reads_are_passed_by(source: str) -> None:
    assert not list(visible_words(source))
