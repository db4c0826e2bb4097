"""Where a value sits in the shop book: how to read it there, and the book with another in its place."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from planner.shop.book import Shop
from planner.shop.document import changed


@dataclass(frozen=True, slots=True)
class Lens:
    """A part of the shop book. `get` gives None while there is nothing to edit."""

    get: Callable[[Shop], Any]
    put: Callable[[Shop, Any], Shop]

    def at(self, name: str) -> "Lens":
        """A field of the part."""

        def get(shop: Shop) -> Any:
            whole = self.get(shop)
            return None if whole is None else getattr(whole, name)

        def put(shop: Shop, value: Any) -> Shop:
            return self.put(shop, changed(self.get(shop), **{name: value}))

        return Lens(get, put)


WHOLE = Lens(lambda shop: shop, lambda shop, value: value)


def one_of(name: str, key: Callable[[], str]) -> Lens:
    """The one part in a tuple of the book that carries the key chosen now."""

    def get(shop: Shop) -> Any:
        return next((part for part in getattr(shop, name) if part.key == key()), None)

    def put(shop: Shop, value: Any) -> Shop:
        parts = tuple(value if part.key == key() else part for part in getattr(shop, name))
        return changed(shop, **{name: parts})

    return Lens(get, put)
