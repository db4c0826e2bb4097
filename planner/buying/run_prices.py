"""What runs of layouts cost on one sheet size, as whole coins: the figures the search works with."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from planner.measures.geometry import Size
from planner.measures.money import minor_units, round_money
from planner.shop.prices import Break, Breaks, BySheet, CountedBy, SheetPrice


@dataclass(frozen=True, eq=False)
class RunPrices:
    """Prices of one sheet size in coins, buying up to a later break included where that is cheaper."""

    sheet: SheetPrice
    is_by_layout: bool
    """Breaks count the sheets of one layout; otherwise all sheets of the order."""
    set_up: int
    """A charge for each layout."""
    currency: str
    _known: dict[int, tuple[int, int]] = field(default_factory=dict, init=False, repr=False)
    """What `bought` has answered; gone with the search that these prices were made for."""

    @property
    def size(self) -> Size:
        return self.sheet.size

    @property
    def starts(self) -> tuple[int, ...]:
        """Counts at which a break begins, at least 1."""
        return tuple(max(1, int(-(-step.from_count // 1))) for step in self.sheet.breaks.steps)

    def bought(self, count: int) -> tuple[int, int]:
        """(coins, sheets bought) for at least so many sheets counted together, set-up not included."""
        if count not in self._known:
            ways = [count, *(start for start in self.starts if start > count)]
            self._known[count] = min((self._coins(sheets), sheets) for sheets in ways)
        return self._known[count]

    def plainly(self, runs: Sequence[int]) -> int:
        """Coins for exactly these runs, nothing bought beyond them."""
        counts = runs if self.is_by_layout else (sum(runs),)
        return len(runs) * self.set_up + sum(self._coins(count) for count in counts)

    def of_run(self, runs: int) -> int:
        """Coins for one layout printed so often, where breaks count by layout; set-up included."""
        return self.set_up + self.bought(runs)[0]

    def of_plan(self, runs: Sequence[int]) -> int:
        """Coins for layouts printed so often each."""
        if self.is_by_layout:
            # Asked by searches at every change: only what is not known yet is worth a call.
            known = self._known
            return len(runs) * self.set_up + sum((known.get(run) or self.bought(run))[0] for run in runs)
        return len(runs) * self.set_up + (self.bought(sum(runs))[0] if runs else 0)

    def bought_runs(self, runs: Sequence[int]) -> tuple[int, ...]:
        """The runs to order: raised to a later break where that costs less."""
        if self.is_by_layout:
            return tuple(self.bought(count)[1] for count in runs)
        more = self.bought(sum(runs))[1] - sum(runs) if runs else 0
        # All layouts share the extra sheets in turn, so that every print gets its surplus.
        share, rest = divmod(more, len(runs)) if runs else (0, 0)
        return tuple(count + share + (number < rest) for number, count in enumerate(runs))

    def _coins(self, sheets: int) -> int:
        amount = round_money(sheets * self.sheet.breaks.each_at(sheets), self.currency)
        return coins_of(amount, self.currency)


def run_prices(table: BySheet, currency: str) -> tuple[RunPrices, ...]:
    """One a sheet size of the table."""
    by_layout = table.counted_by is CountedBy.LAYOUT
    set_up = coins_of(round_money(table.set_up_each_layout, currency), currency)
    return tuple(RunPrices(sheet, by_layout, set_up, currency) for sheet in table.sheets)


def cheapest_of_all(each: Sequence[RunPrices]) -> RunPrices:
    """Prices no size undercuts, on a sheet on which everything fits that fits any of the sizes.

    A bound with these prices holds for orders on any mixture of the sizes.
    """
    sheets = [prices.sheet for prices in each]
    starts = sorted({step.from_count for sheet in sheets for step in sheet.breaks.steps})
    steps = tuple(
        Break(from_count=start, each=min(sheet.breaks.each_at(start) for sheet in sheets)) for start in starts
    )
    width = max(sheet.size.width_mm for sheet in sheets)
    height = max(sheet.size.height_mm for sheet in sheets)
    sheet = SheetPrice(size=Size(width, height), breaks=Breaks(steps=steps))
    return RunPrices(sheet, each[0].is_by_layout, each[0].set_up, each[0].currency)


def coins_of(amount: Decimal, currency: str) -> int:
    """The amount in the currency's smallest coin."""
    return int(amount.scaleb(minor_units(currency)))


def amount_of(coins: int, currency: str) -> Decimal:
    """Coins back to an amount."""
    return Decimal(coins).scaleb(-minor_units(currency))
