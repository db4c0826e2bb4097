"""An order at one offer: planned, quickly guessed, or priced from layouts that somebody made."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from planner.buying.ask import Ask, Found
from planner.buying.by_area import plan_area
from planner.buying.by_length import plan_length
from planner.buying.by_piece import designs_of, plan_pieces
from planner.buying.by_sheet import plan_sheets
from planner.buying.extras import with_extras
from planner.buying.limits import most_colours_at, nearest_room
from planner.buying.price import (
    Printed,
    area_lines,
    charged,
    colours_of,
    days_of,
    least_cost_for,
    length_lines,
    piece_lines,
    sheet_lines,
)
from planner.buying.purchase import NotPlaced, NotPlacedReason, Order, PieceOrder, PriceLine
from planner.buying.together import is_apart
from planner.buying.wants import Outline, Want, placeable, wants_of
from planner.job.pieces import NeededPiece
from planner.measures.layout import Layout, Way
from planner.sheets.problem import Piece, grouped
from planner.shop.book import Spares
from planner.shop.offers import Offer
from planner.shop.prices import ByArea, ByLength, ByPiece, BySheet
from planner.work.ticket import Ticket


def plan_order(
    offer: Offer,
    pieces: Sequence[NeededPiece],
    *,
    spares: Spares,
    currency: str,
    way: Way,
    rush: bool = False,
    extras: tuple[Piece, ...] = (),
    pinned: tuple[Layout, ...] = (),
    budget_s: float = 2.0,
    rounds: int | None = None,
    seed: int = 0,
    ticket: Ticket | None = None,
    improved: Callable[[Order], None] | None = None,
    colours: Mapping[str, int] | None = None,
    outlines: Mapping[str, Outline] | None = None,
) -> Order:
    """The cheapest order found at an offer within the budget, or until the ticket is stopped.

    Every piece that the offer can print is ordered at least as often as needed, spares included; the rest
    is named in `not_placed`. Colours are looked up by piece key, then by artwork key. Of `pinned` layouts
    the pinned placements stay where they are and the runs as they are; free room on them is filled first.
    With `rounds` the answer is the same on every machine. `improved` hears of every better order.
    """
    ask, left_out = _asked(
        Ask(
            offer,
            wants_of(offer, pieces, spares, outlines),
            currency,
            way,
            rush,
            colours or {},
            extras,
            pinned,
            budget_s,
            rounds,
            seed,
        )
    )

    def tell(found: Found) -> None:
        if improved is not None:
            improved(_order(ask, replace(found, provisional=True), left_out))

    found = _not_dearer(ask, _found(ask, ticket, tell), left_out)
    return _order(ask, with_extras(ask, found), left_out)


def quick_order(
    offer: Offer,
    pieces: Sequence[NeededPiece],
    *,
    spares: Spares,
    currency: str,
    way: Way,
    rush: bool = False,
    extras: tuple[Piece, ...] = (),
    pinned: tuple[Layout, ...] = (),
    colours: Mapping[str, int] | None = None,
    outlines: Mapping[str, Outline] | None = None,
) -> Order:
    """A provisional order within a blink: real layouts and exact prices, but hardly any search.

    Cutting by outline is guessed by the pieces' boxes. The same question gives the same answer.
    """
    ask, left_out = _asked(
        Ask(
            offer,
            wants_of(offer, pieces, spares, outlines),
            currency,
            way,
            rush,
            colours or {},
            extras,
            pinned,
        )
    )
    return _order(ask, replace(_quickly(ask), provisional=True), left_out)


def order_from_layouts(
    offer: Offer,
    pieces: Sequence[NeededPiece],
    layouts: Sequence[Layout],
    *,
    spares: Spares,
    currency: str,
    rush: bool = False,
    colours: Mapping[str, int] | None = None,
) -> Order:
    """The order that given layouts make: priced, with need, spares, surplus and what is missing counted.

    At an offer by the area the layouts are groups, and what they do not carry is bought as single images;
    at one by the piece layouts do not matter. What is on a layout but not needed is counted with need 0.

    Raises:
        UnknownSheet: a layout is on a sheet that the offer does not sell.
    """
    ask, left_out = _asked(
        Ask(offer, wants_of(offer, pieces, spares), currency, Way.LOOSE, rush, colours or {})
    )
    given = grouped(tuple(layouts))
    singles: tuple[tuple[str, int], ...] = ()
    if isinstance(offer.price, ByPiece):
        given = ()
        singles = tuple((want.key, want.wanted) for want in ask.wants)
    elif isinstance(offer.price, ByArea):
        carried = {w.key: sum(layout.count_of(w.key) for layout in given) for w in ask.wants}
        singles = tuple((w.key, max(0, w.wanted - carried[w.key])) for w in ask.wants)
    return _order(ask, Found(given, singles), left_out)


def room_filled(
    offer: Offer,
    pieces: Sequence[NeededPiece],
    layouts: Sequence[Layout],
    *,
    spares: Spares,
    currency: str,
    way: Way,
    extras: tuple[Piece, ...],
    outlines: Mapping[str, Outline] | None = None,
    rounds: int | None = None,
) -> tuple[Layout, ...]:
    """Given layouts with extras in the room that is left on them; extras that are pinned stay."""
    keys = {extra.key for extra in extras}
    bare = (
        replace(layout, placements=tuple(p for p in layout.placements if p.pinned or p.print not in keys))
        for layout in layouts
    )
    wants = wants_of(offer, pieces, spares, outlines)
    return with_extras(
        Ask(offer, wants, currency, way, extras=extras, rounds=rounds), Found(tuple(bare))
    ).layouts


def _asked(ask: Ask) -> tuple[Ask, tuple[NotPlaced, ...]]:
    """The question with only what the offer can print, and what it cannot."""
    fits, too_large = placeable(ask.offer, ask.wants)
    left_out = [_too_large(ask.offer, want) for want in too_large]
    kept = []
    for want in fits:
        most = most_colours_at(ask.offer, want.size, may_turn=want.may_turn)
        colours = colours_of(ask.colours, want.key, want.artwork)
        if isinstance(ask.offer.price, ByPiece) and most is not None and colours > most:
            left_out.append(_too_colourful(ask.offer, want, colours, most))
        else:
            kept.append(want)
    return replace(ask, wants=tuple(kept)), tuple(left_out)


def _found(ask: Ask, ticket: Ticket | None, tell: Callable[[Found], None] | None) -> Found:
    if not ask.wants:
        return Found(least_goods=Decimal(0))
    table = ask.offer.price
    if isinstance(table, BySheet):
        return plan_sheets(ask, table, ticket, tell)
    if isinstance(table, ByLength):
        return plan_length(ask, table, ticket)
    if isinstance(table, ByArea):
        return plan_area(ask, table, ticket)
    return plan_pieces(ask, table)


def _quickly(ask: Ask) -> Found:
    """What hardly any search finds; boxes instead of outlines."""
    way = Way.LOOSE if ask.way is Way.OUTLINE else ask.way
    return _found(replace(ask, way=way, budget_s=0.0, rounds=0, seed=0), None, None)


def _not_dearer(ask: Ask, found: Found, left_out: tuple[NotPlaced, ...]) -> Found:
    """The quick answer where the search, stopped or short of time, has found nothing as good."""
    quick = _quickly(ask)
    searched, guessed = _order(ask, found, left_out), _order(ask, quick, left_out)
    found_worth = len(searched.missing), is_apart(ask, found), searched.cost
    if (len(guessed.missing), is_apart(ask, quick), guessed.cost) >= found_worth:
        return found
    return replace(
        quick, least_goods=found.least_goods, most_layouts=found.most_layouts, one_size=found.one_size
    )


def _order(ask: Ask, found: Found, left_out: tuple[NotPlaced, ...]) -> Order:
    offer, currency = ask.offer, ask.currency
    charges = charged(offer, _goods(ask, found), currency=currency, rush=ask.rush)
    least = None
    if found.least_goods is not None:
        least = least_cost_for(offer, found.least_goods, currency=currency, rush=ask.rush)
        least = min(least, charges.cost)
    return Order(
        offer=offer.key,
        layouts=found.layouts,
        pieces=_piece_orders(ask, found),
        lines=charges.lines,
        delivery=charges.delivery,
        cost=charges.cost,
        least_cost=least,
        most_layouts=found.most_layouts,
        one_size=found.one_size,
        days=days_of(offer, rush=ask.rush),
        not_placed=left_out,
        savings=found.savings,
        provisional=found.provisional,
    )


def _goods(ask: Ask, found: Found) -> tuple[PriceLine, ...]:
    table, currency = ask.offer.price, ask.currency
    printed = tuple(Printed(layout.sheet, layout.runs) for layout in found.layouts)
    if isinstance(table, BySheet):
        return sheet_lines(table, printed, currency)
    if isinstance(table, ByLength):
        return length_lines(table, printed, currency)
    if isinstance(table, ByArea):
        sizes = {want.key: want.size for want in ask.wants}
        single = tuple(Printed(sizes[key], count, key) for key, count in found.singles)
        return area_lines(table, (*printed, *single), currency)
    return piece_lines(table, designs_of(ask, dict(found.singles)), currency)


def _piece_orders(ask: Ask, found: Found) -> tuple[PieceOrder, ...]:
    ordered = dict(found.singles)
    for layout in found.layouts:
        for placement in layout.placements:
            ordered[placement.print] = ordered.get(placement.print, 0) + layout.runs
    wanted = [
        PieceOrder(piece=want.key, need=want.need, spares=want.spares, ordered=ordered.pop(want.key, 0))
        for want in ask.wants
    ]
    beyond = [PieceOrder(piece=key, need=0, spares=0, ordered=count) for key, count in ordered.items()]
    return (*wanted, *beyond)


def _too_large(offer: Offer, want: Want) -> NotPlaced:
    room = nearest_room(offer, want.size, may_turn=want.may_turn).size
    return NotPlaced(
        piece=want.key,
        count=want.wanted,
        width_mm=want.size.width_mm,
        height_mm=want.size.height_mm,
        most_width_mm=room.width_mm,
        most_height_mm=room.height_mm,
    )


def _too_colourful(offer: Offer, want: Want, colours: int, most: int) -> NotPlaced:
    refused = _too_large(offer, want)
    return refused.model_copy(
        update={"reason": NotPlacedReason.TOO_MANY_COLOURS, "colours": colours, "most_colours": most}
    )
