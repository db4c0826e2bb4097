"""What the bundle's files say fits what the program does."""

import configparser
import struct
from xml.etree import ElementTree

from planner.storage.job_file import KIND, SUFFIX
from tests.packaging_.conftest import PROJECT

BUNDLE = PROJECT / "packaging" / "bundle"
_MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"


def test_the_file_type_is_known_by_the_job_files_own_header() -> None:
    # freedesktop.org shared-mime-info specification, 0.22: magic and glob elements.
    (kind,) = ElementTree.parse(BUNDLE / "transfer-job-planner.xml").getroot()
    inner = kind.find(f"{_MIME}magic/{_MIME}match/{_MIME}match")
    assert inner is not None
    assert inner.get("offset") == "68"
    assert str(inner.get("value")).encode() == struct.pack(">I", KIND.application_id)
    glob = kind.find(f"{_MIME}glob")
    assert glob is not None
    assert glob.get("pattern") == f"*{SUFFIX}"


def test_the_menu_entry_opens_files_of_that_type() -> None:
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str  # type: ignore[assignment, method-assign]
    entry.read(BUNDLE / "transfer-job-planner.desktop", encoding="utf-8")
    said = entry["Desktop Entry"]
    (kind,) = ElementTree.parse(BUNDLE / "transfer-job-planner.xml").getroot()
    assert said["MimeType"].rstrip(";") == kind.get("type")
    assert said["Exec"] == "planner %f"
    assert said["Icon"] == "transfer-job-planner"


def test_there_is_a_spec_for_each_system_and_an_icon_of_its_kind() -> None:
    for name in ("linux.spec", "windows.spec", "macos.spec"):
        compile((BUNDLE / name).read_text(encoding="utf-8"), name, "exec")
    for name in ("planner.png", "planner.ico", "planner.icns"):
        assert (PROJECT / "resources" / "icons" / name).stat().st_size > 5000
