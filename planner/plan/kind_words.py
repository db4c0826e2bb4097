"""What people read for each kind of a thing. What a file stores for it is its value, and stays."""

from collections.abc import Mapping
from enum import StrEnum

from planner.artwork.facts import Style
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.state import JobState
from planner.pressing.calendar import Milestone
from planner.pricing.costs import CostKind
from planner.sheets.cuts import Direction
from planner.shop.book import PaperSize
from planner.shop.cloth import Fibre
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup
from planner.shop.offers import Peel, Pressure, SheetWish, TransferKind
from planner.shop.prices import AreaUnit

WORDS: Mapping[type[StrEnum], Mapping[StrEnum, str]] = {
    JobState: {
        JobState.PLANNED: "being planned",
        JobState.QUOTED: "quoted",
        JobState.APPROVED: "approved",
        JobState.ORDERED: "ordered",
        JobState.PRESSED: "pressed",
        JobState.DELIVERED: "delivered",
    },
    Seriousness: {
        Seriousness.STOP: "stop",
        Seriousness.LOOK: "look",
        Seriousness.NOTE: "note",
    },
    FindingKind: {
        FindingKind.TOO_COARSE: "too coarse",
        FindingKind.LOOKS_ENLARGED: "looks enlarged",
        FindingKind.SOFT_EDGES: "soft edges",
        FindingKind.THIN_STROKES: "thin strokes",
        FindingKind.THIN_GAPS: "thin gaps",
        FindingKind.SPECKS: "specks",
        FindingKind.BOX: "box around the motif",
        FindingKind.RECTANGLE: "prints as a rectangle",
        FindingKind.LOW_CONTRAST: "low contrast with the cloth",
        FindingKind.EMPTY_MARGIN: "empty margin",
        FindingKind.HEAVY_AREA: "heavy solid area",
        FindingKind.TOO_MANY_COLOURS: "too many colours",
        FindingKind.OUT_OF_GAMUT: "colours outside sRGB",
        FindingKind.COLOURS_SHIFT: "colours the print cannot hold",
        FindingKind.TEXT_NOT_OUTLINED: "text not outlined",
        FindingKind.CONVERTED: "converted to sRGB",
        FindingKind.EMPTY_ARTWORK: "nothing to print",
        FindingKind.ARTWORK_UNUSED: "artwork on no garment",
        FindingKind.NEEDS_STRETCH: "needs a stretch kind",
        FindingKind.FIBRE_UNSUITED: "fibre unsuited",
        FindingKind.TOO_LITTLE_POLYESTER: "too little polyester",
        FindingKind.NEEDS_LIGHT_CLOTH: "needs light cloth",
        FindingKind.COATED_CLOTH: "coated cloth",
        FindingKind.DYE_MIGRATION: "dye may migrate",
        FindingKind.OVER_IRON_DOTS: "hotter than the care label",
        FindingKind.UNDER_LEAST_PIECES: "under the least order",
        FindingKind.OVER_PLATEN: "larger than the platen",
        FindingKind.TOO_LARGE_FOR_OFFER: "larger than the offer prints",
        FindingKind.WIDER_THAN_USUAL: "wider than usual",
        FindingKind.OVER_GARMENT: "larger than the garment's panel",
        FindingKind.OVER_HARD_PART: "over a hard part",
        FindingKind.PRINTS_TOO_CLOSE: "prints too close",
        FindingKind.LINE_UNPRINTED: "garment line without a print",
        FindingKind.NOT_PLACED: "does not fit a sheet",
        FindingKind.SHEET_FAULT: "pieces in each other's way",
        FindingKind.SHEETS_APART: "pieces apart that must share a sheet",
        FindingKind.PIECE_SHORT: "pieces missing on the sheets",
        FindingKind.LATE: "late",
        FindingKind.UNDER_FLOOR: "margin under the floor",
        FindingKind.RIGHTS: "rights to the artwork",
        FindingKind.CHILDREN: "garment for children",
        FindingKind.OFFER_GONE: "offer no longer in the shop book",
        FindingKind.STOCK_HELD: "left-over transfers in stock",
        FindingKind.STOCK_USED: "transfers from stock",
        FindingKind.STOCK_SHORT: "fewer in stock than counted on",
    },
    GarmentKind: {
        GarmentKind.T_SHIRT: "T-shirt",
        GarmentKind.HOODIE: "hoodie",
        GarmentKind.ZIP_HOODIE: "zip hoodie",
        GarmentKind.SWEATSHIRT: "sweatshirt",
        GarmentKind.LONG_SLEEVE: "long-sleeve shirt",
        GarmentKind.POLO: "polo shirt",
        GarmentKind.TOTE: "tote bag",
        GarmentKind.CAP: "cap",
        GarmentKind.LEGGINGS: "leggings",
        GarmentKind.APRON: "apron",
        GarmentKind.OTHER: "other",
    },
    Location: {
        Location.FULL_FRONT: "full front",
        Location.LEFT_CHEST: "left chest",
        Location.FULL_BACK: "full back",
        Location.NAPE: "nape",
        Location.LEFT_SLEEVE: "left sleeve",
        Location.RIGHT_SLEEVE: "right sleeve",
        Location.CAP_FRONT: "cap front",
        Location.TOTE_FRONT: "tote front",
        Location.LEG: "leg",
        Location.OTHER: "other place",
    },
    SizeGroup: {
        SizeGroup.ADULT: "adult",
        SizeGroup.YOUTH: "youth",
        SizeGroup.INFANT: "infant",
        SizeGroup.ONE_SIZE: "one size",
    },
    HardPart: {
        HardPart.ZIP: "zip",
        HardPart.POUCH_POCKET: "pouch pocket",
        HardPart.CHEST_POCKET: "chest pocket",
        HardPart.CENTRE_SEAM: "centre seam",
        HardPart.BUTTONS: "buttons",
    },
    Fibre: {
        Fibre.COTTON: "cotton",
        Fibre.POLYESTER: "polyester",
        Fibre.VISCOSE: "viscose",
        Fibre.LINEN: "linen",
        Fibre.WOOL: "wool",
        Fibre.ACRYLIC: "acrylic",
        Fibre.NYLON: "nylon",
        Fibre.SPANDEX: "spandex",
        Fibre.POLYPROPYLENE: "polypropylene",
        Fibre.OTHER: "other",
    },
    TransferKind: {
        TransferKind.FILM_SINGLE: "full-colour film, single images",
        TransferKind.FILM_SHEET: "full-colour film, gang sheet",
        TransferKind.FILM_ROLL: "full-colour film, roll",
        TransferKind.STRETCH: "stretch-formula transfer",
        TransferKind.SCREEN_PRINTED: "screen-printed transfer",
        TransferKind.SUBLIMATION: "dye-sublimation transfer",
        TransferKind.VINYL: "cut heat-transfer vinyl",
    },
    Pressure: {
        Pressure.LIGHT: "light",
        Pressure.MEDIUM: "medium",
        Pressure.FIRM: "firm",
    },
    Peel: {
        Peel.HOT: "hot",
        Peel.WARM: "warm",
        Peel.COLD: "cold",
    },
    SheetWish: {
        SheetWish.CUT_MARKS: "cut marks",
        SheetWish.LABELS: "labels",
        SheetWish.MIRRORED: "mirrored",
        SheetWish.WHITE_GROUND: "white ground",
    },
    PaperSize: {
        PaperSize.LETTER: "Letter",
        PaperSize.A4: "A4",
    },
    AreaUnit: {
        AreaUnit.SQUARE_INCH: "in²",
        AreaUnit.SQUARE_CENTIMETRE: "cm²",
    },
    CostKind: {
        CostKind.BLANKS: "blanks",
        CostKind.TRANSFERS: "transfers",
        CostKind.DELIVERY_IN: "delivery of transfers",
        CostKind.LABOUR: "press time",
        CostKind.SPOILAGE: "spoilage",
        CostKind.OVERHEAD: "overhead",
        CostKind.PAYMENT_FEES: "payment fees",
    },
    Direction: {
        Direction.DOWN: "down",
        Direction.ACROSS: "across",
    },
    Style: {
        Style.FLAT: "flat colours",
        Style.GRADIENT: "gradients",
        Style.PHOTOGRAPH: "photograph",
    },
    Milestone: {
        Milestone.APPROVE: "approve artwork",
        Milestone.ORDER_TRANSFERS: "order transfers",
        Milestone.ORDER_BLANKS: "order blanks",
        Milestone.PRESS: "start pressing",
        Milestone.DELIVER: "deliver",
    },
}
FIX_STEPS: Mapping[str, str] = {
    "trim": "trim",
    "knock out": "knock out",
    "remove specks": "remove specks",
    "harden edges": "harden edges",
    "halftone": "halftone",
    "thicken": "thicken",
    "outline": "outline",
    "recolour": "recolour",
    "flip": "flip",
    "turn": "turn",
}
"""By what a job stores for a fix."""


def kind_name(kind: StrEnum) -> str:
    """The words for a kind, as they stand inside a sentence."""
    return WORDS[type(kind)][kind]


def _stored(kind: type[StrEnum]) -> Mapping[str, str]:
    return {member.value: kind_name(member) for member in kind}


SUBJECTS: Mapping[FindingKind, Mapping[str, str]] = {
    FindingKind.SPECKS: {"at least": "at least"},
    FindingKind.CONVERTED: {
        "from CMYK without a profile": "from CMYK without a profile",
        "its profile cannot be used": "its profile cannot be used",
    },
    FindingKind.TOO_MANY_COLOURS: _stored(Style),
    FindingKind.NEEDS_STRETCH: _stored(Fibre),
    FindingKind.FIBRE_UNSUITED: _stored(Fibre),
    FindingKind.WIDER_THAN_USUAL: _stored(SizeGroup),
    FindingKind.OVER_GARMENT: {"height of a cap's front": "height of a cap's front"},
    FindingKind.OVER_HARD_PART: _stored(HardPart),
    FindingKind.PRINTS_TOO_CLOSE: _stored(Location),
    FindingKind.LATE: {"transfers": "transfers", **_stored(Milestone)},
    FindingKind.STOCK_HELD: _stored(SizeGroup),
    FindingKind.STOCK_USED: _stored(SizeGroup),
    FindingKind.STOCK_SHORT: _stored(SizeGroup),
}
"""By kind of a finding what is stored as its subject; anything else is a name, and said as it is."""


def subject_name(finding: Finding) -> str:
    """What exactly a finding is about. Decisions are kept under its subject, which stays as it is stored."""
    words = SUBJECTS.get(finding.kind, {})
    if finding.kind is FindingKind.STOCK_USED:  # After the group come offer and day.
        group, *others = finding.subject.split(", ")
        return ", ".join((words.get(group, group), *others))
    return words.get(finding.subject, finding.subject)
