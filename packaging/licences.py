"""Collects the licences of everything installed: `python packaging/licences.py --to FILE`.

Run by the Python of the environment that is bundled: it reads what that environment's distributions carry
in their own metadata. A distribution that says nothing of its licence ends it with an error.
"""

import argparse
import sys
from importlib.metadata import Distribution, distributions
from pathlib import Path

NOT_BUNDLED = frozenset(
    {"altgraph", "editables", "hatchling", "pathspec", "pip", "pluggy", "pyinstaller"}
    | {"pyinstaller-hooks-contrib", "setuptools", "tomlkit", "trove-classifiers", "wheel"}
    | {"transfer-job-planner"}
)
"""What only builds the bundle, and the planner itself."""
_LICENCE_FILES = ("licen", "copying", "notice", "copyright", "authors")
_MOST_BYTES = 400_000
_COMMON = Path("/usr/share/common-licenses")
_QT = """Qt is used under the GNU Lesser General Public License, version 3. Its libraries lie in the program's
folder as files of their own (`_internal/PySide6`): you may replace them by builds of your own that fit in
their place, and take the program apart as far as mending that replacement needs. The source code of Qt and of
Qt for Python is at https://code.qt.io/.
"""


class NoLicence(Exception):
    """A distribution tells of no licence; the message names it."""


def main(arguments: list[str] | None = None) -> int:
    """Write the licences of the environment that runs this."""
    parser = argparse.ArgumentParser(description="Collect the licences of what is installed here.")
    parser.add_argument("--to", type=Path, required=True, metavar="FILE")
    to: Path = parser.parse_args(arguments).to
    to.write_text(collected(bundled()), encoding="utf-8")
    print(f"{to}: {to.stat().st_size // 1000} kB")
    return 0


def bundled() -> list[Distribution]:
    """The distributions that go into the bundle, by name."""
    found = {
        name: distribution
        for distribution in distributions()
        if (name := (distribution.metadata["Name"] or "").lower().replace("_", "-"))
        and name not in NOT_BUNDLED
    }
    return [found[name] for name in sorted(found)]


def collected(parts: list[Distribution]) -> str:
    """One text: who is in it and under which terms, then the terms in full.

    Raises:
        NoLicence: a part tells of none.
    """
    head = [
        "Transfer Job Planner is made with the work of others; each part is under the licence it names.",
        "",
    ]
    head += [f"{part.metadata['Name']} {part.version}: {terms(part)}" for part in parts]
    python = f"Python {sys.version.split()[0]}: Python Software Foundation License"
    head += [python, "", _QT]
    bodies = [
        f"{'=' * 78}\n{part.metadata['Name']} {part.version}\n\n{text}"
        for part in parts
        for text in texts(part)
    ]
    for name in ("LGPL-3", "GPL-3"):
        # The wheel of Qt names its licence without carrying its text.
        if (_COMMON / name).is_file():
            bodies.append(f"{'=' * 78}\n{name}\n\n{(_COMMON / name).read_text(encoding='utf-8')}")
    return "\n".join([*head, *bodies]) + "\n"


def terms(part: Distribution) -> str:
    """The short name of a part's licence, as its own metadata has it.

    Raises:
        NoLicence: it tells of none.
    """
    meta = part.metadata
    classifiers = [
        entry.rpartition(" :: ")[2]
        for entry in meta.get_all("Classifier", [])
        if entry.startswith("License ::")
    ]
    stated = meta["License-Expression"] or ""
    if not stated:
        stated = ", ".join(classifiers) or next(iter((meta["License"] or "").strip().splitlines()), "")
    if not stated and not texts(part):
        raise NoLicence(f"{meta['Name']} {part.version} tells of no licence")
    return stated or "see its text below"


def texts(part: Distribution) -> list[str]:
    """The licence files that a part carries."""
    found = []
    for file in part.files or ():
        name = file.name.lower()
        if any(word in name for word in _LICENCE_FILES) and not name.endswith((".py", ".pyc", ".so", ".pyi")):
            path = Path(str(file.locate()))
            if path.is_file() and path.stat().st_size <= _MOST_BYTES:
                found.append(path.read_text(encoding="utf-8", errors="replace"))
    return found


if __name__ == "__main__":
    sys.exit(main())
