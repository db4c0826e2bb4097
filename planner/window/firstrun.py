"""The first sitting of a shop: what the system already tells, and what is asked only when it is needed."""

import re
from collections.abc import Callable

from PySide6.QtCore import QLocale, QSettings

from planner.measures.lengths import LengthUnit
from planner.shop.book import Letterhead, PaperSize, Rates, Shop
from planner.shop.document import changed
from planner.window import wording
from planner.window.bookkeeping import Bookkeeping
from planner.window.desk import Desk
from planner.window.foot import Choice, Foot

# Where US Letter is the paper of everyday: Unicode CLDR, supplemental data "paperSize" (from memory).
_LETTER = frozenset(["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"])

_SETTLED = "letterhead and rates settled"


def shop_of_locale(start: Shop, locale: QLocale) -> Shop:
    """A first shop book with currency, unit, paper and holidays as the system's locale has them.

    Whatever the locale does not say stays as in `start`.
    """
    territory = QLocale.territoryToCode(locale.territory())
    if not re.fullmatch("[A-Z]{2}", territory):
        return start
    currency = locale.currencySymbol(QLocale.CurrencySymbolFormat.CurrencyIsoCode)
    inches = locale.measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem
    return changed(
        start,
        currency=currency if re.fullmatch("[A-Z]{3}", currency) else start.currency,
        unit=LengthUnit.INCH if inches else LengthUnit.MILLIMETRE,
        paper=PaperSize.LETTER if territory in _LETTER else PaperSize.A4,
        region=territory,
    )


def still_to_tell(shop: Shop) -> tuple[str, ...]:
    """Names of the shop book's fields that a quote needs and that still hold the starting value."""
    start = Letterhead()
    unnamed = not shop.letterhead.name.strip() or shop.letterhead.name == start.name
    wanting = {
        wording.SHOP_NAME_FIELD: unnamed,
        wording.SHOP_ADDRESS_FIELD: not unnamed and not shop.letterhead.address,
        wording.LABOUR_FIELD: shop.rates.labour_hour == Rates().labour_hour,
    }
    return tuple(field for field, missing in wanting.items() if missing)


class FirstNeeds:
    """Asks at the foot for the shop's name, address and labour rate before the first packet is written."""

    def __init__(self, settings: QSettings, desk: Desk, foot: Foot, book: Bookkeeping) -> None:
        self._settings, self._desk, self._foot, self._book = settings, desk, foot, book

    def before_export(self, export: Callable[[], object]) -> None:
        """Export, or first ask for what the quote still lacks; "as it is" is an answer and is kept."""
        fields = still_to_tell(self._desk.shop)
        if not fields or self._settings.value(_SETTLED, "false") == "true":
            export()
            return

        def as_it_is() -> None:
            self._settings.setValue(_SETTLED, "true")
            export()

        choices: list[Choice] = [(wording.TYPE_IT, lambda: self._book.open(fields[0]))]
        choices.append((wording.EXPORT_AS_IT_IS, as_it_is))
        self._foot.ask(wording.still_to_tell(fields), choices)

    def say_guessed(self) -> None:
        """Tell what was taken from the system, and where it can be changed."""
        self._foot.say(
            wording.guessed(self._desk.shop),
            ((wording.OPEN_SHOP_BOOK, self._book.open), (wording.DISMISS, self._foot.clear)),
        )
