"""The job: one customer's order, from artwork to delivery, as one frozen document."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Self

from pydantic import Field, model_validator

from planner.job.findings import Decision
from planner.job.fixes import FRAMING, FixStep, OutlineInk, QuarterTurn, Trim
from planner.job.state import JobState
from planner.measures.layout import Layout, Way
from planner.shop.actuals import Actuals
from planner.shop.book import PriceBy, RoundTo
from planner.shop.cloth import Cloth, Swatch
from planner.shop.document import Document
from planner.shop.garments import MOST_SIZE_LETTERS, GarmentKind, HardPart, Location, SizeGroup
from planner.shop.kept_prices import KeptPrices
from planner.shop.prices import Amount
from planner.shop.stock import Design

Key = Annotated[str, Field(min_length=1, max_length=40)]
LEAST_WIDTH_MM, MOST_WIDTH_MM = 1.0, 5000.0
WidthMm = Annotated[float, Field(ge=LEAST_WIDTH_MM, le=MOST_WIDTH_MM)]
TopMm = Annotated[float, Field(ge=-500, le=3000)]
AsideMm = Annotated[float, Field(ge=-1500, le=1500)]
Percent = Annotated[Decimal, Field(ge=0, lt=100)]


class Customer(Document):
    """Whom the job is for."""

    name: str = Field(default="", max_length=120)
    contact: str = Field(default="", max_length=120)
    email: str = Field(default="", max_length=120)
    phone: str = Field(default="", max_length=60)
    address: tuple[str, ...] = ()


class Artwork(Document):
    """One file that the customer sent, with the fixes chosen for it."""

    key: Key
    name: str = Field(max_length=255)
    sha256: str = Field(pattern=r"^[0-9a-f]{64}$")
    media: str = "image/png"
    """Media type of the file, by its content."""
    width_px: int = Field(gt=0)
    """Upright, orientation tag obeyed. Of vector artwork: as it is drawn for measuring and for fixes."""
    height_px: int = Field(gt=0)
    vector: bool = False
    page: int = Field(default=0, ge=0)
    """Which page of a document, from 0."""
    fixes: tuple[FixStep, ...] = ()

    @property
    def stays_vector(self) -> bool:
        """Whether it is sharp at any size: vector artwork with no fix that works on pixels."""
        return self.vector and all(isinstance(fix, FRAMING) for fix in self.fixes)

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height in pixels after the fixes."""
        width, height = self.width_px, self.height_px
        for fix in self.fixes:
            if isinstance(fix, Trim):
                width, height = fix.width_px, fix.height_px
            elif isinstance(fix, QuarterTurn) and fix.quarters % 2:
                width, height = height, width
            elif isinstance(fix, OutlineInk):
                grown = 2 * round(fix.by_px)
                width, height = width + grown, height + grown
        return width, height


class SizeCount(Document):
    """How many of one size are ordered."""

    size: str = Field(min_length=1, max_length=MOST_SIZE_LETTERS)
    count: int = Field(default=0, ge=0, le=100_000)
    group: SizeGroup = SizeGroup.ADULT
    surcharge: Amount = Decimal(0)
    """On the blank's cost, as for extended sizes."""
    body_width_mm: float | None = Field(default=None, gt=0)
    body_length_mm: float | None = Field(default=None, gt=0)


class GarmentLine(Document):
    """One style, colour and cloth with its sizes and counts."""

    key: Key
    style: str = Field(default="", max_length=80)
    kind: GarmentKind = GarmentKind.T_SHIRT
    colour: Swatch = Swatch(name="white", hex="#ffffff")
    cloth: Cloth = Cloth()
    sizes: tuple[SizeCount, ...] = ()
    blank_cost: Amount = Decimal(0)
    hard_parts: tuple[HardPart, ...] = ()
    price_each: Amount | None = None
    """A fixed price a piece instead of the one from the shop's margin."""

    @property
    def count(self) -> int:
        """Garments in all sizes together."""
        return sum(size.count for size in self.sizes)

    @model_validator(mode="after")
    def _sizes_differ(self) -> Self:
        names = [size.size for size in self.sizes]
        if len(set(names)) != len(names):
            raise ValueError("A size stands twice in a garment line.")
        return self


class GroupWidth(Document):
    """Another print width for one group of sizes."""

    group: SizeGroup
    width_mm: WidthMm


class GroupPlace(Document):
    """Where a print sits on one group of sizes; measured as `Print.top_mm` and `Print.aside_mm`."""

    group: SizeGroup
    top_mm: TopMm
    aside_mm: AsideMm


class Print(Document):
    """One artwork at one width in one location on one garment line."""

    key: Key
    artwork: Key
    line: Key
    location: Location = Location.FULL_FRONT
    place_name: str = Field(default="", max_length=60)
    """The shop's own name, where the location is another place."""
    width_mm: WidthMm
    group_widths: tuple[GroupWidth, ...] = ()
    may_turn: bool = True
    """Whether the piece may lie turned on the sheet."""
    any_angle: bool = False
    """Whether a turned piece may stand at any angle where sheets are cut by outline."""
    one_sheet: bool = False
    """Whether all its pieces must be on one sheet, with those of the other prints marked so."""
    offer: str | None = None
    """An offer for this print alone; None: the job's."""
    top_mm: TopMm | None = None
    """Below the collar (or the opening); None: the location's starting value."""
    aside_mm: AsideMm | None = None
    """Centre of the print from the garment's centre line, towards the wearer's left; None: starting value."""

    group_places: tuple[GroupPlace, ...] = ()
    """Places of their own; `top_mm` and `aside_mm` hold for the other groups."""

    def width_for(self, group: SizeGroup) -> float:
        """Print width in millimetres on one group of sizes."""
        return next((own.width_mm for own in self.group_widths if own.group is group), self.width_mm)

    def place_for(self, group: SizeGroup) -> tuple[float | None, float | None]:
        """`top_mm` and `aside_mm` on one group of sizes; None: the location's starting value."""
        own = next((own for own in self.group_places if own.group is group), self)
        return own.top_mm, own.aside_mm


class Extra(Document):
    """A piece no garment needs: added to use the room that is left."""

    key: Key
    artwork: Key
    width_mm: WidthMm
    most: int = Field(default=100, ge=1, le=100_000)
    value: float = Field(default=1, gt=0)
    may_turn: bool = True
    any_angle: bool = False


class MadeFor(Document):
    """One kind of piece that layouts were made for: when it changes, they no longer hold."""

    piece: str
    width_mm: float
    height_mm: float
    count: int


class Bound(Document):
    """What an order can cost at least, and what the proof holds for."""

    least_cost: Decimal
    most_layouts: int | None = None
    """It holds for orders of at most so many distinct layouts; None: for any."""
    one_size: bool = False
    """It holds for orders on one sheet size only, where the offer sells several."""
    terms: str
    """Digest of the offer and all else that the bound depends on; another digest voids it."""


class Arranged(Document):
    """Layouts that the shop accepted or made by hand, for one offer."""

    offer: str
    layouts: tuple[Layout, ...]
    made_for: tuple[MadeFor, ...] = ()
    bound: Bound | None = None


class Terms(Document):
    """What this job departs from the shop book in, money and time."""

    percent: Decimal | None = Field(default=None, ge=0)
    """Margin or markup; None: the shop's."""
    price_by: PriceBy | None = None
    """Whether `percent` is a margin or a markup; None: as the shop reckons."""
    round_to: RoundTo | None = None
    discount_percent: Percent = Decimal(0)
    rush: bool = False
    """Ask transfer printers for their faster service."""
    tax_exempt: bool = False
    minimum_order: Amount = Decimal(0)
    delivery_fee: Amount = Decimal(0)
    """What the customer pays for delivery."""
    ladder_on_quote: bool = False
    """The quote shows what a garment costs at other quantities."""


class OrderedOn(Document):
    """The day on which something was really ordered."""

    offer: str | None = None
    """Whose transfers; None: the blanks."""
    on: date


class FromStock(Document):
    """Left-over transfers that serve instead of new ones: as long as the piece is of that very design."""

    piece: str
    """Piece key (see `planner.job.pieces`)."""
    design: Design
    count: int = Field(gt=0, le=1_000_000)


class Job(Document):
    """One customer's order. Change it with the functions in `planner.job.edits`."""

    title: str = Field(default="", max_length=120)
    customer: Customer = Customer()
    quoted_on: date
    due: date | None = None
    note: str = Field(default="", max_length=4000)
    """For the shop only."""
    lines: tuple[GarmentLine, ...] = ()
    artworks: tuple[Artwork, ...] = ()
    prints: tuple[Print, ...] = ()
    extras: tuple[Extra, ...] = ()
    offer: str | None = None
    """Key of the offer chosen for the whole job."""
    way: Way | None = None
    """How sheets are cut apart; None: the shop's way."""
    arranged: tuple[Arranged, ...] = ()
    decisions: tuple[Decision, ...] = ()
    terms: Terms = Terms()
    ordered: tuple[OrderedOn, ...] = ()
    state: JobState = JobState.PLANNED
    from_stock: tuple[FromStock, ...] = ()
    stock_settled: bool = False
    """What came from stock was taken out of the shop book, and what is left over put in."""
    actuals: Actuals | None = None
    """What the job really took, once it is done."""
    prices: KeptPrices | None = None
    """The prices it was quoted with; None: the shop book's."""

    def artwork(self, key: str) -> Artwork:
        return next(artwork for artwork in self.artworks if artwork.key == key)

    def line(self, key: str) -> GarmentLine:
        return next(line for line in self.lines if line.key == key)

    def print_of(self, key: str) -> Print:
        return next(print_ for print_ in self.prints if print_.key == key)

    def prints_on(self, line_key: str) -> tuple[Print, ...]:
        return tuple(print_ for print_ in self.prints if print_.line == line_key)

    def offer_of(self, print_: Print) -> str | None:
        """Key of the offer a print is bought at, or None where none is chosen yet."""
        return print_.offer or self.offer

    def ordered_on(self, offer: str | None) -> date | None:
        """When an offer's transfers (or the blanks, for None) were ordered; None: not yet."""
        return next((one.on for one in self.ordered if one.offer == offer), None)

    @model_validator(mode="after")
    def _keys_fit(self) -> Self:
        keyed: tuple[GarmentLine | Artwork | Print | Extra, ...] = (
            *self.lines,
            *self.artworks,
            *self.prints,
            *self.extras,
        )
        keys = [part.key for part in keyed]
        if len(set(keys)) != len(keys):
            raise ValueError("Two parts of the job carry the same key.")
        lines = {line.key for line in self.lines}
        artworks = {artwork.key for artwork in self.artworks}
        if any(print_.line not in lines or print_.artwork not in artworks for print_ in self.prints):
            raise ValueError("A print names a garment line or an artwork that the job does not hold.")
        if any(extra.artwork not in artworks for extra in self.extras):
            raise ValueError("An extra names an artwork that the job does not hold.")
        return self
