"""Press cards: how one garment line is pressed, step by step, as kinds and figures."""

from enum import StrEnum

from planner.shop.document import Document
from planner.shop.garments import HardPart, Location
from planner.shop.offers import Peel, Pressure


class StepKind(StrEnum):
    """Steps at the press, in no order of their own."""

    SET_PRESS = "set the press"
    PAD = "keep thick parts from the pressure"
    """Thread the garment over the platen, or lay a pad in it (common practice)."""
    PRE_PRESS = "pre-press"
    PLACE = "place the transfer"
    COVER = "cover"
    PRESS = "press"
    PEEL = "peel"
    SECOND_PRESS = "second press"
    COOL = "let cool"
    COVER_FINISHED = "cover finished prints"
    """Before anything hot touches a garment that carries finished prints, the pre-press included."""
    SHIFT = "shift on the platen"
    """Move the garment so that a part not yet pressed lies under the platen, and press that too."""


class PressStep(Document):
    """One step, with the figures it needs; None where a step has none."""

    kind: StepKind
    setting_c: float | None = None
    seconds: float | None = None
    pressure: Pressure | None = None
    peel: Peel | None = None
    part: str = "garment"
    """The part of the garment whose centre line a print is placed by: "sleeve", "leg"."""
    hard_parts: tuple[HardPart, ...] = ()
    """What must bear no pressure."""
    on_centre: bool = True
    """Whether a print is placed on that centre line, or at a distance from it."""


class Edge(StrEnum):
    """Which edge of the print a placement is measured to."""

    TOP = "top edge"
    BOTTOM = "bottom edge"
    """Of prints that sit on a hem or a brim seam."""


class SizeToPress(Document):
    """How many of one size, at which print width."""

    size: str
    count: int
    width_mm: float
    height_mm: float
    top_mm: float = 0
    """As on the card, for this size's group."""
    aside_mm: float = 0
    pressings: int = 1


CONTACT_BURN_C = 60.0
"""Metal this hot harms skin that touches it for five seconds (ASTM C1055)."""


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
    """From the mark in `measured_from` to the edge in `measured_to`: for most locations the top of the
    print below the collar seam. Of the size pressed most; each size has its own in `sizes`."""
    aside_mm: float
    """Centre of the print from the garment's centre line, towards the wearer's left."""
    measured_from: str
    """What `top_mm` is measured from: something one can feel, such as "collar seam"."""
    sizes: tuple[SizeToPress, ...]
    cautions: tuple[Caution, ...]
    pressings: int = 1
    """Two (or more) where the print is larger than the platen: the most that any size needs."""
    measured_to: Edge = Edge.TOP
    press: str = ""
    """Key of the press it is planned on; empty where the shop book holds none."""
    position: int = 1
    """Place in the order of work, from 1."""
    cover_finished: bool = False
    """Prints finished before this one are on the garment: cover them."""
    label_limit_c: float | None = None
    """The care label's ironing limit (ISO 3758); 0 where it forbids ironing, None where it is not known."""
    over_label: bool = False
    """The press is set hotter than the label allows: the label wins until the shop decides otherwise."""
    label_decision: str = ""
    """Why the shop presses hotter than the label all the same; empty while it has not decided."""


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
    seconds_each: float = 0
    """Loading, pre-press, pressing, second press, cooling and hand work of one piece."""
    pressings: int = 0
    """Closings of the press in this step, pre-presses not counted."""


class PressWork(Document):
    """The order of work at the press, and how long it takes."""

    steps: tuple[WorkStep, ...] = ()
    resets: int = 0
    warm_up_min: float = 0
    total_min: float = 0
    """Warm-up, resets, loading, pressing and cooling together."""
    reset_min: float = 0
    """All resets together."""

    @property
    def pieces_an_hour(self) -> float:
        """Prints put on in an hour once the presses are warm, resets included; 0 without work."""
        worked_min = self.total_min - self.warm_up_min
        return 60 * sum(step.pieces for step in self.steps) / worked_min if worked_min > 0 else 0.0
