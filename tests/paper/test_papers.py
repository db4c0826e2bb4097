"""Every paper: legible, whole, true to scale, the same bytes every time."""

import io
import itertools
import math
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from planner.job import edits
from planner.job.document import SizeCount
from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.measures.lengths import LengthUnit
from planner.paper import fonts
from planner.paper.blocks import heading, table
from planner.paper.build import pdf_of
from planner.paper.papers import Papers, SheetFile
from planner.paper.print_files import print_files
from planner.paper.registry import PAPERS
from planner.paper.text import paragraph
from planner.plan.wording_press import pace
from planner.pressing.calendar import Deadline, Milestone
from planner.pressing.cards import press_cards
from planner.shop.book import PaperSize
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, SizeGroup
from tests.paper.scenes import PRINTER, SECRET_COST, choir_job, choir_papers, grid_layout
from tests.paper.stress import big_papers

MARGIN = 40.0
PER_MM = 72 / 25.4


@pytest.fixture(scope="module")
def made() -> dict[tuple[str, str], bytes]:
    """Every paper of the small job on Letter and of the hard one on A4."""
    papers = {"small": choir_papers(), "hard": big_papers()}
    return {
        (job, name): make(its)
        for job, its in papers.items()
        for name, make in PAPERS.items()
        if name != "packet"
    }


def pages_text(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


def running(text: str) -> str:
    """The text without line ends, as a reader takes it."""
    return " ".join(text.split())


def test_all_papers_embed_their_fonts_and_say_language_title_and_author(
    made: dict[tuple[str, str], bytes],
) -> None:
    for (job, name), data in made.items():
        with pikepdf.open(io.BytesIO(data)) as pdf:
            assert str(pdf.Root.Lang) == "en-US"
            assert str(pdf.docinfo.Author) == "Lantern Street Press Room"
            assert str(pdf.docinfo.Title).lower().startswith(name)
            assert pdf.open_outline().root, (job, name)
            used = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary)]
            described = [item for item in used if item.get("/Type") == "/FontDescriptor"]
            assert described
            assert all("/FontFile2" in item for item in described)
            bare = [item for item in used if item.get("/Type") == "/Font" and "/FontDescriptor" not in item]
            assert not bare, (job, name)


def test_every_page_tells_paper_job_date_and_its_number(made: dict[tuple[str, str], bytes]) -> None:
    for data in made.values():
        texts = pages_text(data)
        for number, text in enumerate(texts, 1):
            assert "Mon, Nov 2, 2026" in text
            assert f"{number} / {len(texts)}" in running(text)


def test_the_same_job_gives_the_same_bytes() -> None:
    assert PAPERS["packet"](choir_papers()) == PAPERS["packet"](choir_papers())


def test_qpdf_finds_nothing_wrong_with_any_paper(made: dict[tuple[str, str], bytes], tmp_path: Path) -> None:
    if shutil.which("qpdf") is None:
        pytest.skip("qpdf is not installed")
    for (job, name), data in made.items():
        if job == "small" or name in ("quote", "press cards"):
            path = tmp_path / "paper.pdf"
            path.write_bytes(data)
            done = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True, check=False)
            assert done.returncode == 0, (name, done.stdout + done.stderr)


def test_nothing_runs_over_a_margin_and_no_two_lines_of_text_collide(
    made: dict[tuple[str, str], bytes],
) -> None:
    for (job, name), data in made.items():
        document = pypdfium2.PdfDocument(data)
        for number, page in enumerate(document, 1):
            width, height = page.get_size()
            boxes = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_TEXT,), max_depth=1)]
            for left, bottom, right, top in boxes:
                assert left >= MARGIN, (job, name, number)
                assert right <= width - MARGIN + 1, (job, name, number)
                assert bottom >= 20, (job, name, number)
                assert top <= height - 30, (job, name, number)
            if name == "layouts":
                continue  # labels of small pieces stand close on purpose
            for one, other in itertools.combinations(boxes, 2):
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                smaller = min((box[2] - box[0]) * (box[3] - box[1]) for box in (one, other))
                overlap = across * down if across > 0 and down > 0 else 0
                assert overlap <= 0.3 * smaller, (job, name, number, one, other)
        document.close()


def test_greek_and_cyrillic_names_print_letter_by_letter(made: dict[tuple[str, str], bytes]) -> None:
    text = running(" ".join(pages_text(made["hard", "quote"])))
    for shown in ("Χορωδία Φώτα του Λιμανιού και Φίλοι της Μουσικής", "Ольга Щукина", "гавань ночью.png"):
        assert shown in text
    assert fonts.UNKNOWN_LETTER not in text


def test_letters_the_family_lacks_are_seen_as_boxes() -> None:
    assert fonts.printable("山田 choir") == f"{fonts.UNKNOWN_LETTER * 2} choir"
    assert not fonts.all_letters_print("山田")
    assert fonts.all_letters_print("Ängström, Łódź, Ελπίδα, Щука")
    # A letter and its accent as two characters are one letter.
    assert fonts.printable("e\u0301") == "é"


def test_long_tables_repeat_their_head(made: dict[tuple[str, str], bytes]) -> None:
    texts = pages_text(made["hard", "buying list"])
    assert len(texts) > 2
    assert all("Spares" in text and "Amount" in text for text in texts)


def test_a_sum_never_stands_alone_on_a_page() -> None:
    # From a table well within a page to one well beyond: for one of the counts the sum just does not fit.
    fonts.register()
    counts = range(24, 40)
    pages = {}
    for count in counts:
        rows = [[f"row {number}.", "1.00"] for number in range(count)] + [["Together", f"{count}.00"]]
        story = [table(("What", "Amount"), rows, (300, 100), figures=(1,), last_is_sum=True)]
        pages[count] = pages_text(pdf_of(story, choir_papers().imprint("Sums")))
    assert {len(of) for of in pages.values()} == {1, 2}
    assert all(f"row {count - 1}." in of[-1] for count, of in pages.items())


def test_rows_of_one_garment_stay_on_one_page_under_its_name() -> None:
    fonts.register()
    sizes = ("S", "M", "L", "XL", "2XL")
    rows = [
        row for number in range(30) for row in (f"tee {number}.", *([f"{number}-{size}"] for size in sizes))
    ]
    for before in range(6):
        filler = [[f"row {number}"] for number in range(before)]
        texts = pages_text(
            pdf_of([table(("What",), [*filler, *rows], (300,))], choir_papers().imprint("Rows"))
        )
        assert len(texts) > 2
        for number in range(30):
            (page,) = (text for text in texts if f"tee {number}." in text)
            assert all(f"{number}-{size}" in page for size in sizes)


def test_a_heading_never_stands_last_on_a_page() -> None:
    fonts.register()
    for before in range(35, 60):
        story = [
            *(paragraph(f"line {number}") for number in range(before)),
            *heading("Note"),
            paragraph("told"),
        ]
        (page,) = (
            text for text in pages_text(pdf_of(story, choir_papers().imprint("Rows"))) if "Note" in text
        )
        assert "told" in page


def test_a_garment_whose_sizes_differ_in_price_is_shown_once() -> None:
    papers = choir_papers()
    line, *others = papers.plan.quote.lines
    base = changed(line, sizes=(("S", 4), ("M", 12)), count=16, amount=16 * line.price_each)
    dearer = changed(line, sizes=(("2XL", 3),), count=3, price_each=Decimal("20.99"), amount=Decimal("62.97"))
    quote = changed(papers.plan.quote, lines=(base, dearer, *others))
    text = running(
        " ".join(pages_text(PAPERS["quote"](replace(papers, plan=changed(papers.plan, quote=quote)))))
    )
    assert text.count(f"{line.style}, {line.colour_name}") == 1
    # 16 × 18.50 = 296.00; with 3 × 20.99 = 62.97 it is 358.97.
    for shown in ("$358.97 19 garments", "16 × $18.50 $296.00", "3 × $20.99 $62.97"):
        assert shown in text


def test_a_quote_of_one_line_and_of_three_fits_one_page_signature_and_all(
    made: dict[tuple[str, str], bytes],
) -> None:
    papers = choir_papers()
    one = changed(papers.plan.quote, lines=papers.plan.quote.lines[:1])
    alone = PAPERS["quote"](replace(papers, plan=changed(papers.plan, quote=one)))
    for data in (alone, made["small", "quote"]):
        (text,) = pages_text(data)
        assert "Customer’s signature" in text
        assert "Total" in text
    last = pages_text(made["hard", "quote"])[-1]
    assert "Total" in last
    assert "Customer’s signature" in last


def test_ladder_discount_and_exemption_stand_in_the_quote() -> None:
    papers = choir_papers()
    quote = changed(papers.plan.quote, discount=Decimal(30), top_up=Decimal(12), tax_exempt=True)
    papers = replace(
        papers,
        plan=changed(papers.plan, quote=quote),
        ladder=((24, Decimal("21.00")), (144, Decimal("17.95"))),
    )
    text = running(" ".join(pages_text(PAPERS["quote"](papers))))
    for shown in ("144 $17.95", "−$30.00", "To the minimum order $12.00", "Sales tax, exempt"):
        assert shown in text


def test_figures_on_press_cards_are_read_at_two_metres(made: dict[tuple[str, str], bytes]) -> None:
    # ISO 9241-303 asks characters of 20 to 22 minutes of arc (from memory): 11.6 mm at two metres.
    least_mm = 2000 * math.tan(math.radians(20 / 60))
    for page in pypdfium2.PdfDocument(made["small", "press cards"]):
        sizes = {}
        for item in page.get_objects((pdfium.FPDF_PAGEOBJ_TEXT,), textpage=page.get_textpage()):
            text = item.extract()
            if text in ("290 °F", "10 s", "medium", "hot"):
                sizes[text] = item.get_font_size() * fonts.CAP_HEIGHT_EM / PER_MM
        assert set(sizes) == {"290 °F", "10 s", "medium", "hot"}
        assert min(sizes.values()) >= least_mm


def test_the_order_of_work_tells_how_many_prints_are_made_in_an_hour(
    made: dict[tuple[str, str], bytes],
) -> None:
    work = choir_papers().plan.press_work
    shown = running(" ".join(pages_text(made["small", "order of work"])))
    assert pace(work) in shown
    assert f"{3600 / work.steps[0].seconds_each:.0f} {work.steps[0].minutes:.0f}" in shown


def test_the_buying_list_says_by_when_blanks_are_ordered_or_when_they_were() -> None:
    papers = choir_papers()
    last = Deadline(milestone=Milestone.ORDER_BLANKS, by=date(2026, 12, 3), slack_days=21)
    done = changed(last, ordered=date(2026, 11, 30), arrives=date(2026, 12, 3))
    for deadline, said in (
        (last, "Order on or before Thu, Dec 3, 2026."),
        (done, "Ordered Mon, Nov 30, 2026, arrives Thu, Dec 3, 2026."),
    ):
        calendar = changed(papers.plan.calendar, deadlines=(deadline,))
        shown = replace(papers, plan=changed(papers.plan, calendar=calendar))
        assert said in running(" ".join(pages_text(PAPERS["buying list"](shown))))


def test_the_press_card_says_who_wins_over_whom_and_what_the_shop_decided() -> None:
    papers = choir_papers()
    cards = tuple(
        changed(card, over_label=True, label_limit_c=110.0, label_decision="The test piece held." * (at == 0))
        for at, card in enumerate(sorted(papers.plan.press_cards, key=lambda card: card.position))
    )
    papers = replace(papers, plan=changed(papers.plan, press_cards=cards))
    first, *others = (running(text) for text in pages_text(PAPERS["press cards"](papers)))
    assert "The shop decided: “The test piece held”." in first
    assert all("The label wins over the offer: settle this before you press." in text for text in others)


def test_a_size_whose_group_has_the_print_elsewhere_says_where_on_its_press_card() -> None:
    papers = choir_papers()
    sizes = (SizeCount(size="M", count=8), SizeCount(size="YM", count=60, group=SizeGroup.YOUTH))
    first = papers.job.prints[0]
    job = edits.change_line(papers.job, first.line, sizes=sizes)
    job = edits.place_print(job, first.key, SizeGroup.YOUTH, 2 * 25.4, 0)
    job = edits.place_print(job, first.key, SizeGroup.ADULT, 5 * 25.4, -1.5 * 25.4)
    plan = changed(papers.plan, press_cards=press_cards(job, papers.shop))
    shown = running(" ".join(pages_text(PAPERS["press cards"](replace(papers, job=job, plan=plan)))))
    assert "5 in from the mark" in shown
    assert "1.5 in to the wearer’s right" in shown


def test_cautions_stand_on_every_press_card_page(made: dict[tuple[str, str], bytes]) -> None:
    for job in ("small", "hard"):
        for text in pages_text(made[job, "press cards"]):
            shown = running(text)
            assert "The transfer printer’s sheet and the garment’s label win over this card." in shown
            assert "The platen burns skin at a touch: metal at 140 °F / 60 °C" in shown
            assert "Press one test piece" in shown


def test_all_sizes_of_a_card_are_shown_even_where_one_page_is_too_short(
    made: dict[tuple[str, str], bytes],
) -> None:
    papers = big_papers()
    shown = running(" ".join(pages_text(made["hard", "press cards"])))
    for size in papers.job.lines[4].sizes:
        assert f"{size.size} 31" in shown
    assert "Card 6 of 13, more sizes" in shown


def test_labels_on_layouts_are_those_of_the_press_cards(made: dict[tuple[str, str], bytes]) -> None:
    second = running(pages_text(made["small", "layouts"])[1])
    assert "B choir-logo.png, Harbour hoodie left chest" in second
    assert "E choir-logo.png, Everyday tee left sleeve" in second
    heads = [text.split()[0] for text in pages_text(made["small", "press cards"])]
    assert sorted(heads) == ["A", "B", "C", "D", "E"]


def test_a_layout_is_drawn_to_its_scale(made: dict[tuple[str, str], bytes]) -> None:
    page = pypdfium2.PdfDocument(made["small", "layouts"])[0]
    assert "Scale 1 : 2.5" in page.get_textpage().get_text_bounded()
    layout = choir_papers().plan.purchase.orders[0].layouts[0]
    pictures = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_IMAGE,))]
    assert len(pictures) == len(layout.placements)
    for (left, bottom, right, top), placement in zip(pictures, layout.placements, strict=True):
        assert (right - left) * 2.5 / PER_MM == pytest.approx(placement.width_mm, abs=0.05)
        assert (top - bottom) * 2.5 / PER_MM == pytest.approx(placement.height_mm, abs=0.05)
    apart = (pictures[0][3] - pictures[1][3]) * 2.5 / PER_MM
    planned = layout.placements[1].y_mm - layout.placements[0].y_mm
    assert apart == pytest.approx(planned, abs=0.05)


def test_no_number_of_a_cut_covers_another() -> None:
    papers = choir_papers()
    papers = replace(papers, job=changed(papers.job, way=Way.STRAIGHT))
    for at, page in enumerate(pypdfium2.PdfDocument(PAPERS["layouts"](papers))):
        boxes = [
            item.get_bounds()
            for item in page.get_objects((pdfium.FPDF_PAGEOBJ_TEXT,), textpage=page.get_textpage())
            if item.extract().strip().isdecimal()
        ]
        for one, other in itertools.combinations(boxes, 2):
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, f"page {at + 1}: {one} and {other}"


def test_fingerprints_and_the_ends_of_file_names_stay_on_one_line_on_a4_too() -> None:
    papers = choir_papers(PaperSize.A4)
    papers = replace(
        papers, job=changed(papers.job, title="A festival title that is as long as names may be")
    )
    order = papers.plan.purchase.orders[0]
    stems = [file.stem for file in print_files(papers.job, papers.shop, order, papers.wishes)]
    # As wide as hexadecimal digits mostly get: half of the letters are the widest.
    digest = "0123456789abd9e0" * 4
    made = tuple(SheetFile(stem, f"{stem}.pdf", digest, "") for stem in stems)
    lines = "\n".join(pages_text(PAPERS["order"](replace(papers, sheet_files=made)))).splitlines()
    assert sum(line.strip() == digest for line in lines) == len(stems)
    for stem in stems:
        name, _, runs = stem.rpartition("_sheet-")
        assert name
        assert any(line.strip().endswith(f"sheet-{runs}") for line in lines)


def test_straight_cuts_are_numbered_and_listed() -> None:
    papers = choir_papers()
    papers = replace(papers, job=changed(papers.job, way=Way.STRAIGHT))
    texts = pages_text(PAPERS["layouts"](papers))
    assert any("Set the stop to" in text for text in texts)
    assert "Set the stop to" not in " ".join(pages_text(PAPERS["layouts"](choir_papers())))


@pytest.mark.parametrize(("page_at", "print_at"), [(1, 0), (2, 2)])
def test_artwork_on_a_garment_is_true_to_its_scale(
    made: dict[tuple[str, str], bytes], page_at: int, print_at: int
) -> None:
    # The picture's width stands to the outline's as print width to the outline's own millimetres.
    from planner.paper.outlines import outline_of

    job = choir_job()
    print_ = job.prints[print_at]
    outline = outline_of(job.line(print_.line).kind)
    page = pypdfium2.PdfDocument(made["small", "press cards"])[page_at]
    (picture,) = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_IMAGE,))]
    paths = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_PATH,))]
    # The garment is the largest path that holds the picture.
    around = [
        box
        for box in paths
        if box[0] < picture[0] and box[2] > picture[2] and box[1] < picture[1] and box[3] > picture[3]
    ]
    garment = max(around, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))
    ratio = (picture[2] - picture[0]) / (garment[2] - garment[0])
    widest = max(abs(x) for _, *figures in outline.front[1] for x in (figures[-2],))
    assert ratio == pytest.approx(print_.width_mm / (2 * widest), rel=0.02)


@pytest.mark.parametrize("kind", list(GarmentKind))
def test_every_kind_of_garment_has_a_closed_outline_and_a_spot_for_other_places(kind: GarmentKind) -> None:
    from planner.paper.outlines import outline_of
    from planner.shop.garments import Location

    outline = outline_of(kind)
    assert Location.OTHER in outline.spots
    drawn = [y for half in (outline.front, outline.back) for _, *figures in half[1] for y in figures[1::2]]
    assert max(drawn) <= outline.length_mm + outline.beyond_mm
    for half in (outline.front, outline.back):
        assert half[0][0] == 0
        assert half[1][-1][-2] == 0
        assert all(part[-2] >= 0 for part in half[1])


def guide_page(kind: str, papers: Papers) -> pypdfium2.PdfPage:
    for page in pypdfium2.PdfDocument(PAPERS["placement guides"](papers)):
        if kind in page.get_textpage().get_text_bounded():
            return page
    raise AssertionError(kind)


def test_a_placement_guide_is_true_to_size_from_mark_to_print() -> None:
    # The left chest print of 88.9 mm: 8 in below the shoulder seam, centre 4 in from the centre line.
    page = guide_page("left sleeve", choir_papers())
    (picture,) = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_IMAGE,))]
    assert (picture[2] - picture[0]) / PER_MM == pytest.approx(63.5, abs=0.02)
    lines = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_PATH,))]
    below = [box for box in lines if box[3] < picture[1] - 10 and box[2] - box[0] > picture[2] - picture[0]]
    mark = max((box[1] + box[3]) / 2 for box in below)
    assert (picture[1] - mark) / PER_MM == pytest.approx(25.4, abs=0.2)


def test_the_guide_s_rule_is_as_long_as_it_says() -> None:
    for unit, long_mm in ((LengthUnit.INCH, 101.6), (LengthUnit.MILLIMETRE, 100.0)):
        page = guide_page("This rule is", choir_papers(unit=unit))
        lines = [item.get_bounds() for item in page.get_objects((pdfium.FPDF_PAGEOBJ_PATH,))]
        # pdfium's bounds hold the line's own width, 0.8 units, on all sides.
        widths = [(box[2] - box[0] - 1.6) / PER_MM for box in lines if box[3] - box[1] < 2 and box[1] < 90]
        assert any(width == pytest.approx(long_mm, abs=0.02) for width in widths)


@pytest.mark.parametrize("name", ["quote", "proof", "care card"])
def test_the_customer_s_papers_name_no_printer_and_no_cost(
    made: dict[tuple[str, str], bytes], name: str
) -> None:
    text = running(" ".join(pages_text(made["small", name]))).lower()
    for secret in (PRINTER.lower(), str(SECRET_COST), "margin", "offer", "gang sheet"):
        assert secret not in text


def test_the_order_names_no_customer_and_no_price_of_the_quote(
    made: dict[tuple[str, str], bytes],
) -> None:
    text = running(" ".join(pages_text(made["small", "order"])))
    assert PRINTER in text
    for secret in ("Odile Marsh", "Community Choir", "18.50", "1,611.81"):
        assert secret not in text


def test_the_packet_bundles_all_papers_with_bookmarks() -> None:
    with pikepdf.open(io.BytesIO(PAPERS["packet"](choir_papers(PaperSize.A4)))) as pdf:
        outline = pdf.open_outline()
        titles = [item.title for item in outline.root]
        assert {"Summary", "Quote", "Buying list", "Check-in list", "Order of work", "Pick list"} <= set(
            titles
        )
        assert "Press card 1: Everyday tee, left sleeve" in titles
        assert [float(side) for side in pdf.pages[0].mediabox[2:]] == pytest.approx(
            [595.28, 841.89], abs=0.01
        )


def test_a_long_roll_is_drawn_in_stretches_with_every_piece_seen() -> None:
    papers = choir_papers()
    (order,) = papers.plan.purchase.orders
    roll = grid_layout(papers.job, ("p2", "p5"), runs=1, sheet=Size(558.8, 6096))
    purchase = changed(papers.plan.purchase, orders=(changed(order, layouts=(roll,)),))
    page = pypdfium2.PdfDocument(
        PAPERS["layouts"](replace(papers, plan=changed(papers.plan, purchase=purchase)))
    )[0]
    text = running(page.get_textpage().get_text_bounded())
    assert "Scale 1 : 12 · 22 in wide, 240 in high, drawn in 3 stretches from left to right" in text
    pictures = list(page.get_objects((pdfium.FPDF_PAGEOBJ_IMAGE,)))
    assert len(pictures) >= len(roll.placements)
    widths = {round((box[2] - box[0]) * 12 / PER_MM, 1) for box in (item.get_bounds() for item in pictures)}
    assert widths == {88.9, 63.5}
