"""Transfers left over from finished jobs, kept for the next order of the same design."""

from collections.abc import Iterable
from datetime import date

from pydantic import Field

from planner.shop.document import Document, changed
from planner.shop.offers import TransferKind

SAME_MM = 0.25
"""Sizes this near are one size: a width typed in inches and one typed in millimetres differ by less."""

_FILM = frozenset({TransferKind.FILM_SINGLE, TransferKind.FILM_SHEET, TransferKind.FILM_ROLL})


def stands_in(kind: TransferKind, other: TransferKind) -> bool:
    """Whether one kind of transfer serves for another: full-colour film is one thing, however it is sold."""
    return kind is other or {kind, other} <= _FILM


class Design(Document):
    """What makes two transfers interchangeable: the picture, its size, the kind of transfer."""

    artwork: str = Field(pattern=r"^[0-9a-f]{64}$")
    """SHA-256 of the customer's file."""
    look: str = Field(max_length=64)
    """Digest of the page and of the fixes made to it."""
    width_mm: float = Field(gt=0)
    height_mm: float = Field(gt=0)
    kind: TransferKind

    def is_same(self, other: "Design") -> bool:
        """Whether either can be pressed in the other's place."""
        return (
            (self.artwork, self.look) == (other.artwork, other.look)
            and stands_in(self.kind, other.kind)
            and abs(self.width_mm - other.width_mm) <= SAME_MM
            and abs(self.height_mm - other.height_mm) <= SAME_MM
        )


class LeftOver(Document):
    """Transfers of one design on the shelf."""

    design: Design
    count: int = Field(gt=0, le=1_000_000)
    since: date
    """The day on which the last of them came into stock."""
    name: str = Field(default="", max_length=255)
    """What a person knows it by: the artwork's file name."""
    job: str = Field(default="", max_length=120)
    """Title of the job it is left over from."""
    offer: str = ""
    """Key of the offer it was bought at: its press settings are that offer's."""


def in_stock(stock: Iterable[LeftOver], design: Design) -> int:
    """How many transfers of a design there are."""
    return sum(left.count for left in stock if left.design.is_same(design))


def put_in(stock: tuple[LeftOver, ...], more: LeftOver) -> tuple[LeftOver, ...]:
    """The stock with some more; what came from the same offer lies together."""
    for at, left in enumerate(stock):
        if left.design.is_same(more.design) and left.offer == more.offer:
            together = changed(left, count=left.count + more.count, since=more.since, job=more.job)
            return (*stock[:at], together, *stock[at + 1 :])
    return (*stock, more)


def taken_out(stock: tuple[LeftOver, ...], design: Design, count: int) -> tuple[LeftOver, ...]:
    """The stock without some transfers of a design, oldest first; no more can go than there are."""
    order = sorted(range(len(stock)), key=lambda at: stock[at].since)
    counts = [left.count for left in stock]
    for at in order:
        if stock[at].design.is_same(design):
            gone = min(count, counts[at])
            counts[at] -= gone
            count -= gone
    return tuple(
        left if left.count == counts[at] else changed(left, count=counts[at])
        for at, left in enumerate(stock)
        if counts[at]
    )
