"""The order of work: resets held against exhaustive search, time against sums by hand."""

import itertools
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.job.document import Job
from planner.measures.geometry import Size
from planner.pressing.card import PressWork
from planner.pressing.platen import pressings_on
from planner.pressing.work_order import press_work
from planner.shop.book import Shop
from planner.shop.garments import Location
from planner.shop.offers import Peel
from tests.pressing.jobs import a_job, a_line, a_press, a_print, a_shop, an_offer


def resets_in(settings_by_press: list[tuple[str, int]]) -> int:
    """Times a press is changed from one temperature to another in this order of work."""
    now: dict[str, int] = {}
    resets = 0
    for press, degrees in settings_by_press:
        resets += now.get(press, degrees) != degrees
        now[press] = degrees
    return resets


def fewest_resets(job: Job, shop: Shop) -> int:
    """By trying every press for every print in every order, told nothing of how the planner does it."""
    prints = job.prints
    degrees = {p.key: round(shop.offer(job.offer_of(p) or "").press.setting_c) for p in prints}  # type: ignore[union-attr]
    may_go_on = []
    for print_ in prints:
        size = Size(print_.width_mm, print_.width_mm)
        closings = {press.key: pressings_on(size, press) for press in shop.presses}
        may_go_on.append([key for key, count in closings.items() if count == min(closings.values())])

    def all_ways() -> Iterator[int]:
        for presses in itertools.product(*may_go_on):
            pairs = list(zip(presses, (degrees[p.key] for p in prints), strict=True))
            for order in itertools.permutations(pairs):
                yield resets_in(list(order))

    return min(all_ways())


def order_of(work: PressWork) -> list[str]:
    return [step.print for step in work.steps]


jobs_and_shops = st.tuples(
    st.lists(
        st.tuples(st.sampled_from([130, 143, 150, 190]), st.sampled_from([90, 250, 350]), st.integers(0, 1)),
        min_size=1,
        max_size=5,
    ),
    st.lists(st.sampled_from([(230, 305), (300, 300), (400, 500)]), min_size=1, max_size=3),
)


@settings(max_examples=120, deadline=None)
@given(jobs_and_shops)
def test_no_other_order_on_any_presses_needs_fewer_resets(
    drawn: tuple[list[tuple[int, int, int]], list[tuple[int, int]]],
) -> None:
    prints, platens = drawn
    offers = [an_offer(f"at {degrees}", degrees) for degrees in (130, 143, 150, 190)]
    job = a_job(
        [
            a_print(f"p{n}", width_mm, offer=f"at {degrees}", line=f"g{line}")
            for n, (degrees, width_mm, line) in enumerate(prints)
        ],
        [a_line("g0"), a_line("g1")],
    )
    # Settings changed in no time at a slow press: fewest minutes and fewest resets then part ways.
    quickness = [{"loading_s": 90, "reset_min": 0}, {"loading_s": 5, "reset_min": 0}, {}]
    shop = a_shop(
        offers,
        [a_press(f"press {n}", *platen, **quickness[n]) for n, platen in enumerate(platens)],
    )
    work = press_work(job, shop)
    assert sorted(order_of(work)) == sorted(print_.key for print_ in job.prints)
    assert work.resets == resets_in([(step.press, round(step.setting_c)) for step in work.steps])
    assert work.resets == sum(step.reset_before for step in work.steps)
    assert work.resets == fewest_resets(job, shop)


@settings(max_examples=60, deadline=None)
@given(jobs_and_shops)
def test_no_finished_print_is_pressed_bare_or_hotter_than_its_own_setting(
    drawn: tuple[list[tuple[int, int, int]], list[tuple[int, int]]],
) -> None:
    prints, platens = drawn
    offers = [an_offer(f"at {degrees}", degrees) for degrees in (130, 143, 150, 190)]
    job = a_job(
        [a_print(f"p{n}", w, offer=f"at {d}", line=f"g{line}") for n, (d, w, line) in enumerate(prints)],
        [a_line("g0"), a_line("g1")],
    )
    shop = a_shop(offers, [a_press(f"press {n}", *platen) for n, platen in enumerate(platens)])
    finished: dict[str, float] = {}
    for step in press_work(job, shop).steps:
        assert step.cover_finished == (step.line in finished)
        assert step.setting_c <= finished.get(step.line, step.setting_c)
        finished[step.line] = step.setting_c


def test_a_large_print_keeps_the_large_press_and_small_ones_go_where_they_save_a_reset() -> None:
    # On one press 190, 143 and 130 °C need two resets. The small press takes the two small prints of
    # 143 °C, the large one is set to 190 first; one of them must still change to 130.
    offers = [an_offer("hot", 190), an_offer("film", 143), an_offer("cool", 130)]
    job = a_job(
        [
            a_print("back", 350, offer="hot", location=Location.FULL_BACK),
            a_print("chest", 90, offer="film", location=Location.LEFT_CHEST),
            a_print("nape", 60, offer="film", location=Location.NAPE),
            a_print("sleeve", 70, offer="cool", location=Location.LEFT_SLEEVE),
        ]
    )
    one = press_work(job, a_shop(offers, [a_press()]))
    two = press_work(job, a_shop(offers, [a_press(), a_press("small", 230, 305)]))
    assert (one.resets, two.resets) == (2, 1)
    assert order_of(one) == ["back", "nape", "chest", "sleeve"]
    assert next(step.press for step in two.steps if step.print == "back") == "big"


@pytest.mark.parametrize("slow_first", [True, False])
def test_among_ways_without_a_reset_the_quicker_press_takes_the_longer_run(slow_first: bool) -> None:
    offers = [an_offer("hot", 190), an_offer("film", 143)]
    job = a_job(
        [a_print("few", offer="hot"), a_print("many", offer="film", line="g2")],
        [a_line("g1", {"M": 5}), a_line("g2", {"M": 100})],
    )
    presses = [a_press("slow", loading_s=60), a_press("quick", loading_s=20)]
    work = press_work(job, a_shop(offers, presses if slow_first else presses[::-1]))
    assert work.resets == 0
    assert {step.print: step.press for step in work.steps} == {"few": "slow", "many": "quick"}


def test_time_is_the_sum_a_person_would_make() -> None:
    offers = [
        an_offer(press={"pre_press_s": 4, "second_press_s": 5, "peel": Peel.COLD}, finishing_s=6),
        an_offer("hot", 190, press={"press_s": 50, "pre_press_s": 0}),
    ]
    job = a_job([a_print("p1"), a_print("p2", 200, offer="hot", location=Location.FULL_BACK)])
    work = press_work(job, a_shop(offers, [a_press(warm_up_min=15, reset_min=5, loading_s=30)]))
    # 10 garments. Film: 30 loading + 4 pre-press + 10 + 5 again + 40 cooling + 6 by hand = 95 s.
    # Hot: 30 + 50 = 80 s. Warm-up 15 min, one reset 5 min.
    assert [step.seconds_each for step in work.steps] == [80, 95]
    assert work.total_min == pytest.approx(15 + 5 + 10 * (95 + 80) / 60, abs=0.01)
    assert work.pieces_an_hour == pytest.approx(60 * 20 / (5 + 10 * 175 / 60), abs=0.1)


def test_a_print_over_the_platen_is_loaded_and_pressed_twice() -> None:
    once = press_work(a_job(), a_shop(presses=[a_press()]))
    twice = press_work(a_job(), a_shop(presses=[a_press(width_mm=250, height_mm=130)]))
    assert (once.steps[0].pressings, twice.steps[0].pressings) == (10, 20)
    assert twice.steps[0].seconds_each - once.steps[0].seconds_each == pytest.approx(30 + 10)


def test_settings_a_display_cannot_tell_apart_need_no_reset() -> None:
    # 290 °F is 143.33 °C: one printer's sheet says 290 °F, another's 143 °C.
    job = a_job([a_print("p1"), a_print("p2", 200, offer="same", location=Location.FULL_BACK)])
    shop = a_shop([an_offer(setting_c=143), an_offer("same", (290 - 32) * 5 / 9)])
    assert press_work(job, shop).resets == 0


def test_without_a_press_in_the_shop_book_the_usual_times_are_reckoned() -> None:
    work = press_work(a_job(), Shop(offers=(an_offer(),)))
    assert (work.steps[0].press, work.warm_up_min) == ("", 15)
    assert work.total_min > 15


@pytest.mark.parametrize("job", [a_job(offer=None), a_job(lines=[a_line(counts={"M": 0})]), a_job(offer="?")])
def test_where_nothing_can_be_pressed_there_is_no_work(job: Job) -> None:
    work = press_work(job, a_shop())
    assert (work.steps, work.total_min, work.pieces_an_hour) == ((), 0, 0)
