"""Left-over transfers: which of them serve a job, and what a finished job leaves for the next."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.buying.purchase import Purchase
from planner.buying.wants import wanted_of
from planner.job.document import FromStock, Job
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import NeededPiece, design_of, group_of_piece, pieces_of, print_size
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.stock import Design, LeftOver, in_stock, put_in, taken_out


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One piece of the job beside the transfers in stock that could serve for it."""

    piece: NeededPiece
    design: Design
    wanted: int
    """Copies that must be at hand: the need and its spares."""
    taken: int
    """Chosen to come from stock."""
    held: int
    """In stock for this piece: what other pieces of the same design take is off."""

    @property
    def useful(self) -> int:
        """How many could come from stock."""
        return min(self.wanted, self.held)


@dataclass(frozen=True, slots=True)
class Remains:
    """One kind of transfer when the job is done."""

    piece: str
    """Piece key, or an extra's key."""
    design: Design
    name: str
    offer: str
    ordered: int
    taken: int
    used: int

    @property
    def left(self) -> int:
        """What is left if nothing was spoilt."""
        return max(0, self.ordered + self.taken - self.used)


def on_shelf(job: Job, shop: Shop) -> tuple[OnShelf, ...]:
    """Every piece of the job with an offer, beside what is in stock of its design."""
    pieces = tuple(_designs(job, shop))
    shelf = []
    for piece, design in pieces:
        others = sum(
            one.from_stock(design.kind) for one, its in pieces if one.key != piece.key and its.is_same(design)
        )
        shelf.append(
            OnShelf(
                piece=piece,
                design=design,
                wanted=wanted_of(piece, shop.spares),
                taken=piece.from_stock(design.kind),
                held=max(0, in_stock(shop.left_over, design) - others),
            )
        )
    return tuple(shelf)


def take_from_stock(job: Job, shop: Shop, counts: Mapping[str, int]) -> Job:
    """The job with so many copies of some pieces from stock, by piece key; other pieces keep theirs."""
    taken = [
        FromStock(piece=one.piece.key, design=one.design, count=count)
        for one in on_shelf(job, shop)
        if (count := counts.get(one.piece.key, one.taken)) > 0
    ]
    return changed(job, from_stock=tuple(taken))


def use_stock(job: Job, shop: Shop, print_key: str | None = None) -> Job:
    """The job with all that is useful from stock for one print, or for all of them."""
    for one in on_shelf(job, shop):
        if print_key in (None, one.piece.print):
            # One after the other: two pieces may share a design, and what one takes the other cannot.
            now = next(it for it in on_shelf(job, shop) if it.piece.key == one.piece.key)
            job = take_from_stock(job, shop, {one.piece.key: now.useful})
    return job


def stock_findings(job: Job, shop: Shop) -> Iterator[Finding]:
    """Transfers in stock that could serve, and those counted on that are not there."""
    if job.stock_settled or job.state.is_done or not (shop.left_over or job.from_stock):
        return
    for one in on_shelf(job, shop):
        where: dict[str, Any] = {"print": one.piece.print, "artwork": one.piece.artwork}
        if one.taken > one.held:
            yield Finding(
                kind=FindingKind.STOCK_SHORT,
                seriousness=Seriousness.STOP,
                found=one.held,
                needed=one.taken,
                subject=_group(one.piece),
                **where,
            )
        elif one.taken:
            yield Finding(
                kind=FindingKind.STOCK_USED,
                seriousness=Seriousness.NOTE,
                found=one.taken,
                subject=", ".join(filter(None, (_group(one.piece), *_bought_at(one, job, shop)))),
                **where,
            )
        if one.useful > one.taken:
            yield Finding(
                kind=FindingKind.STOCK_HELD,
                seriousness=Seriousness.NOTE,
                found=one.useful - one.taken,
                subject=_group(one.piece),
                **where,
            )


def remains(job: Job, shop: Shop, purchase: Purchase | None) -> tuple[Remains, ...]:
    """What was at hand of each kind of transfer, and how much of it the garments took; extras too."""
    ordered = {
        (order.offer, piece.piece): piece.ordered
        for order in (purchase.orders if purchase else ())
        for piece in order.pieces
    }
    found = []
    for piece, design in _designs(job, shop):
        offer = job.offer_of(job.print_of(piece.print)) or ""
        found.append(
            Remains(
                piece=piece.key,
                design=design,
                name=job.artwork(piece.artwork).name,
                offer=offer,
                ordered=ordered.get((offer, piece.key), 0),
                taken=piece.from_stock(design.kind),
                used=piece.count,
            )
        )
    for extra in job.extras:
        artwork = job.artwork(extra.artwork)
        for (key, piece_key), count in ordered.items():
            if piece_key == extra.key and (sold := shop.offer(key)) is not None:
                design = design_of(artwork, print_size(artwork, extra.width_mm), sold.kind)
                found.append(Remains(extra.key, design, artwork.name, key, count, 0, 0))
    return tuple(found)


def settled_stock(
    job: Job, shop: Shop, all_remains: tuple[Remains, ...], left: Mapping[str, int], today: date
) -> tuple[LeftOver, ...]:
    """The stock once a job is done: less what the job took, with what it left, by piece key."""
    stock = shop.left_over
    for one in all_remains:
        stock = taken_out(stock, one.design, one.taken)
    for one in all_remains:
        if (count := left.get(one.piece, 0)) > 0:
            more = LeftOver(
                design=one.design, count=count, since=today, name=one.name, job=job.title, offer=one.offer
            )
            stock = put_in(stock, more)
    return stock


def _designs(job: Job, shop: Shop) -> Iterator[tuple[NeededPiece, Design]]:
    for print_ in job.prints:
        offer = shop.offer(job.offer_of(print_) or "")
        if offer is not None:
            for piece in pieces_of(job, print_):
                yield piece, design_of(job.artwork(piece.artwork), piece.size, offer.kind)


def _bought_at(one: OnShelf, job: Job, shop: Shop) -> Iterator[str]:
    """Names of other offers that transfers in stock were bought at: their press settings may differ."""
    here = job.offer_of(job.print_of(one.piece.print))
    keys = dict.fromkeys(left.offer for left in shop.left_over if left.design.is_same(one.design))
    return (offer.name for key in keys if key != here and (offer := shop.offer(key)) is not None)


def _group(piece: NeededPiece) -> str:
    """Which sizes, where a print has widths of its own for some: it tells findings of one print apart."""
    group = group_of_piece(piece.key)
    return group.value if group else ""
