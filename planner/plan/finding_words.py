"""The sentence for each kind of finding, and how its two figures are written.

In the sentences `{found}` and `{needed}` are the figures and `{left}` what lacks `{found}` to `{needed}`;
`{subject}` names the fibre, colour or part.
`{better}` says what would do, `{wider}` how wide to print it, `{seen}` what the eye resolves from where it
is looked at; `{area}` is the area concerned, `{apart}` the difference of colours, `{on_cloth}` how it looks;
`{cloth}` and `{fonts}` name what would do or is missing.
"""

from dataclasses import dataclass
from enum import Enum, auto

from planner.artwork.print_shift import MOST_SHIFT_DE
from planner.job.findings import FindingKind


class Figure(Enum):
    """How a finding's figures are written."""

    NONE = auto()
    COUNT = auto()
    PERCENT = auto()
    """Already in percent."""
    SHARE = auto()
    """From 0 to 1, written as percent."""
    FINE_MM = auto()
    """Strokes and gaps: always millimetres, two decimals."""
    LENGTH = auto()
    """In the shop's unit."""
    AREA = auto()
    """In the shop's unit, squared."""
    TEMPERATURE = auto()


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence with places for figures.

    `one` is used where the figure found is 1, `none` where the one needed is 0, `unknown` where there is
    none to tell, `usual` where no offer is chosen yet.
    """

    figure: Figure
    text: str
    one: str = ""
    none: str = ""
    unknown: str = ""
    usual: str = ""
    needed_figure: Figure | None = None
    """How the figure needed is written, where it is of another kind."""


_K = FindingKind
_F = Figure

SENTENCES: dict[FindingKind, Sentence] = {
    _K.TOO_COARSE: Sentence(
        _F.COUNT,
        "Prints at {found} ppi; this offer needs {needed}. {seen}{better}",
        usual="Prints at {found} ppi; transfers usually need {needed}. {seen}{better}",
    ),
    _K.LOOKS_ENLARGED: Sentence(
        _F.COUNT,
        "Looks enlarged: about as good as {found} ppi at this size; this offer needs {needed}. "
        "Ask for the file it was made from.",
        usual="Looks enlarged: about as good as {found} ppi at this size; transfers usually need {needed}. "
        "Ask for the file it was made from.",
    ),
    _K.SOFT_EDGES: Sentence(
        _F.SHARE,
        "{found} % of the artwork{area} is half transparent: {on_cloth}. "
        "Harden the soft edges, or ask for artwork without shadows and glows.",
        unknown="Parts of the artwork are half transparent and print as a milky haze here. "
        "Harden the soft edges, or ask for artwork without shadows and glows.",
    ),
    _K.THIN_STROKES: Sentence(
        _F.FINE_MM,
        "Thinnest stroke {found}; this offer holds {needed} and more. "
        "Print it {wider}, or thicken the strokes.",
        usual="Thinnest stroke {found}; transfers usually hold {needed} and more. "
        "Print it {wider}, or thicken the strokes.",
    ),
    _K.THIN_GAPS: Sentence(
        _F.FINE_MM,
        "Thinnest gap {found}; under {needed} it fills in. Print it {wider}, or have the gap opened.",
    ),
    _K.SPECKS: Sentence(
        _F.COUNT,
        "{found} specks{subject} are under {needed} and too small to transfer. Remove them.",
        one="One speck is under {needed} and too small to transfer. Remove it.",
        needed_figure=_F.FINE_MM,
    ),
    _K.BOX: Sentence(
        _F.SHARE,
        "A flat ground{subject} takes {found} % and prints as a box around the motif. "
        "Knock it out, or decide that it is wanted.",
    ),
    _K.RECTANGLE: Sentence(
        _F.NONE, "The picture prints as a rectangle with straight edges. Fine if that is wanted."
    ),
    _K.LOW_CONTRAST: Sentence(
        _F.SHARE,
        "{found} % of the artwork is nearly the garment's colour{subject}{apart}, and will be hard to see. "
        "Outline it, or choose other cloth{cloth}.",
        needed_figure=_F.COUNT,
    ),
    _K.EMPTY_MARGIN: Sentence(
        _F.SHARE, "{found} % of the file{area} is empty margin that takes paid room on the sheet. Trim it."
    ),
    _K.HEAVY_AREA: Sentence(
        _F.SHARE,
        "{found} % of the print{area} is one solid area: from {needed} on it feels heavy, does not breathe "
        "and creases. Consider knocking shapes out of it.",
        needed_figure=_F.AREA,
    ),
    _K.TOO_MANY_COLOURS: Sentence(
        _F.COUNT,
        "{found} colours; this offer prints {needed} at most. "
        "Choose a full-colour offer, or ask for simpler artwork.",
        unknown="Too many colours to count{subject}; this offer prints {needed} at most. "
        "Choose a full-colour offer, or ask for simpler artwork.",
    ),
    _K.OUT_OF_GAMUT: Sentence(
        _F.SHARE,
        "{found} % of the artwork is in colours outside sRGB: "
        "they print duller than on the customer's screen.",
        unknown="Some colours lie outside sRGB and will print duller than on the customer's screen.",
    ),
    _K.COLOURS_SHIFT: Sentence(
        _F.SHARE,
        "{found} % of the artwork{area} is in colours that this offer cannot print{subject}: they change "
        f"by more than {MOST_SHIFT_DE:g} (CIEDE2000), most often to duller ones. "
        "Recolour them, or show the customer a test print.",
    ),
    _K.TEXT_NOT_OUTLINED: Sentence(
        _F.COUNT,
        "The file's text is set in a font that it does not carry{fonts}, so it prints in another one. "
        "Ask for text turned into outlines, or a PDF with its fonts embedded.",
        none="The file holds text as text; its fonts are embedded, so it prints as it was drawn.",
    ),
    _K.CONVERTED: Sentence(_F.NONE, "Colours were converted to sRGB{subject}. Check them on the proof."),
    _K.EMPTY_ARTWORK: Sentence(
        _F.NONE, "The file shows nothing: every pixel is transparent. Ask for the right file."
    ),
    _K.NEEDS_STRETCH: Sentence(
        _F.PERCENT,
        "{found} %{subject}; this kind of transfer takes none, it cracks or lets go on it. "
        "Choose a stretch-formula offer.",
    ),
    _K.FIBRE_UNSUITED: Sentence(
        _F.PERCENT,
        "{found} %{subject}; this offer is made for cloth without it. Choose another offer, or test first.",
    ),
    _K.TOO_LITTLE_POLYESTER: Sentence(
        _F.PERCENT, "{found} % polyester; this offer needs {needed} % or more. Choose another offer."
    ),
    _K.NEEDS_LIGHT_CLOTH: Sentence(
        _F.COUNT,
        "This kind has no white of its own and needs cloth of lightness {needed} or more (black 0, "
        "white 100); the garment has {found}{subject}. Choose another offer.",
    ),
    _K.COATED_CLOTH: Sentence(
        _F.NONE, "Coated cloth scorches or lets go. Test first, or choose an offer made for it."
    ),
    _K.DYE_MIGRATION: Sentence(
        _F.TEMPERATURE,
        "Pressed at {found}: above {needed} the dye in polyester can move into the print. "
        "Test first, or choose a cooler kind.",
    ),
    _K.OVER_IRON_DOTS: Sentence(
        _F.TEMPERATURE,
        "This offer presses at {found}; the care label allows {needed}, and the label wins. "
        "Choose a cooler kind, or decide after a test piece.",
        none="This offer presses at {found}; the care label forbids ironing, and the label wins. "
        "Choose another garment, or decide after a test piece.",
    ),
    _K.UNDER_LEAST_PIECES: Sentence(
        _F.COUNT,
        "{found} pieces needed; this offer makes {needed} at least, and the plan pays for those.",
        one="One piece needed; this offer makes {needed} at least, and the plan pays for those.",
    ),
    _K.OVER_PLATEN: Sentence(
        _F.LENGTH,
        "The print measures {found}; the largest platen takes {needed}. It needs two pressings or more.",
    ),
    _K.TOO_LARGE_FOR_OFFER: Sentence(
        _F.LENGTH,
        "The print measures {found}; this offer prints {needed} at most. "
        "Print it smaller, or choose another offer.",
    ),
    _K.WIDER_THAN_USUAL: Sentence(
        _F.LENGTH, "{found} wide; {needed} is the usual most in this place{subject} (shop book, Widths)."
    ),
    _K.OVER_GARMENT: Sentence(
        _F.LENGTH,
        "The print takes {found}, its place on the garment leaves {needed}{subject}. "
        "Move it, or print it smaller.",
        none="The print takes {found}, its place on the garment leaves nothing{subject}. Move it.",
    ),
    _K.OVER_HARD_PART: Sentence(
        _F.LENGTH,
        "The print lies {found} over a part that keeps pressure off{subject} and should lie clear of it. "
        "Move it, or press over a pad.",
    ),
    _K.PRINTS_TOO_CLOSE: Sentence(
        _F.LENGTH, "This print is {found} from the next one{subject}; leave {needed}. Move one of them."
    ),
    _K.ARTWORK_UNUSED: Sentence(
        _F.NONE, "This artwork is on no garment. Put it on one, or remove it from the job."
    ),
    _K.LINE_UNPRINTED: Sentence(
        _F.COUNT,
        "Nothing is printed on these {found} garments. "
        "Put artwork on them, or decide that they go out plain.",
        one="Nothing is printed on this garment. Put artwork on it, or decide that it goes out plain.",
    ),
    _K.NOT_PLACED: Sentence(
        _F.COUNT,
        "{found} pieces fit no sheet of this offer. "
        "Print them smaller, let them turn, or choose another offer.",
        one="One piece fits no sheet of this offer. Print it smaller, let it turn, or choose another offer.",
    ),
    _K.SHEET_FAULT: Sentence(
        _F.COUNT,
        "{found} pieces are in each other's way or over a sheet's edge. Move them apart, or arrange again.",
        one="One piece is in another's way or over a sheet's edge. Move it, or arrange again.",
    ),
    _K.SHEETS_APART: Sentence(
        _F.COUNT,
        "Pieces that must share one sheet are on {found} sheets. "
        "Fewer copies, a larger sheet or smaller prints would let them share it.",
    ),
    _K.PIECE_SHORT: Sentence(
        _F.COUNT,
        "{found} copies are missing on the sheets. Arrange again, or add them.",
        one="One copy is missing on the sheets. Arrange again, or add it.",
    ),
    _K.LATE: Sentence(
        _F.COUNT,
        "Late by {found} working days{subject}: {needed} are needed and {left} left. "
        "Take what would be in time, or agree on another date.",
        one="Late by one working day{subject}: {needed} are needed and {left} left. "
        "Take what would be in time, or agree on another date.",
    ),
    _K.UNDER_FLOOR: Sentence(
        _F.PERCENT,
        "The margin is {found} %, under your floor of {needed} %. Raise the price or lower the cost.",
    ),
    _K.RIGHTS: Sentence(
        _F.NONE, "The customer must confirm the right to use this artwork; the quote asks for it."
    ),
    _K.CHILDREN: Sentence(
        _F.NONE,
        "Sizes for children of 12 and under fall under product-safety law. "
        "Ask the transfer printer for its statement.",
    ),
    _K.STOCK_HELD: Sentence(
        _F.COUNT,
        "{found} left-over transfers of this print are in stock. Use them and order fewer.",
        one="One left-over transfer of this print is in stock. Use it and order one fewer.",
    ),
    _K.STOCK_USED: Sentence(
        _F.COUNT,
        "{found} transfers of this print come from stock{subject}. Press them as the offer says that they "
        "were bought at.",
        one="One transfer of this print comes from stock{subject}. Press it as the offer says that it was "
        "bought at.",
    ),
    _K.STOCK_SHORT: Sentence(
        _F.COUNT,
        "The job counts on {needed} transfers from stock, but {found} are there. Order the others.",
        one="The job counts on {needed} transfers from stock, but only one is there. Order the others.",
    ),
    _K.OFFER_GONE: Sentence(_F.NONE, "The offer chosen is no longer in the shop book. Choose another."),
}
