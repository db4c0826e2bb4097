"""Words of the shop book's window, ready for translation."""

from collections.abc import Iterable

from planner.measures import figures

# The shop book's window.
SHOP_BOOK = "Shop book"
UNDO = "Undo"
UNDO_HINT = "Take the last change back (Ctrl+Z)"
REDO = "Redo"
REDO_HINT = "Make it again (Ctrl+Shift+Z)"
IMPORT_BLANKS_BUTTON = "Import blanks…"
IMPORT_BLANKS_HINT = "From a CSV file"
LOGO = "Logo"
IMPORT_BLANKS = "Import blanks"
OFFERS = "Offers"
BLANKS = "Blanks"
PRESSES = "Presses"
MONEY = "Money"
PAPERS_AND_SHEETS = "Papers and sheets"
WIDTHS = "Widths"
DAYS = "Days"
IMPORT_BOOK = "Import…"
EXPORT_BOOK = "Export…"
COUNT_AT_ONCE = "Changes count at once."
NO_OFFERS = "No offers yet. Add one for each thing that your transfer printers sell."
NO_BLANKS = "No blanks yet. Add the garments that you buy again and again."
NO_PRESSES = "No press yet. Add yours: its platen decides what can be pressed at once."


def undone(title: str) -> str:
    return f"{UNDO}: {title}"


def worked_out_anew(title: str) -> str:
    return f"{title}. Jobs are worked out anew."


# Lists of offers, blanks and presses.
ADD = "Add"
DUPLICATE = "Duplicate"
REMOVE = "Remove"


def one_more(part: str) -> str:
    return f"One more {part}"


def copy_of(part: str) -> str:
    return f"A copy of this {part}, to change"


def take_out(part: str) -> str:
    return f"Take this {part} out of the shop book"


def add(part: str) -> str:
    return f"{ADD} {part}"


def duplicate(part: str) -> str:
    return f"{DUPLICATE} {part}"


def remove(part: str) -> str:
    return f"{REMOVE} {part}"


# Offers.
BY_SHEET = "by the sheet"
BY_AREA = "by the printed area"
BY_LENGTH = "by the length of a roll"
BY_PIECE = "by the piece"
NEW_OFFER = "New offer"
NAME = "Name"
TRANSFER_PRINTER = "Transfer printer"
KIND_OF_TRANSFER = "Kind of transfer"
PRICES = "Prices"
PRICES_WHY = (
    "As the printer's price sheet has them: a price holds from its count on; 12–23 may be typed too. "
    "Paste from a spreadsheet, or import a CSV file."
)
CHARGED = "Charged"
LEAST_ORDER = "Least order"
LEAST_NUMBER_OF_PIECES = "Least number of pieces"
SHEETS = "Sheets"
GAP_BETWEEN_PIECES = "Gap between pieces"
MARGIN_ALONG_THE_EDGE = "Margin along the edge"
MARGIN_HINT = (
    "Kept clear along the edges of sheets and rolls. What is paid by its area has no edge to keep clear."
)
ITS_SHEET_FILES_HAVE = "Its sheet files have"
CLOTH_IT_HOLDS_ON = "Cloth it holds on"
FIBRES = "Fibres"
MADE_FOR_CLOTH_WITH_SPANDEX = "Made for cloth with spandex"
HOLDS_ON_COATED_CLOTH = "Holds on coated cloth"
NEEDS_WHITE_OR_LIGHT_CLOTH = "Needs white or light cloth"
LEAST_POLYESTER = "Least polyester"
ARTWORK_IT_CAN_SHOW = "Artwork it can show"
RESOLUTION_NEEDED = "Resolution needed"
PPI_NEEDED = "ppi at print size"
THINNEST_STROKE = "Thinnest stroke"
SMALLEST_SPECK = "Smallest speck"
MOST_COLOURS = "Most colours"
ANY = "any"
NEVER = "never"
SHOWS_HALF_TRANSPARENT_AREAS = "Shows half transparent areas"
PRINT_PROFILE = "Print profile"
PRINT_PROFILE_HINT = (
    "The printer's ICC profile, an .icc or .icm file: with it, colours that the print cannot hold are told"
)
DAYS_AND_DELIVERY = "Days and delivery"
PRODUCTION = "Production"
WORKING_DAYS_UNIT = "working days"
DELIVERY_TIME = "Delivery time"
DELIVERY = "Delivery"
AN_ORDER = "an order"
FREE_DELIVERY_FROM = "Free delivery from"
OFFERS_RUSH = "Offers rush"
RUSH_PRODUCTION = "Rush production"
RUSH_SURCHARGE = "Rush surcharge"
RUSH_FEE = "Rush fee"
PRESSING = "Pressing"
PRESSING_WHY = (
    "Starting values. The transfer printer's own sheet, the garment's care label and the press maker's "
    "manual always win."
)
TEMPERATURE = "Temperature"
PRESS_TIME = "Press time"
PRESSURE = "Pressure"
PEEL = "Peel"
PRE_PRESS = "Pre-press"
SECOND_PRESS = "Second press"
SECONDS_OR_NONE = "s, 0 for none"
COVER_SHEET = "Cover sheet"

# Prices.
IMPORT_PRICES = "Import a price list…"
IMPORT_PRICES_HINT = "Read prices from a CSV file, with a look before they count"
CHANGE_PRICES = "Change prices"
BREAKS_COUNT = "Breaks count"
SHEETS_OF_ONE_LAYOUT = "sheets of one layout"
ALL_SHEETS_OF_THE_ORDER = "all sheets of the order"
SET_UP = "Set-up"
A_LAYOUT = "a layout"
UNIT_OF_AREA = "Unit of area"
LARGEST_IMAGE = "Largest image"
LEAST_CHARGE = "Least charge"
AN_IMAGE = "an image"
WIDTH_OF_THE_ROLL = "Width of the roll"
LONGEST_PIECE_OF_ROLL = "Longest piece of roll"
SOLD_IN_STEPS_OF = "Sold in steps of"
A_COLOUR = "a colour"

# Blanks, presses, money, papers and days.
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
IRON_NOT_KNOWN = "not known"
NO_IRON = "do not iron"
IRON_ONE_DOT = "one dot, 110 °C"
IRON_TWO_DOTS = "two dots, 150 °C"
IRON_THREE_DOTS = "three dots, 200 °C"
NEW_STYLE = "New style"
STYLE = "Style"
KIND_OF_GARMENT = "Kind of garment"
COST = "Cost"
EACH = "each"
CLOTH = "Cloth"
CLOTH_WHY = "As the garment's label says it."
FIBRE_MIX = "Fibre mix"
IRON_ON_THE_CARE_LABEL = "Iron on the care label"
COATED_CLOTH = "Coated cloth"
COLOURS = "Colours"
COLOURS_EXAMPLE = "navy #1f2a44"
SIZES = "Sizes"
SIZES_WHY = "Widths and lengths flat, as the maker's size chart has them; a surcharge on the cost."
HARD_PARTS = "Parts to keep prints clear of"
CHANGE_SIZES = "Change sizes"
NEW_PRESS = "New press"
PLATEN_WIDTH = "Platen width"
PLATEN_HEIGHT = "Platen height"
WARM_UP = "Warm-up"
CHANGE_OF_TEMPERATURE = "Change of temperature"
LOAD_ALIGN_PEEL_UNLOAD = "Load, align, peel, unload"
SECONDS_A_PRESSING = "s a pressing"
COSTS = "Costs"
CURRENCY = "Currency"
AN_HOUR = "an hour"
OVERHEAD = "Overhead"
OF_OTHER_COSTS = "% of all other costs"
SPOILAGE = "Spoilage"
OF_BLANKS_COST = "% of the blanks' cost"
PAYMENT_FEES = "Payment fees"
OF_PRICE = "% of the price"
PRICE = "Price"
PRICE_BY = "Price by"
MARGIN_OF_PRICE = "margin, a share of the price"
MARKUP_OF_COST = "markup, a share of the cost"
MARGIN_OR_MARKUP = "Margin or markup"
WARN_UNDER_A_MARGIN_OF = "Warn under a margin of"
PRICES_END_ON = "Prices end on"
QUANTITIES_ON_A_LADDER = "Quantities on a ladder"
DEPOSIT = "Deposit"
A_QUOTE_HOLDS_FOR = "A quote holds for"
DAYS_UNIT = "days"
TAX = "Tax"
TAX_WHY = "Your own rate: the planner never guesses it, and the local tax office decides."
NAME_OF_THE_TAX = "Name of the tax"
RATE = "Rate"
SPARES = "Spares"
SPARES_WHY = (
    "How many transfers are ordered beyond the need: reckoned from how often a pressing goes wrong, "
    "unless a plain percentage or count is given."
)
MISPRINTS = "Misprints"
OF_PRESSINGS = "% of pressings"
CERTAINTY_OF_FINISHING = "Certainty of finishing"
A_PLAIN_PERCENTAGE_INSTEAD = "A plain percentage instead"
A_PLAIN_COUNT_INSTEAD = "A plain count instead"
A_PRINT = "a print"
NO_SPARES_GIVEN = "none"
ANY_CENT = "any cent"
FIVE_CENTS = "five cents"
INCHES = "inches"
MILLIMETRES = "millimetres"
LETTERHEAD = "Letterhead"
NAME_OF_THE_SHOP = "Name of the shop"
ADDRESS = "Address"
E_MAIL = "E-mail"
PHONE = "Phone"
TERMS_ON_THE_QUOTE = "Terms on the quote"
UNITS_AND_PAPER = "Units and paper"
LENGTHS_IN = "Lengths in"
PAPER = "Paper"
PIECES_ARE_CUT_APART = "Pieces are cut apart"
CUT_LOOSE = "by hand, along each piece"
CUT_STRAIGHT = "by straight cuts, with a trimmer"
CUT_OUTLINE = "by outline, with scissors"
SEARCH_FOR_BETTER_SHEETS = "Search for better sheets"
SECONDS_AT_MOST = "s at most"
WORKING_DAYS = "Working days"
OPEN_ON = "Open on"
HOURS_A_DAY = "Hours a day at the press"
BLANKS_ARRIVE_WITHIN = "Blanks arrive within"
CLOSED_DAYS = "Closed days"
CLOSED_DAYS_WHY = "Holidays of the country or state are counted; add your own days, one a line."
COUNTRY_OR_STATE = "Country or state"
ALSO_CLOSED_ON = "Also closed on"

# Logo.
CHOOSE_FILE = "Choose a file…"
LOGO_HINT = "A PNG, JPEG or SVG file"
NONE = "none"
CHANGE_LOGO = "Change logo"


def logo_too_large(name: str) -> str:
    return f"“{name}” is larger than 5 megabytes. Save the logo smaller."


def no_logo(name: str) -> str:
    return f"“{name}” is no PNG, JPEG or SVG. Save the logo as one of these."


# Usual widths.
USUAL_WIDTHS = "Usual widths"
FORGET_WIDTHS = "Back to common practice"
FORGET_WIDTHS_HINT = "Forget the widths typed here"
CHANGE_USUAL_WIDTHS = "Change usual widths"
WIDTHS_HEAD = "Usual widths of prints"
WIDTHS_WHY = (
    "A new print starts with its width here, for each group of sizes; a wider one than the widest is "
    "told. Common practice until you type your own; an emptied row returns to it. Prints that jobs "
    "have already stay as they are."
)

# Forms.
HEAT_HINT = "Type 290 F or 143 C"


def not_whole(name: str) -> str:
    return f"{name} must be a whole number."


def change(name: str) -> str:
    return f"Change {name[:1].lower()}{name[1:]}"


# Grids.
NO_PRICES = "A price list needs one row at least: from how many, and the price of each."
NO_COUNT = "This row lacks the count it starts at."
NAME_PIECE = "Name the largest size and how many colours it has, such as 4 × 4 in, 2 colours."


def ranges_do_not_meet(ends: str, starts: str) -> str:
    return (
        f"“{ends}” is followed by {starts}. Let each row begin right behind the last count of the one before."
    )


def name_sheet() -> str:
    return f"Type the size of the sheet above its prices, such as {figures.written('11.5')} × 18 in."


def start_twice(count: str) -> str:
    return f"Two rows start at {count}. Each row needs its own count."


def no_price(column: str) -> str:
    return f"“{column}” has no price. Type one, or clear the column."


def stands_twice(name: str) -> str:
    return f"“{name}” stands twice."


def width_twice(location: str, group: str) -> str:
    return f"“{location}” stands twice for {group} sizes."


def no_location(typed: str, known: Iterable[str]) -> str:
    return f"“{typed}” is no location. There are {', '.join(known)}."


def no_group(typed: str, known: Iterable[str]) -> str:
    return f"“{typed}” is no group of sizes. There are {', '.join(known)}."


# Figures, sizes and days that are typed.
NO_COLOUR = "Type one colour at least, such as white #f7f7f4."


def no_figure(typed: str) -> str:
    return f"“{typed}” is no figure. Type for example {figures.written('4.10')}."


def figure_out_of_range(typed: str) -> str:
    return f"“{typed}” must be 0 or more, and less than {figures.whole(10_000_000)}."


def no_size(typed: str) -> str:
    return f"“{typed}” is no size. Type width × height, such as {figures.written('11.5')} × 18 in."


def no_temperature(typed: str) -> str:
    return f"“{typed}” is no temperature. Type for example 290 F or 143 C."


def no_swatch(typed: str) -> str:
    return f"“{typed}” needs a name and a colour, such as navy #1f2a44."


def no_day(typed: str) -> str:
    return f"“{typed}” is no day. Type year-month-day, such as 2026-12-24."


def no_quantity(typed: str) -> str:
    return f"“{typed}” is no quantity. Type whole numbers, such as 12, 24, 48, 72, 144."


def too_many_quantities(most: int) -> str:
    return f"Type from one to {most} quantities, such as 12, 24, 48, 72, 144."
