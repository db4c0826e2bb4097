"""The scripts in `packaging/` are run from there, not imported from a package: so are they here."""

import sys
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
SCRIPTS = PROJECT / "packaging"

sys.path.append(str(SCRIPTS))


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project folder that holds two small locks and nothing else."""
    folder = tmp_path / "some project"
    (folder / "packaging").mkdir(parents=True)
    (folder / "packaging" / "lock.txt").write_text("small==1.0 --hash=sha256:aa\n")
    (folder / "packaging" / "lock-check.txt").write_text(
        "small==1.0 --hash=sha256:aa\ntool==2.0 --hash=sha256:bb\n"
    )
    return folder
