"""Blanks from CSV files: a row for each style, colour or size, as catalogues have them. No Qt here."""

import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any

from planner.measures.lengths import LengthUnit, parse_length
from planner.plan.kind_words import kind_name
from planner.plan.wording import count
from planner.shop.book import Shop
from planner.shop.cloth import Cloth, FibreShare, Swatch
from planner.shop.document import changed
from planner.shop.garments import MOST_SIZE_LETTERS, Blank, BlankSize, GarmentKind, SizeGroup
from planner.shop.swatches import UNKNOWN_HEX, swatch_named
from planner.window.garments.sizes import group_of
from planner.window.readings import Unreadable, read_colour, read_fibres
from planner.window.shop import csv_words, words
from planner.window.shop.listed import free_key
from planner.window.shop.readings import read_decimal
from planner.window.tables import words as table_words
from planner.window.tables.rows import LEAVE_OUT, Read, Rows, Trouble

STYLE, KIND, COLOURS, CODE = "style", "kind", "colour", "colour code"
SIZES, GROUP, WIDTH, LENGTH = "size", csv_words.GROUP_OF_SIZES, "width flat", "length flat"
COST, FIBRES, DOTS = "cost", "fibre mix", "iron dots"
_NAMES = {
    CODE: r"hex|colou?r.?(code|hex)",
    STYLE: r"style|name|product|article|item|garment",
    KIND: r"kind|type|category",
    COLOURS: r"colou?rs?",
    GROUP: r"(size )?group|ages?",
    SIZES: r"sizes?",
    WIDTH: r"(body )?width|chest|flat width",
    LENGTH: r"(body )?length",
    COST: r"cost|price|each",
    FIBRES: r"fib(re|er)s?|cloth|fabric|material|composition|mix",
    DOTS: r"iron|dots",
}
_SEVERAL = re.compile(r"\s*[;,/|]\s*")
_PLAIN = re.compile(r"[\W_]+")


class BlankTable:
    """Matches a catalogue to the shop book; what it reads is the book's blanks with those of the file.

    Rows of one style belong together: the lowest cost is the style's, what a size costs beyond is its
    surcharge. A style that the book has keeps what the file does not say.
    """

    title = table_words.SAY_WHAT_EACH_COLUMN_IS
    hint = csv_words.BLANKS_HINT
    take = csv_words.TAKE_THESE_BLANKS
    leave = csv_words.LEAVE_BLANKS_AS_THEY_ARE
    what = csv_words.BLANKS_WHAT
    roles = (LEAVE_OUT, STYLE, KIND, COLOURS, CODE, SIZES, GROUP, WIDTH, LENGTH, COST, FIBRES, DOTS)
    own_roles = False

    def __init__(self, shop: Shop) -> None:
        self._shop = shop

    def has_names(self, rows: Rows) -> bool:
        return any(_role_of(name) != LEAVE_OUT for name in rows[0])

    def guess(self, rows: Rows) -> list[str]:
        found: list[str] = []
        for name in rows[0]:
            role = _role_of(name)
            found.append(LEAVE_OUT if role in found else role)
        return found

    def read(self, rows: Rows, roles: Sequence[str]) -> Read:
        twice = next((role for role in roles if role != LEAVE_OUT and list(roles).count(role) > 1), None)
        if twice:
            return Read(troubles=(Trouble(table_words.column_twice(twice)),))
        if STYLE not in roles:
            return Read(troubles=(Trouble(csv_words.CHOOSE_STYLES),))
        columns = {role: at for at, role in enumerate(roles) if role != LEAVE_OUT}
        styles: dict[str, _Style] = {}
        troubles: list[Trouble] = []
        for at in range(1 if self.has_names(rows) else 0, len(rows)):
            cells = _Cells(rows, at, columns, self._shop.unit, troubles)
            name = cells.word(STYLE)
            if not name or len(name) > 80:
                troubles.append(Trouble(csv_words.NAME_STYLE, at, columns[STYLE]))
                continue
            styles.setdefault(name.casefold(), _Style(name)).take(cells)
        if not styles and not troubles:
            troubles.append(Trouble(csv_words.NO_STYLES))
        if troubles:
            return Read(troubles=tuple(troubles))
        return self._joined(list(styles.values()))

    def _joined(self, styles: list["_Style"]) -> Read:
        blanks = list(self._shop.blanks)
        new, grey = 0, 0
        for style in styles:
            at = next(
                (at for at, b in enumerate(blanks) if b.style.casefold() == style.name.casefold()), None
            )
            known = None if at is None else blanks[at]
            blank = style.blank(known, free_key({b.key for b in blanks}, "blank"))
            grey += sum(colour.hex == UNKNOWN_HEX for colour in blank.colours)
            if at is None:
                new += 1
                blanks.append(blank)
            else:
                blanks[at] = blank
        told = csv_words.blanks_read(count(len(styles), "style"), new, len(styles) - new)
        if grey:
            told = f"{told} {csv_words.shown_grey(count(grey, 'colour'))}"
        return Read(tuple(blanks), told)


def _role_of(name: str) -> str:
    plain = _PLAIN.sub(" ", name).strip()
    return next((role for role, known in _NAMES.items() if re.fullmatch(known, plain, re.I)), LEAVE_OUT)


class _Cells:
    """One row, read by role; what cannot be read is put down."""

    def __init__(
        self, rows: Rows, at: int, columns: dict[str, int], unit: LengthUnit, troubles: list[Trouble]
    ) -> None:
        self._row, self._at, self._columns = rows[at], at, columns
        self._unit, self._troubles = unit, troubles

    def word(self, role: str) -> str:
        return self._row[self._columns[role]] if role in self._columns else ""

    def several(self, role: str) -> list[str]:
        return [word for word in _SEVERAL.split(self.word(role)) if word]

    def value(self, role: str, read: Callable[[str], Any]) -> Any:
        """What a cell says, None where it is empty or cannot be read."""
        if not self.word(role):
            return None
        try:
            return read(self.word(role))
        except ValueError as error:
            self._troubles.append(Trouble(str(error), self._at, self._columns[role]))
            return None

    def sizes(self) -> list[str]:
        def read(_words: str) -> list[str]:
            if long := next((name for name in self.several(SIZES) if len(name) > MOST_SIZE_LETTERS), None):
                raise Unreadable(table_words.size_too_long(long))
            return self.several(SIZES)

        return self.value(SIZES, read) or []

    def length(self, role: str) -> float | None:
        def read(typed: str) -> float:
            length_mm = parse_length(typed, self._unit)
            if not 0 < length_mm < 5000:
                raise Unreadable(csv_words.no_garment_length(typed))
            return length_mm

        found: float | None = self.value(role, read)
        return found


class _Style:
    """All that the rows of one style say."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._kind: GarmentKind | None = None
        self._fibres: tuple[FibreShare, ...] | None = None
        self._dots: int | None = None
        self._colours: dict[str, str | None] = {}
        self._sizes: dict[str, dict[str, Any]] = {}
        self._costs: list[Decimal] = []

    def take(self, cells: _Cells) -> None:
        self._kind = cells.value(KIND, _read_kind) or self._kind
        self._fibres = cells.value(FIBRES, read_fibres) or self._fibres
        dots = cells.value(DOTS, _read_dots)
        self._dots = self._dots if dots is None else dots
        code = cells.value(CODE, read_colour)
        for name in cells.several(COLOURS):
            self._colours[name[:60]] = code or self._colours.get(name[:60])
        cost = cells.value(COST, read_decimal)
        if cost is not None:
            self._costs.append(cost)
        group = cells.value(GROUP, _read_group)
        width_mm, length_mm = cells.length(WIDTH), cells.length(LENGTH)
        for name in cells.sizes():
            said = {"group": group, "body_width_mm": width_mm, "body_length_mm": length_mm, "cost": cost}
            known = self._sizes.setdefault(name, {})
            known.update({key: value for key, value in said.items() if value is not None})

    def blank(self, known: Blank | None, key: str) -> Blank:
        """The style as a blank; what the rows do not say is as it was, or as usual."""
        start = known or Blank(
            key=key,
            style=self.name,
            kind=GarmentKind.T_SHIRT,
            cloth=Cloth(),
            colours=(Swatch(name="white", hex="#f7f7f4"),),
            sizes=(),
            cost=Decimal(0),
        )
        cloth = changed(start.cloth, **({"fibres": self._fibres} if self._fibres else {}))
        cost = min(self._costs, default=start.cost)
        return changed(
            start,
            kind=self._kind or start.kind,
            cloth=cloth if self._dots is None else changed(cloth, iron_dots=self._dots),
            colours=tuple(self._swatch(name, start) for name in self._colours) or start.colours,
            sizes=tuple(self._size(name, start, cost) for name in self._sizes) or start.sizes,
            cost=cost,
        )

    def _swatch(self, name: str, start: Blank) -> Swatch:
        known = swatch_named(name, start.colours)
        return Swatch(name=name, hex=self._colours[name] or (known.hex if known else UNKNOWN_HEX))

    def _size(self, name: str, start: Blank, cost: Decimal) -> BlankSize:
        said = dict(self._sizes[name])
        own_cost = said.pop("cost", None)
        known = next((size for size in start.sizes if size.size == name), None)
        size = known or BlankSize(size=name, group=group_of(name))
        if own_cost is not None:
            said["surcharge"] = own_cost - cost
        return changed(size, **said)


def _read_kind(typed: str) -> GarmentKind:
    plain = _PLAIN.sub("", typed).casefold()
    names = {_PLAIN.sub("", kind_name(kind)).casefold(): kind for kind in GarmentKind}
    found = names.get(plain) or next((kind for name, kind in names.items() if name.startswith(plain)), None)
    if found is None:
        raise Unreadable(csv_words.no_kind(typed, (kind_name(kind) for kind in GarmentKind)))
    return found


def _read_group(typed: str) -> SizeGroup:
    found = next((group for group in SizeGroup if kind_name(group).startswith(typed.casefold())), None)
    if found is None:
        raise Unreadable(words.no_group(typed, (kind_name(group) for group in SizeGroup)))
    return found


def _read_dots(typed: str) -> int:
    if typed not in ("0", "1", "2", "3"):
        raise Unreadable(csv_words.no_dots(typed))
    return int(typed)
