"""The text of licences names every part that is bundled, and refuses one that tells of none."""

import importlib.metadata
from pathlib import Path

import licences
import pytest


def test_every_part_stands_in_the_text_with_its_terms(tmp_path: Path) -> None:
    parts = [part for part in licences.bundled() if part.metadata["Name"].lower() in ("pydantic", "pillow")]
    text = licences.collected(parts)
    assert "pillow" in text.lower()
    assert "MIT" in text
    assert len(text) > 2000
    assert "GNU Lesser General Public License" in text


def test_every_locked_part_tells_of_its_licence() -> None:
    lock = (Path(licences.__file__).parent / "lock.txt").read_text(encoding="utf-8")
    locked = {line.split("==")[0].lower() for line in lock.splitlines() if "==" in line and line[0].isalnum()}
    known = {part.metadata["Name"].lower().replace("_", "-"): part for part in licences.bundled()}
    assert locked <= known.keys()
    for name in locked:
        assert licences.terms(known[name])


def test_a_part_that_tells_of_no_licence_is_refused(tmp_path: Path) -> None:
    folder = tmp_path / "nameless-1.0.dist-info"
    folder.mkdir()
    (folder / "METADATA").write_text("Metadata-Version: 2.1\nName: nameless\nVersion: 1.0\n")
    part = importlib.metadata.Distribution.at(folder)
    with pytest.raises(licences.NoLicence, match="nameless"):
        licences.terms(part)
