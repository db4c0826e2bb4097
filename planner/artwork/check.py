"""One file checked at one width on one cloth: what `planner check` prints."""

from dataclasses import dataclass

from planner.artwork.facts import ArtworkFacts
from planner.artwork.judge import judge
from planner.artwork.measure import measure_picture, with_source
from planner.artwork.read import Imported, artwork_from, import_decoded
from planner.job.document import GarmentLine, Print
from planner.job.findings import Finding
from planner.shop.cloth import Swatch
from planner.shop.garments import Location
from planner.shop.offers import ArtRule
from planner.work.ticket import Ticket


@dataclass(frozen=True, slots=True)
class Checked:
    """What a file is, what was measured, and what is to be said about it."""

    imported: Imported
    facts: ArtworkFacts
    findings: tuple[Finding, ...]


def import_measured(data: bytes, name: str, ticket: Ticket | None = None) -> tuple[Imported, ArtworkFacts]:
    """A new file taken in and measured with a single decode.

    Raises:
        UnreadableArtwork: it is no artwork that can be used.
        Cancelled: the ticket was stopped.
    """
    imported, picture = import_decoded(data, name)
    artwork = artwork_from(imported, "a")
    facts = measure_picture(picture, artwork, notes=imported.notes, ticket=ticket)
    return imported, with_source(facts, data, artwork)


def judge_file(
    data: bytes,
    name: str,
    width_mm: float,
    cloth_hex: str = "#ffffff",
    *,
    rule: ArtRule | None = None,
    location: Location = Location.FULL_FRONT,
) -> Checked:
    """A file checked as a print of the given width on cloth of the given colour.

    Raises:
        UnreadableArtwork: it is no artwork that can be used.
    """
    imported, facts = import_measured(data, name)
    line = GarmentLine(key="line", colour=Swatch(name=cloth_hex, hex=cloth_hex))
    print_ = Print(key="print", artwork="artwork", line="line", width_mm=width_mm, location=location)
    artwork = artwork_from(imported, "artwork")
    return Checked(imported, facts, judge(facts, artwork, print_, line, rule))
