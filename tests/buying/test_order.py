"""Orders planned, guessed and priced from given layouts."""

from decimal import Decimal

from hypothesis import example, given, settings
from hypothesis import strategies as st

from planner.buying.order import order_from_layouts, plan_order, quick_order
from planner.buying.purchase import NotPlacedReason, Order
from planner.measures.layout import Layout, Placement, Way
from planner.shop.book import Spares
from planner.work.ticket import Ticket
from tests.buying.offers import (
    SHEET,
    an_offer,
    breaks,
    by_area,
    by_length,
    by_piece,
    by_sheet,
    inches,
    needed,
)

D = Decimal
EXACT = Spares(count=0)
STEPS = ((1, "9.00"), (12, "7.50"), (24, "6.00"))


def assert_met(order: Order) -> None:
    assert not order.missing
    assert all(piece.surplus >= 0 for piece in order.pieces)
    if order.least_cost is not None:
        assert order.least_cost <= order.cost


def test_a_roll_is_charged_by_the_started_foot() -> None:
    # Ten 11 × 11 in pieces, two abreast on 22 in: five rows of 11 in, 55 in, five steps of 12 in.
    order = plan_order(
        an_offer(by_length((1, "8.00"))),
        (needed("back", 11, 11, 10),),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        rounds=5,
    )
    assert_met(order)
    assert order.cost == D("40.00") == order.least_cost


def test_single_images_need_no_layout() -> None:
    order = plan_order(
        an_offer(by_area((0, "0.06"))),
        (needed("front", 11, 10, 8), needed("chest", 4, 3.5, 8)),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        rounds=2,
    )
    assert_met(order)
    assert order.layouts == ()
    assert order.cost == D("59.52") == order.least_cost  # 8 × 110 × 0.06 + 8 × 14 × 0.06


def test_buying_up_to_the_next_area_break_is_done_and_said() -> None:
    # 71 × 14 in² at 0.06 is 59.64; one more reaches 1008 in² at 0.05: 50.40.
    order = plan_order(
        an_offer(by_area((0, "0.06"), (1008, "0.05"))),
        (needed("chest", 4, 3.5, 71),),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        rounds=2,
    )
    assert_met(order)
    assert order.cost == D("50.40")
    assert [(s.piece, s.more, s.saves) for s in order.savings] == [("chest", 1, D("9.24"))]


def test_pieces_of_one_artwork_count_together_whichever_garment_they_go_on() -> None:
    table = by_piece((inches(4, 4), 2, breaks((1, "2.00"), (48, "1.00"))), set_up="10.00")
    order = plan_order(
        an_offer(table),
        (needed("tees", 4, 3.5, 30, artwork="logo"), needed("hoodies", 4, 3.5, 18, artwork="logo")),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        colours={"logo": 2},
    )
    assert_met(order)
    assert order.cost == D("68.00") == order.least_cost  # 48 × 1.00 and two colours at 10.00


def test_forty_pieces_cost_less_when_forty_eight_are_bought() -> None:
    table = by_piece((inches(4, 4), 2, breaks((1, "2.00"), (48, "1.00"))))
    order = plan_order(
        an_offer(table), (needed("tees", 4, 3.5, 40),), spares=EXACT, currency="USD", way=Way.LOOSE
    )
    assert order.cost == D("48.00")
    assert order.savings[0].more == 8
    assert order.savings[0].saves == D("32.00")


def test_what_an_offer_cannot_print_is_named_with_its_reason() -> None:
    table = by_piece((inches(4, 4), 2, breaks((1, "2.00"))))
    order = plan_order(
        an_offer(table),
        (needed("back", 12, 12, 5), needed("chest", 4, 4, 5)),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
        colours={"chest": 3},
    )
    assert {(left.piece, left.reason) for left in order.not_placed} == {
        ("back", NotPlacedReason.TOO_LARGE),
        ("chest", NotPlacedReason.TOO_MANY_COLOURS),
    }
    assert order.cost == 0


def test_layouts_made_by_hand_are_priced_and_counted() -> None:
    placed = (
        Placement("front", 0, 0, *_sides(11, 8.5)),
        Placement("chest", 0, 220, *_sides(4, 3.5)),
        Placement("bonus", 120, 220, *_sides(4, 3.5)),
    )
    order = order_from_layouts(
        an_offer(by_sheet(*STEPS)),
        (needed("front", 11, 8.5, 12), needed("chest", 4, 3.5, 14)),
        (Layout(SHEET, placed, 6), Layout(SHEET, placed, 6)),
        spares=Spares(count=1),
        currency="USD",
    )
    counts = {piece.piece: (piece.need, piece.spares, piece.ordered) for piece in order.pieces}
    assert counts == {"front": (12, 1, 12), "chest": (14, 1, 12), "bonus": (0, 0, 12)}
    assert [piece.piece for piece in order.missing] == ["chest"]
    assert order.pieces[0].surplus == -1
    assert order.cost == D("90.00")  # the same layout twice is one run of 12 at 7.50
    assert order.least_cost is None


def test_the_least_number_of_pieces_is_ordered_and_the_rest_counts_as_spares() -> None:
    table = by_piece((inches(4, 4), 2, breaks((1, "2.00"))))
    order = plan_order(
        an_offer(table, least_pieces=12),
        (needed("tees", 4, 3.5, 8),),
        spares=EXACT,
        currency="USD",
        way=Way.LOOSE,
    )
    assert [(piece.need, piece.ordered) for piece in order.pieces] == [(8, 12)]


def test_a_quick_order_says_that_it_is_one_and_is_always_the_same() -> None:
    ask = {"spares": EXACT, "currency": "USD", "way": Way.LOOSE}
    pieces = (needed("front", 10.5, 8.5, 48), needed("chest", 4, 3.5, 144), needed("nape", 2.5, 2, 72))
    offer = an_offer(by_sheet(*STEPS))
    first, second = quick_order(offer, pieces, **ask), quick_order(offer, pieces, **ask)  # type: ignore[arg-type]
    assert first.provisional
    assert first == second
    assert_met(first)


def _sides(width: float, height: float) -> tuple[float, float]:
    size = inches(width, height)
    return size.width_mm, size.height_mm


TABLES = {
    "roll": by_length((1, "8.00"), (6, "7.20"), (12, "6.35")).model_copy(update={"longest_mm": 900.0}),
    "sheet": by_sheet((1, "18"), (6, "12.50"), (12, "9.25")),
    "area": by_area((1, "0.05"), (600, "0.03"), minimum="1.50"),
}


@settings(max_examples=25, deadline=None)
@given(
    table=st.sampled_from(sorted(TABLES)),
    way=st.sampled_from((Way.LOOSE, Way.STRAIGHT)),
    sides=st.lists(
        st.tuples(st.integers(4, 40), st.integers(4, 40), st.integers(1, 40)), min_size=1, max_size=5
    ),
    seed=st.integers(0, 3),
)
@example(table="roll", way=Way.STRAIGHT, sides=[(29, 30, 12), (27, 39, 24)], seed=0)
@example(table="area", way=Way.LOOSE, sides=[(32, 14, 16)], seed=0)
def test_a_search_never_answers_with_a_dearer_order_than_the_quick_one(
    table: str, way: Way, sides: list[tuple[int, int, int]], seed: int
) -> None:
    offer = an_offer(TABLES[table])
    pieces = [needed(str(n), w / 4, h / 4, count) for n, (w, h, count) in enumerate(sides)]
    quick = quick_order(offer, pieces, spares=EXACT, currency="USD", way=way)
    order = plan_order(
        offer, pieces, spares=EXACT, currency="USD", way=way, budget_s=0.05, rounds=1, seed=seed
    )
    assert (len(order.missing), order.cost) <= (len(quick.missing), quick.cost)
    assert not order.provisional
    assert order.least_cost is not None
    assert order.least_cost <= order.cost


def test_a_search_that_is_stopped_at_once_answers_with_the_quick_order_at_worst() -> None:
    ticket = Ticket()
    ticket.stop()
    pieces = [needed("a", 3, 4, 31), needed("b", 5, 2.5, 17), needed("c", 7, 3, 9)]
    for table in TABLES.values():
        ask = {"spares": EXACT, "currency": "USD", "way": Way.LOOSE}
        quick = quick_order(an_offer(table), pieces, **ask)  # type: ignore[arg-type]
        order = plan_order(an_offer(table), pieces, ticket=ticket, **ask)  # type: ignore[arg-type]
        assert order.cost <= quick.cost
