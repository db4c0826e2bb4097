"""May this go on that? One cloth, artwork or press after the other against an offer."""

from datetime import date
from typing import Any

import pytest

from planner.buying.suits import ArtTraits, lightness_of, suits
from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.shop.book import Press
from planner.shop.cloth import Cloth, Fibre, FibreShare, Swatch
from planner.shop.document import changed
from planner.shop.offers import ArtRule, ClothRule, Offer, TransferKind
from tests.buying.offers import INCH, an_offer, breaks, by_piece, by_sheet, inches

WHITE = Swatch(name="white", hex="#ffffff")
NAVY = Swatch(name="navy", hex="#1b2a49")
FILM = an_offer(by_sheet((1, "9.00")))
STOP, LOOK = Seriousness.STOP, Seriousness.LOOK


def a_cloth(iron_dots: int | None = None, *, coated: bool = False, **percent: float) -> Cloth:
    fibres = tuple(FibreShare(fibre=Fibre(name), percent=share) for name, share in percent.items())
    return Cloth(fibres=fibres, iron_dots=iron_dots, coated=coated)


def a_job(cloth: Cloth, colour: Swatch = WHITE, *, count: int = 24, width_in: float = 10) -> Job:
    """One front print, as high as it is wide."""
    return Job(
        quoted_on=date(2026, 3, 2),
        lines=(
            GarmentLine(key="tees", colour=colour, cloth=cloth, sizes=(SizeCount(size="M", count=count),)),
        ),
        artworks=(Artwork(key="art", name="a.png", sha256="0" * 64, width_px=3000, height_px=3000),),
        prints=(Print(key="front", artwork="art", line="tees", width_mm=width_in * INCH),),
    )


def judged(
    job: Job, offer: Offer = FILM, traits: ArtTraits | None = None, **fields: Any
) -> dict[FindingKind, Finding]:
    return {finding.kind: finding for finding in suits(job, job.prints[0], offer, traits, **fields)}


def with_press(setting_c: float) -> Offer:
    return changed(FILM, press=changed(FILM.press, setting_c=setting_c))


COTTON = a_cloth(cotton=100)


def test_nothing_speaks_against_film_on_cotton() -> None:
    assert judged(a_job(COTTON, NAVY), traits=ArtTraits(colours=12, photograph=True)) == {}


def test_a_finding_names_print_line_offer_and_artwork() -> None:
    finding = judged(a_job(a_cloth(cotton=95, spandex=5)))[FindingKind.NEEDS_STRETCH]
    assert (finding.print, finding.line, finding.offer, finding.artwork) == ("front", "tees", "offer", "art")
    assert (finding.found, finding.needed, finding.subject) == (5, 0, "spandex")


@pytest.mark.parametrize("cloth", [a_cloth(cotton=99, spandex=1), a_cloth(nylon=100)])
def test_stretch_cloth_and_nylon_need_a_kind_made_for_them(cloth: Cloth) -> None:
    assert judged(a_job(cloth))[FindingKind.NEEDS_STRETCH].seriousness is STOP
    fibres = (Fibre.COTTON, Fibre.POLYESTER, Fibre.NYLON, Fibre.SPANDEX)
    stretch = changed(FILM, cloth=ClothRule(fibres=fibres, stretch=True))
    assert judged(a_job(cloth), stretch) == {}


def test_a_fibre_the_offer_does_not_name_is_a_warning() -> None:
    finding = judged(a_job(a_cloth(cotton=60, linen=40)))[FindingKind.FIBRE_UNSUITED]
    assert (finding.seriousness, finding.found, finding.subject) == (LOOK, 40, "linen")


SUBLIMATION = an_offer(
    by_sheet((1, "3.00")),
    kind=TransferKind.SUBLIMATION,
    cloth=ClothRule(fibres=(Fibre.POLYESTER,), light_only=True, least_polyester_percent=65),
    press=changed(FILM.press, setting_c=199, press_s=50),
)


def test_sublimation_needs_enough_polyester_and_light_cloth() -> None:
    # At least about 65 % polyester, white or light (common practice).
    assert judged(a_job(a_cloth(polyester=100)), SUBLIMATION) == {}
    poor = judged(a_job(a_cloth(polyester=64, cotton=36)), SUBLIMATION)[FindingKind.TOO_LITTLE_POLYESTER]
    assert (poor.seriousness, poor.found, poor.needed) == (STOP, 64, 65)
    mixed = judged(a_job(a_cloth(polyester=65, cotton=35)), SUBLIMATION)
    assert set(mixed) == {FindingKind.FIBRE_UNSUITED}
    dark = judged(a_job(a_cloth(polyester=100), NAVY), SUBLIMATION)[FindingKind.NEEDS_LIGHT_CLOTH]
    assert dark.seriousness is STOP
    assert dark.found is not None
    assert dark.needed is not None
    assert dark.found < dark.needed


def test_lightness_agrees_with_another_library() -> None:
    # scikit-image's rgb2lab: CIE L* under D65.
    color = pytest.importorskip("skimage.color")
    for name in ("#ffffff", "#000000", "#1b2a49", "#f2e6c8", "#808080", "#0a0a0a"):
        swatch = Swatch(name="x", hex=name)
        lab = color.rgb2lab([[[channel / 255 for channel in swatch.rgb]]])
        assert lightness_of(swatch) == pytest.approx(float(lab[0][0][0]), abs=0.05)


def test_coated_cloth_is_a_warning_unless_the_kind_is_made_for_it() -> None:
    coated = a_job(a_cloth(polyester=100, coated=True))
    assert judged(coated)[FindingKind.COATED_CLOTH].seriousness is LOOK
    assert judged(coated, changed(FILM, cloth=changed(FILM.cloth, coated=True))) == {}


@pytest.mark.parametrize(
    ("setting_c", "colour", "cloth", "warns"),
    [
        (150, NAVY, a_cloth(polyester=100), False),
        (151, NAVY, a_cloth(polyester=100), True),
        (190, WHITE, a_cloth(polyester=100), False),  # white cloth has no dye to give off
        (190, NAVY, COTTON, False),
    ],
)
def test_dye_of_coloured_polyester_may_migrate_over_150_degrees(
    setting_c: float, colour: Swatch, cloth: Cloth, warns: bool
) -> None:
    found = judged(a_job(cloth, colour), with_press(setting_c))
    assert (FindingKind.DYE_MIGRATION in found) == warns


@pytest.mark.parametrize(("dots", "limit"), [(1, 110), (2, 150), (3, 200)])
def test_a_press_hotter_than_the_care_label_must_be_decided(dots: int, limit: float) -> None:
    # ISO 3758:2012: one dot 110 °C, two dots 150 °C, three dots 200 °C.
    job = a_job(a_cloth(dots, cotton=100))
    assert judged(job, with_press(limit)) == {}
    finding = judged(job, with_press(limit + 1))[FindingKind.OVER_IRON_DOTS]
    assert (finding.seriousness, finding.found, finding.needed) == (STOP, limit + 1, limit)


def test_a_garment_that_must_not_be_ironed_stops_every_press() -> None:
    assert judged(a_job(a_cloth(0, cotton=100)), with_press(100))[FindingKind.OVER_IRON_DOTS].needed == 0


def test_a_print_larger_than_the_sheet_says_how_wide_it_may_be() -> None:
    finding = judged(a_job(COTTON, width_in=12))[FindingKind.TOO_LARGE_FOR_OFFER]
    assert finding.seriousness is STOP
    assert finding.found == pytest.approx(12 * INCH)
    assert finding.needed == pytest.approx(11.5 * INCH)
    assert finding.best_width_mm == pytest.approx(11.5 * INCH)


def test_margins_make_the_sheet_smaller() -> None:
    tight = changed(FILM, margin_mm=0.25 * INCH)
    assert judged(a_job(COTTON, width_in=11), tight) == {}
    assert FindingKind.TOO_LARGE_FOR_OFFER in judged(a_job(COTTON, width_in=11.1), tight)


def test_a_print_larger_than_every_platen_is_a_warning() -> None:
    small = Press(key="s", name="small", platen_width_mm=9 * INCH, platen_height_mm=12 * INCH)
    large = Press(key="l", name="large", platen_width_mm=15 * INCH, platen_height_mm=15 * INCH)
    finding = judged(a_job(COTTON, width_in=10), presses=(small,))[FindingKind.OVER_PLATEN]
    assert (finding.seriousness, finding.found) == (LOOK, pytest.approx(10 * INCH))
    assert finding.needed == pytest.approx(9 * INCH)
    assert judged(a_job(COTTON, width_in=10), presses=(small, large)) == {}


def test_fewer_than_the_least_order_is_a_warning() -> None:
    offer = changed(FILM, least_pieces=12)
    finding = judged(a_job(COTTON, count=11), offer)[FindingKind.UNDER_LEAST_PIECES]
    assert (finding.seriousness, finding.found, finding.needed) == (LOOK, 11, 12)
    assert judged(a_job(COTTON, count=12), offer) == {}


def test_flat_colour_kinds_take_no_photograph_and_only_so_many_colours() -> None:
    screen = an_offer(
        by_piece((inches(14, 14), 3, breaks((12, "2.00")))),
        kind=TransferKind.SCREEN_PRINTED,
        art=ArtRule(most_colours=6),
    )
    assert judged(a_job(COTTON), screen, ArtTraits(colours=3)) == {}
    finding = judged(a_job(COTTON), screen, ArtTraits(colours=4))[FindingKind.TOO_MANY_COLOURS]
    assert (finding.seriousness, finding.found, finding.needed) == (STOP, 4, 3)
    photo = judged(a_job(COTTON), screen, ArtTraits(photograph=True))[FindingKind.TOO_MANY_COLOURS]
    assert (photo.seriousness, photo.subject) == (STOP, "photograph")


def test_soft_edges_need_a_kind_that_shows_them() -> None:
    soft = ArtTraits(soft_edges=True)
    assert judged(a_job(COTTON), traits=soft)[FindingKind.SOFT_EDGES].seriousness is LOOK
    assert judged(a_job(COTTON), changed(FILM, art=ArtRule(soft_edges=True)), soft) == {}


def test_the_worst_comes_first() -> None:
    job = a_job(a_cloth(cotton=50, linen=45, spandex=5))
    found = suits(job, job.prints[0], FILM, None)
    assert [finding.seriousness for finding in found] == [STOP, LOOK]
