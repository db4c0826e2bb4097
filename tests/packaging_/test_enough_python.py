"""A Python that is too old gets one sentence, not a page of errors."""

import ast
import subprocess
import sys

import pytest

from tests.packaging_.conftest import SCRIPTS

# What comes after the version check is replaced: should the check fail, nothing may be set up.
AS_OLD = """
import runpy, sys, types
went_on = types.ModuleType("went_on")
went_on.main = lambda arguments: 99
sys.modules["open_planner"] = sys.modules["run_checks"] = went_on
sys.version_info = {version}
sys.path.insert(0, {folder!r})
sys.argv = [{script!r}]
runpy.run_path({script!r}, run_name="__main__")
"""


@pytest.mark.parametrize("script", ["start.py", "check.py"])
@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6, 15), (3, 10, 99)])
def test_an_old_python_is_told_which_one_is_needed_and_exits_with_2(
    script: str, version: tuple[int, ...]
) -> None:
    program = AS_OLD.format(version=version, folder=str(SCRIPTS), script=str(SCRIPTS / script))
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "needs Python 3.11 or newer" in done.stderr
    assert f"this is Python {version[0]}.{version[1]}." in done.stderr
    assert script in done.stderr
    assert done.stderr.count("\n") == 1
    assert done.stdout == ""


@pytest.mark.parametrize("script", ["start.py", "check.py"])
def test_the_version_is_looked_at_before_anything_else_is_read(script: str) -> None:
    tree = ast.parse((SCRIPTS / script).read_text(encoding="utf-8"))
    imports = [node.names[0].name for node in tree.body if isinstance(node, ast.Import)]
    assert imports[:2] == ["sys", "enough_python"]


@pytest.mark.parametrize("script", ["enough_python.py", "start.py", "check.py"])
def test_what_old_pythons_read_holds_nothing_they_cannot_parse(script: str) -> None:
    tree = ast.parse((SCRIPTS / script).read_text(encoding="ascii"))
    old = (
        *(ast.Module, ast.Expr, ast.Constant, ast.Import, ast.alias, ast.If, ast.Compare, ast.Lt, ast.Eq),
        *(ast.Assign, ast.Name, ast.Load, ast.Store, ast.Attribute, ast.Tuple, ast.Call, ast.BinOp, ast.Mod),
        *(ast.Subscript, ast.Slice),
    )
    assert [type(node).__name__ for node in ast.walk(tree) if not isinstance(node, old)] == []
