"""Press cards: how one garment line is pressed, step by step, as kinds and figures."""

from enum import StrEnum

from planner.shop.document import Document
from planner.shop.garments import Location
from planner.shop.offers import Peel, Pressure


class StepKind(StrEnum):
    """Steps at the press, in no order of their own."""

    SET_PRESS = "set the press"
    PRE_PRESS = "pre-press"
    PLACE = "place the transfer"
    COVER = "cover"
    PRESS = "press"
    PEEL = "peel"
    SECOND_PRESS = "second press"
    COOL = "let cool"


class PressStep(Document):
    """One step, with the figures it needs; None where a step has none."""

    kind: StepKind
    setting_c: float | None = None
    seconds: float | None = None
    pressure: Pressure | None = None
    peel: Peel | None = None


class SizeToPress(Document):
    """How many of one size, at which print width."""

    size: str
    count: int
    width_mm: float
    height_mm: float


class Caution(StrEnum):
    """Cautions printed with press settings; the sentences are in `planner.plan.wording`."""

    BURN = "burn"
    PINCH = "pinch"
    ATTEND = "attend"
    VENTILATE = "ventilate"
    TEST_FIRST = "test first"
    WHO_WINS = "who wins"
    LOCAL_CODES = "local codes"
    CHILDREN = "children"


class PressCard(Document):
    """How one print goes on one garment line."""

    line: str
    print: str
    offer: str
    location: Location
    place_name: str
    setting_c: float
    press_s: float
    pressure: Pressure
    peel: Peel
    steps: tuple[PressStep, ...]
    top_mm: float
    """Top of the print below the collar seam (or the location's own mark)."""
    aside_mm: float
    """Centre of the print from the garment's centre line, towards the wearer's left."""
    measured_from: str
    """What `top_mm` is measured from: something one can feel, such as "collar seam"."""
    sizes: tuple[SizeToPress, ...]
    cautions: tuple[Caution, ...]
    pressings: int = 1
    """Two where the print is larger than the platen."""


class WorkStep(Document):
    """A stretch of work at one press setting."""

    press: str
    print: str
    line: str
    setting_c: float
    pieces: int
    minutes: float
    reset_before: bool
    cover_finished: bool
    """Finished prints on the garment must be covered in this step."""


class PressWork(Document):
    """The order of work at the press, and how long it takes."""

    steps: tuple[WorkStep, ...] = ()
    resets: int = 0
    warm_up_min: float = 0
    total_min: float = 0
    """Warm-up, resets, loading, pressing and cooling together."""
