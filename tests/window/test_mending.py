"""Findings mended on real pictures: the finding is gone after the picture was measured again."""

from io import BytesIO

import pytest
from PIL import Image, ImageDraw
from reportlab.pdfgen.canvas import Canvas

from planner.artwork.facts import ArtworkFacts
from planner.artwork.measure import measure
from planner.artwork.read import artwork_from, import_artwork
from planner.job import edits
from planner.job.document import Artwork, GroupWidth, Job, Print
from planner.job.findings import Finding, FindingKind
from planner.job.fixes import OutlineInk
from planner.plan.make_plan import make_plan
from planner.shop.cloth import Swatch
from planner.shop.document import changed
from planner.shop.garments import Location, SizeGroup
from planner.window.mending import mended
from tests.builders import A_DAY, a_job, a_shop, an_artwork

SIZE = (900, 600)
INK = (200, 40, 40, 255)


def png_of(picture: Image.Image) -> bytes:
    import io

    buffer = io.BytesIO()
    picture.save(buffer, "PNG")
    return buffer.getvalue()


def boxed() -> Image.Image:
    picture = Image.new("RGBA", SIZE, (255, 255, 255, 255))
    ImageDraw.Draw(picture).ellipse([150, 100, 750, 500], fill=INK)
    return picture


def with_margin() -> Image.Image:
    picture = Image.new("RGBA", SIZE)
    ImageDraw.Draw(picture).ellipse([350, 200, 550, 400], fill=INK)
    return picture


def with_specks() -> Image.Image:
    picture = Image.new("RGBA", SIZE)
    draw = ImageDraw.Draw(picture)
    draw.ellipse([0, 0, 700, 599], fill=INK)
    for at in range(10):
        draw.rectangle([800, 40 * at + 20, 802, 40 * at + 22], fill=INK)
    draw.rectangle([890, 0, 899, 599], fill=INK)
    return picture


def thin() -> Image.Image:
    picture = Image.new("RGBA", SIZE)
    draw = ImageDraw.Draw(picture)
    draw.rectangle([0, 0, 300, 599], fill=INK)
    for at in range(5):
        draw.line([400, 100 * at + 80, 899, 100 * at + 80], fill=INK, width=3)
    return picture


def in_the_cloths_colour() -> Image.Image:
    picture = Image.new("RGBA", SIZE)
    ImageDraw.Draw(picture).ellipse([0, 0, 899, 599], fill=(31, 42, 68, 255))
    return picture


def job_with(picture: Image.Image) -> tuple[Job, Artwork, bytes]:
    job, _ = a_job(width_mm=76.2)
    artwork, data = an_artwork(data=png_of(picture), size_px=picture.size)
    print_ = Print(key="p1", artwork="a1", line="g1", location=Location.LEFT_CHEST, width_mm=76.2)
    line = changed(job.lines[0], colour=Swatch(name="navy", hex="#1f2a44"))
    return changed(job, artworks=(artwork,), prints=(print_,), lines=(line,)), artwork, data


def found(job: Job, data: bytes, kind: FindingKind) -> tuple[Finding | None, dict[str, ArtworkFacts]]:
    facts = {"a1": measure(data, job.artwork("a1"))}
    plan = make_plan(job, a_shop(), facts=facts, today=A_DAY)
    return next((finding for finding in plan.findings if finding.kind is kind), None), facts


@pytest.mark.parametrize(
    ("picture", "kind"),
    [
        (boxed(), FindingKind.BOX),
        (with_margin(), FindingKind.EMPTY_MARGIN),
        (with_specks(), FindingKind.SPECKS),
        (thin(), FindingKind.THIN_STROKES),
    ],
    ids=["box", "margin", "specks", "thin strokes"],
)
def test_a_mended_finding_is_gone_when_measured_again(picture: Image.Image, kind: FindingKind) -> None:
    job, _, data = job_with(picture)
    finding, facts = found(job, data, kind)
    assert finding is not None
    after = mended(job, a_shop(), finding, facts)
    assert after is not None
    again, _ = found(after, data, kind)
    assert again is None


def test_an_outline_makes_more_of_the_artwork_visible() -> None:
    job, _, data = job_with(in_the_cloths_colour())
    finding, facts = found(job, data, FindingKind.LOW_CONTRAST)
    assert finding is not None
    after = mended(job, a_shop(), finding, facts)
    assert after is not None
    again, _ = found(after, data, FindingKind.LOW_CONTRAST)
    assert again is None or (again.found or 0) < (finding.found or 0)


def test_trimming_keeps_the_motif_at_its_printed_size() -> None:
    job, artwork, data = job_with(with_margin())
    finding, facts = found(job, data, FindingKind.EMPTY_MARGIN)
    assert finding is not None
    after = mended(job, a_shop(), finding, facts)
    assert after is not None
    before_mm = job.print_of("p1").width_mm * 201 / artwork.width_px
    assert after.print_of("p1").width_mm == pytest.approx(before_mm, rel=0.01)


def coarse(width_px: int, width_mm: float, group_mm: float) -> Job:
    job, _ = a_job()
    artwork, _ = an_artwork(data=b"", size_px=(width_px, width_px))
    youth = GroupWidth(group=SizeGroup.YOUTH, width_mm=group_mm)
    print_ = Print(key="p1", artwork="a1", line="g1", width_mm=width_mm, group_widths=(youth,))
    return changed(job, artworks=(artwork,), prints=(print_,))


def too_coarse(job: Job) -> Finding:
    plan = make_plan(job, a_shop(), facts={}, today=A_DAY)
    return next(finding for finding in plan.findings if finding.kind is FindingKind.TOO_COARSE)


def test_a_print_too_coarse_is_made_narrower_on_all_groups_of_sizes() -> None:
    # 1,500 px at 300 ppi are 5 in.
    job = coarse(1500, 254.0, 203.2)
    after = mended(job, a_shop(), too_coarse(job), {})
    assert after is not None
    print_ = after.print_of("p1")
    assert (print_.width_mm, print_.group_widths[0].width_mm) == (127.0, 127.0)
    plan = make_plan(after, a_shop(), facts={}, today=A_DAY)
    assert all(finding.kind is not FindingKind.TOO_COARSE for finding in plan.findings)
    narrow = coarse(1500, 254.0, 76.2)
    after = mended(narrow, a_shop(), too_coarse(narrow), {})
    assert after is not None
    assert after.print_of("p1").group_widths[0].width_mm == 76.2


def test_a_width_out_of_reach_is_not_offered() -> None:
    job = coarse(200, 254.0, 203.2)
    assert mended(job, a_shop(), too_coarse(job), {}) is None


def test_what_only_a_person_can_mend_is_left_alone() -> None:
    job, _, data = job_with(boxed())
    finding, facts = found(job, data, FindingKind.RIGHTS)
    assert finding is not None
    assert mended(job, a_shop(), finding, facts) is None


def test_facts_of_an_earlier_state_mend_nothing() -> None:
    job, _, data = job_with(with_margin())
    finding, facts = found(job, data, FindingKind.EMPTY_MARGIN)
    assert finding is not None
    after = mended(job, a_shop(), finding, facts)
    assert after is not None
    assert mended(after, a_shop(), finding, facts) is None


def a_page() -> bytes:
    """A dark blue square of 1 in on a page of 4 × 3 in."""
    made = BytesIO()
    canvas = Canvas(made, pagesize=(288, 216), invariant=1)
    canvas.setFillColorRGB(0.12, 0.16, 0.27)
    canvas.rect(72, 72, 72, 72, stroke=0, fill=1)
    canvas.save()
    return made.getvalue()


def test_vector_artwork_is_trimmed_as_vectors_and_outlined_in_fine_pixels() -> None:
    data = a_page()
    job, _, _ = job_with(boxed())
    artwork = artwork_from(import_artwork(data, "page.pdf"), "a1")
    job = changed(job, artworks=(artwork,), prints=(changed(job.prints[0], width_mm=203.2),))
    finding, facts = found(job, data, FindingKind.EMPTY_MARGIN)
    assert finding is not None
    trimmed = mended(job, a_shop(), finding, facts)
    assert trimmed is not None
    assert trimmed.artwork("a1").stays_vector
    # The square is a quarter of the page's width: 2 in of 8 in.
    assert trimmed.print_of("p1").width_mm == pytest.approx(50.8, abs=0.2)
    finding, facts = found(trimmed, data, FindingKind.LOW_CONTRAST)
    assert finding is not None
    outlined = mended(trimmed, a_shop(), finding, facts)
    assert outlined is not None
    after = outlined.artwork("a1")
    assert not after.stays_vector
    ppi = after.size_px[0] / (outlined.print_of("p1").width_mm / 25.4)
    assert ppi == pytest.approx(600, rel=0.01)
    line = after.fixes[-1]
    assert isinstance(line, OutlineInk)
    assert line.by_px / ppi * 25.4 == pytest.approx(0.8, rel=0.02)
    facts_after = measure(data, after)
    assert (facts_after.width_px, facts_after.height_px) == after.size_px
    # Twice as large it is as coarse as any other picture would be.
    large = edits.change_print(outlined, "p1", width_mm=254.0)
    assert too_coarse(large).found == pytest.approx(after.size_px[0] / 10, rel=0.01)


def test_an_outline_for_one_cloth_leaves_prints_on_other_cloth_alone() -> None:
    job, _, data = job_with(in_the_cloths_colour())
    line = changed(job.lines[0], key="g2", colour=Swatch(name="natural", hex="#efe6d2"))
    print_ = changed(job.prints[0], key="p2", line="g2")
    two = changed(job, lines=(*job.lines, line), prints=(*job.prints, print_))
    finding, facts = found(two, data, FindingKind.LOW_CONTRAST)
    assert finding is not None
    assert finding.print == "p1"
    after = mended(two, a_shop(), finding, facts)
    assert after is not None
    own = after.artwork(after.print_of("p1").artwork)
    assert [fix.step for fix in own.fixes] == ["outline"]
    assert after.print_of("p2") == two.print_of("p2")
    assert after.artwork("a1") == two.artwork("a1")
    alone = mended(job, a_shop(), finding, facts)
    assert alone is not None
    assert len(alone.artworks) == 1
