"""What the two locks hold, and how they are made."""

import re
import tomllib

import lock
import pytest
import set_up
from set_up import Tools, locked_entry

from tests.packaging_.conftest import PROJECT


def text_of(tools: Tools) -> str:
    return set_up.lock_path(tools).read_text(encoding="utf-8")


def entries(tools: Tools) -> dict[str, str]:
    """The requirement line of each package, marker included."""
    lines = re.findall(r"^([a-z0-9][a-z0-9.-]*)==(\S+(?: ;[^\\\n]*)?)", text_of(tools), re.MULTILINE)
    return {name: rest.strip() for name, rest in lines}


def normal(name: str) -> str:
    """A package's name as the Python packaging specifications compare names ("Names and normalization")."""
    return re.sub(r"[-_.]+", "-", name).lower()


@pytest.mark.parametrize("tools", Tools)
def test_no_registry_host_and_no_path_of_a_machine_is_in_a_lock(tools: Tools) -> None:
    text = text_of(tools)
    assert not re.search(r"://|file:|find-links|index-url|trusted-host|\bhttps?\b", text)
    assert not re.search(r"(^|[\s=@])(/|[A-Za-z]:\\)", text, re.MULTILINE)


@pytest.mark.parametrize("tools", Tools)
def test_every_package_of_a_lock_is_pinned_with_sha256_hashes(tools: Tools) -> None:
    blocks = re.split(r"\n(?=[a-z0-9])", text_of(tools))
    assert len(blocks) > 20
    for block in blocks:
        assert re.match(r"[a-z0-9.-]+==[^\s;]+", block), block[:60]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", block), block[:60]


@pytest.mark.parametrize("tools", Tools)
def test_a_lock_holds_all_that_pyproject_names(tools: Tools) -> None:
    pyproject = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = list(pyproject["project"]["dependencies"])
    if tools is Tools.CHECK:
        wanted += pyproject["dependency-groups"]["check"]
    names = {normal(re.match(r"[\w.-]+", requirement)[0]) for requirement in wanted}
    assert names - entries(tools).keys() == set()


def test_what_is_tested_is_what_runs() -> None:
    assert entries(Tools.RUN).items() <= entries(Tools.CHECK).items()


def test_one_version_of_each_package_serves_every_python() -> None:
    names = re.findall(r"^([a-z0-9.-]+)==", text_of(Tools.CHECK), re.MULTILINE)
    assert len(names) == len(set(names))
    assert not re.search(r"^[a-z0-9.-]+==.*python_(full_)?version", text_of(Tools.CHECK), re.MULTILINE)


def test_qt_stays_below_the_version_that_aborts_on_python_3_11() -> None:
    version = entries(Tools.RUN)["pyside6-essentials"]
    assert (6, 8) <= tuple(int(part) for part in version.split(".")[:2]) < (6, 12)


def test_one_entry_is_cut_out_of_a_lock_with_all_its_hashes() -> None:
    entry = "set==2 ; x == 'y' \\\n    --hash=sha256:bb \\\n    --hash=sha256:cc\n"
    text = f"a==1 \\\n    --hash=sha256:aa\n{entry}    # via a\nz==3\n"
    assert locked_entry(text, "set") == entry
    assert locked_entry("set==2\nz==3\n", "set") == "set==2\n"
    with pytest.raises(KeyError):
        locked_entry(text, "et")


def test_the_build_tool_of_the_real_lock_can_be_cut_out() -> None:
    entry = locked_entry(text_of(Tools.CHECK), "setuptools")
    assert entry.startswith("setuptools==")
    assert entry.count("--hash=sha256:") >= 1
    assert not entry.rstrip().endswith("\\")


def test_the_locks_are_made_for_all_systems_and_pythons_with_hashes_and_no_host() -> None:
    for command in (lock.check_command(upgrade=False), lock.run_command()):
        assert {"--universal", "--generate-hashes", "--no-emit-index-url", "--no-header"} <= set(command)
        assert command[command.index("--python-version") + 1] == "3.11"


def test_the_run_lock_takes_its_versions_from_the_check_lock() -> None:
    command = lock.run_command()
    assert command[command.index("--constraint") + 1] == "packaging/lock-check.txt"
    assert "--upgrade" not in lock.check_command(upgrade=False)
    assert "--upgrade" in lock.check_command(upgrade=True)
