"""Every figure with decimals or thousands that people read is written as the shop's region does."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import planner

_PLANNER = Path(next(iter(planner.__path__)))
_FOLDERS = ("window", "paper", "commands", "plan", "pricing")
_MARKED = re.compile(r",|\.[1-9{]|[gf%]'?$|^f'\.")
_WHOLE = re.compile(r"\.0[f%]")
"""Whole figures under a thousand, such as a percentage or a temperature, are the same everywhere."""
_OTHER = {
    Path("window/positions.py"): "written a line further on",
    Path("window/shop/readings.py"): "written a line further on",
    Path("paper/sheet_pdf.py"): "figures of PDF",
    Path("plan/finding_words.py"): "a whole figure",
}


def figures_in_english(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of every figure put into a text as Python writes it."""

    def walk(node: ast.AST, *, written: bool) -> Iterator[tuple[int, str]]:
        if isinstance(node, ast.FormattedValue) and node.format_spec is not None and not written:
            spec = "".join(
                part.value if isinstance(part, ast.Constant) else "{"
                for part in getattr(node.format_spec, "values", ())
                if isinstance(part, ast.Constant | ast.FormattedValue)
            )
            if "%" not in spec[:1] and _MARKED.search(spec) and not _WHOLE.fullmatch(spec):
                yield node.lineno, ast.unparse(node)
        called = isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", ""))
        for child in ast.iter_child_nodes(node):
            yield from walk(child, written=written or called == "written")

    yield from walk(ast.parse(source), written=False)


@pytest.mark.parametrize("folder", _FOLDERS)
def test_no_figure_is_written_as_python_does(folder: str) -> None:
    found = [
        f"{path.relative_to(_PLANNER)}:{line}: {text}"
        for path in sorted((_PLANNER / folder).rglob("*.py"))
        if path.relative_to(_PLANNER) not in _OTHER
        for line, text in figures_in_english(path.read_text(encoding="utf-8"))
    ]
    assert not found, "write these by planner/measures/figures.py:\n" + "\n".join(found)


@pytest.mark.parametrize(
    "source",
    [
        'f"{number:,}"',
        'f"{mm:.2f} mm"',
        'f"{x:.{places}f}"',
        'f"{x:g}°"',
        'f"{share:.1%}"',
        'f"{x:f}"',
    ],
)
def test_a_figure_in_english_is_found(source: str) -> None:
    assert list(figures_in_english(source))


@pytest.mark.parametrize(
    "source",
    [
        'f"{ppi:.0f} ppi"',
        'f"{name:<24}"',
        'written(f"{mm:.2f}")',
        'f"{at:%H:%M}"',
        'f"{minute:02d}"',
    ],
)
def test_other_texts_are_passed_by(source: str) -> None:
    assert not list(figures_in_english(source))
