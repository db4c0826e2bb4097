"""Words of the window in one place, ready for translation. Findings are worded in `planner.plan.wording`."""

from collections.abc import Mapping, Sequence
from datetime import date

from planner.buying.purchase import Purchase
from planner.plan import wording as sentences
from planner.plan.in_time import WayInTime, WayKind
from planner.plan.kind_words import kind_name
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.garments import SizeGroup

UNTITLED = "Untitled job"

# Job bar.
TITLE = "Job title"
CUSTOMER = "Customer"
CUSTOMER_HINT = "Name or club"
CUSTOMER_MORE = "Contact, address and notes"
CONTACT = "Contact"
EMAIL = "E-mail"
PHONE = "Phone"
ADDRESS = "Address"
NOTE_FOR_SHOP = "Note for the shop"
DUE = "Due"
PICK_DAY = "Pick the due date from a calendar"
OFFER = "Transfers from"
NO_OFFER = "Choose an offer"


def shares_hint(shares: Mapping[str, Sequence[str]]) -> str:
    """Which prints come from which of several offers."""
    told = "\n".join(f"{offer}: {few(prints)}" for offer, prints in shares.items())
    return f"Its prints are shared out:\n{told}\nAn offer chosen here takes them all."


_FEW = 4


def few(names: Sequence[str]) -> str:
    """Names that hold commas of their own, as many as anybody reads."""
    more = [f"{len(names) - _FEW} more"] if len(names) > _FEW + 1 else []
    return "; ".join([*(names[:_FEW] if more else names), *more])


ARRANGE = "Arrange"
ARRANGE_HINT = "Fill sheets of the chosen offer with all pieces; pinned pieces stay (F5)"
EXPORT = "Export packet"
EXPORT_HINT = "Write quote, sheets, press cards and print files into a folder (Ctrl+Shift+E)"
NEXT = "Next:"
ALL_THERE = "Nothing is missing. Export the packet when the findings are settled."
STOPS_LEFT = "Nothing is missing, but findings marked Stop are open:"


def set_state(state: str) -> str:
    """A state as a command."""
    return f"State: {state}"


NOTHING_TO_QUOTE = "There are no garments to quote yet, so the papers would say little."
GO_NEXT = "Go to what is next"
FIRST_STOP = "Go to the first"


def and_more(count: int) -> str:
    return f"and {count} more"


# Artwork panel.
CHOOSE_FILES = "Choose files…"
REPLACE_FILE = "Replace the file…"
READING = "Reading…"
DISMISS = "Dismiss"
_SHORT_NAME = 32


def short_name(name: str) -> str:
    """A file's name that leaves room for others, its end kept: mail programs make very long ones."""
    return name if len(name) <= _SHORT_NAME else f"{name[: _SHORT_NAME - 13]}…{name[-12:]}"


def reading(name: str, number: int, count: int) -> str:
    """Which file is read, and the how manieth it is."""
    return (
        f"Reading {short_name(name)}…" if count == 1 else f"Reading {number} of {count}: {short_name(name)}…"
    )


def stopped_reading(taken: int, left: int) -> str:
    """What a stop left behind."""
    kept = f"{sentences.count(taken, 'file')} taken in" if taken else "nothing taken in"
    return f"Stopped: {kept}, {sentences.count(left, 'file')} not read. Drop them again to add them."


def there_already(names: Sequence[str]) -> str:
    """That files dropped are in the job already."""
    if len(names) == 1:
        return f"“{short_name(names[0])}” is in the job already: it stays one artwork."
    return f"{len(names)} files are in the job already: each stays one artwork."


def on_sizes(group: SizeGroup) -> str:
    return f"on {kind_name(group)} sizes"


# Garments page.
GARMENTS = "Garments"
ADD_LINE = "Add garment line"
IMPORT_COUNTS = "Import counts…"
COUNT_FILES = "Lists of counts (*.csv *.tsv *.txt)"
EMPTY_LINE = "Empty line"


# Pages.
SHEETS = "Sheets"
OFFERS = "Offers"
PRESS = "Press"

# The artwork page.
CLOSER = "Artwork"


# What changed since somebody looked.
TOTAL_COST = "Cost in all"
MARGIN = "Margin"
QUOTE_TOTAL = "Total"
NOTHING = "none"
SEEN = "Seen"
SINCE_YOU_LOOKED = "Changed since you looked"
PRESSED = "To press"
RUNS = "Runs"
ORDER_COST = "Transfers"
ORDER_DAYS = "Delivery takes"
PRESS_TIME = "Press time"


def was(before: str) -> str:
    return f"was {before}"


def before_it(before: str) -> str:
    """Stands left of a figure that was another one."""
    return f"{before} →" if before else ""


# Findings.
FINDINGS = "Findings"


# Menus and messages.
FILE, EDIT, VIEW, HELP, JOB_MENU = "&File", "&Edit", "&View", "&Help", "&Job"
NEW_JOB = "&New job"
OPEN_JOB = "&Open…"
OPEN_DEMO = "Open the &demo job"
JOBS_MENU = "&Jobs…"
JOBS_FOLDER_TITLE = "Where the shop keeps its jobs"
ORDER_AGAIN = "Order a&gain"
AFTER_JOB = "After the &job…"
LEFT_OVER_MENU = "&Left-over transfers…"
AFTER_JOB_LINK = "After the job…"
STATE_MENU = "S&tate"
STATE = "State"
STATE_HINT = "Where the job stands. Once it is quoted it keeps its prices, whatever the shop book says later"
SAVE = "&Save"
SAVE_AS = "Save &as…"
EXPORT_MENU = "&Export packet…"
PREVIEW_MENU = "&Preview papers…"
QUIT = "&Quit"
INCHES = "Show &inches"
MILLIMETRES = "Show &millimetres"
SHOP_BOOK = "Shop &book…"
PASTE_ARTWORK = "&Paste artwork"
ADD_ARTWORK = "Add artwork…"
HISTORY = "&History"
AS_OPENED = "As it was opened"
FIND_COMMAND = "&Find a command…"
COMMANDS = "Commands"
FIND_COMMAND_HINT = "Type what you want to do"
GUIDE = "&Guide"
GUIDE_TITLE = "Guide"
GUIDE_CHAPTERS = "Chapters of the guide"
GUIDE_COMMAND, GUIDE_KEYS = "command", "keys"
ABOUT = "&About"
LICENCES = "Licences of its parts"
JOB_CHANGED = "The job was changed while sheets were being arranged. Arrange again."
SAVE_FIRST_NAME = "job"
STOP_WORK = "Stop"
SAVE_NOW = "Save"
DROP_CHANGES = "Close without saving"
KEEP_WORKING = "Keep working"
OPEN_FOLDER = "Open the folder"
HINT = "Ctrl+K finds any command by typing."
UNSAVED = "This job has changes that are not saved."
ARRANGING = "Arranging sheets…"
OPENING_DEMO = "Opening the demo job…"
EXPORTING = "Writing the packet…"
OPEN_JOB_TITLE = "Open a job"
SAVE_AS_TITLE = "Save the job"
ARTWORK_FILES = (
    "Artwork (*.png *.jpg *.jpeg *.tif *.tiff *.webp *.gif *.bmp *.heic *.heif *.avif *.svg *.pdf)"
    ";;All files (*)"
)
NO_PICTURE_TO_PASTE = "The clipboard holds no picture and no file. Copy one, then paste."
NO_OFFER_YET = "Choose an offer first: it says which sheets there are."
NOTHING_TO_ARRANGE = "There is nothing to arrange yet: put artwork on a garment and type how many."
ABOUT_TEXT = (
    "Transfer Job Planner: artwork, sheets, costs, quote and press cards of one job. Press settings are "
    "starting values; the garment's label, the transfer printer's sheet and local codes always win."
)


def trouble(error: Exception) -> str:
    """A sentence for an error that nobody foresaw."""
    what = f"{type(error).__name__}: {error}"
    return f"Something went wrong inside the planner ({what}). Your job is still here; save it."


def version(number: str) -> str:
    return f"Version {number}."


def not_exported(names: tuple[str, ...]) -> str:
    """Papers cannot be written while the job holds artwork that cannot be read."""
    named = ", ".join(f"“{name}”" for name in names)
    return f"Nothing was exported: {named} cannot be read. Replace the file or remove the artwork first."


def report_written(name: str) -> str:
    """Where the report of an unexpected error lies, and that it may be sent."""
    return f"“{name}” says where it happened and holds nothing of the job: send it to whoever helps you."


TAKE_BOOK = "Take a shop book from a file"
GIVE_BOOK = "Write the shop book into a file"
SHOP_BOOK_FILE = "shop book"
BOOK_TAKEN = "Import shop book"
BLANKS_FILE = "List of blanks"
BLANK_LISTS = "Lists of blanks (*.csv *.tsv *.txt)"
PRICES_FILE = "Price list"
PRICE_LISTS = "Price lists (*.csv *.tsv *.txt)"
LOGO_FILE = "Choose a logo"
LOGO_FILES = "Logos (*.png *.jpg *.jpeg *.svg)"
PROFILE_FILE = "Choose the printer's profile"
PROFILE_FILES = "ICC profiles (*.icc *.icm)"
SAVE_PAPER = "Save the paper as PDF"
PDF_FILES = "PDF (*.pdf)"


def shop_books(suffix: str) -> str:
    return f"Shop books (*{suffix})"


def book_given(name: str) -> str:
    return f"Written to {name}, without your shelf and your jobs' figures."


KEEP_PRICES = "Keep them"
TODAYS_PRICES = "Use today's prices"


def keeps_prices(since: date, kept: Plan, today: Plan) -> str:
    """That a job keeps older prices, and what today's would make of it."""
    total = sentences.money(kept.quote.total, kept.costs.currency)
    other = sentences.money(today.quote.total, today.costs.currency)
    cost = sentences.money(kept.costs.total, kept.costs.currency)
    other_cost = sentences.money(today.costs.total, today.costs.currency)
    return (
        f"This job keeps the prices of {sentences.day(since)}. "
        f"By today's shop book: cost {cost} → {other_cost}, quote total {total} → {other}."
    )


def shop_change(title: str, before: Plan, after: Plan) -> str:
    """What an edit of the shop book does to the open job."""
    currency = after.costs.currency
    figures = (
        ("cost", before.costs.total, after.costs.total),
        ("quote total", before.quote.total, after.quote.total),
    )
    changes = ", ".join(
        f"{name} {sentences.money(was, currency)} → {sentences.money(now, currency)}"
        for name, was, now in figures
        if was != now
    )
    return f"{title}: this job's {changes}."


def job_files(suffix: str) -> str:
    return f"Jobs (*{suffix})"


def unreadable_file(name: str, error: OSError) -> str:
    return f"“{name}” could not be read: {error.strerror or error}."


def opening(name: str) -> str:
    return f"Opening “{name}”…"


def saving(name: str) -> str:
    return f"Saving {name}…"


def saved_as(name: str) -> str:
    return f"Saved as “{name}”."


def packet_written(count: int, folder: str) -> str:
    return f"{count} papers written to {folder}."


def extra(artwork: str) -> str:
    """A piece that no garment needs."""
    return f"{artwork}, extra"


def arranged(bought: Purchase, currency: str, *, are_others: bool = True) -> str:
    """What arranging came to; what no sheet takes is not passed over."""
    left_out = sum(piece.count for order in bought.orders for piece in order.not_placed)
    if left_out:
        pieces = sentences.count(left_out, "piece fits", "pieces fit")
        return f"{pieces} no sheet of the offer: see the findings. {_arranged(bought, currency, are_others)}"
    return _arranged(bought, currency, are_others)


def _arranged(bought: Purchase, currency: str, are_others: bool) -> str:
    sheets = sentences.count(sum(order.sheets for order in bought.orders), "sheet")
    cost = f"{sentences.money(bought.cost, currency)} with delivery"
    if not are_others:
        return f"No better sheets were found; yours stay as they are: {sheets}, {cost}."
    return f"Arranged on {sheets}, {cost}."


# First run. The fields are named as in the shop book's forms.
SHOP_NAME_FIELD = "Name of the shop"
SHOP_ADDRESS_FIELD = "Address"
LABOUR_FIELD = "Press time"
TYPE_IT = "Type it"
EXPORT_AS_IT_IS = "Export as it is"
OPEN_SHOP_BOOK = "Shop book"


def still_to_tell(fields: tuple[str, ...]) -> str:
    """What the quote lacks of the shop itself."""
    said = {
        SHOP_NAME_FIELD: "the quote does not carry your shop's name and address",
        SHOP_ADDRESS_FIELD: "the quote does not carry your shop's address",
        LABOUR_FIELD: "an hour at the press still costs the starting value",
    }
    sentence = ", and ".join(said[field] for field in fields)
    return f"{sentence[:1].upper()}{sentence[1:]}."


def guessed(shop: Shop) -> str:
    """What was taken from the system's settings at the first start."""
    return (
        f"From your system: {shop.currency}, {shop.unit.value}, {kind_name(shop.paper)}, holidays of "
        f"{shop.region}. Prices and press settings are starting values; the shop book has them all."
    )


def changed_since(what: str, *, provisional: bool) -> str:
    until = ", provisional until arranged" if provisional else ""
    return f"{SINCE_YOU_LOOKED}{until}: {what}"


def findings_changed(new: int, gone: int) -> str:
    """ "Findings: 2 new, 1 gone"; empty where none came or went."""
    told = ", ".join(part for part in (f"{new} new" if new else "", f"{gone} gone" if gone else "") if part)
    return f"{FINDINGS}: {told}" if told else ""


# Ways to be in time.
LOOKING_FOR_TIME = "Looking for ways to be in time…"
NO_WAY_IN_TIME = (
    "No offer of the shop book arrives in time. Agree on another day, or type one in the shop book."
)


def way_in_time(way: WayInTime, shop: Shop) -> str:
    """ "Rush at Film gang sheets: 12.40 USD more"."""
    if way.kind is WayKind.DUE and way.job.due is not None:
        return f"Deliver on {sentences.day(way.job.due)} instead"
    names = " and ".join(offer.name for offer in shop.offers if offer.key in way.offers)
    opening = {WayKind.RUSH: "Rush at", WayKind.OFFER: "Order at", WayKind.SPLIT: "Split between"}[way.kind]
    hurry = ", with rush" if way.rush and way.kind is not WayKind.RUSH else ""
    money = sentences.money(abs(way.dearer), shop.currency)
    more = f"{money} {'more' if way.dearer > 0 else 'less'}" if way.dearer else "at the same cost"
    return f"{opening} {names}{hurry}: {more}"


PASTED_PICTURE = "pasted picture.png"
DROPPED_PICTURE = "dropped picture"


def empty_folder(name: str) -> str:
    return f"The folder “{name}” holds no files. Drop the folder that the pictures are in, or the pictures."


def file_gone(name: str) -> str:
    return f"“{name}” is not there any more. Unpack or save it first, then drop it again."


NO_PICTURE_IN_DROP = "There was no picture in what was dropped. Drop a file, a folder of files, or a picture."
ONLY_AN_ADDRESS = (
    "The browser handed over where the picture is, not the picture, and the planner fetches nothing from the "
    "web. Save the picture first, then drop the file, or copy the picture and paste it."
)
