"""All measurements of one artwork, each taken once."""

from PIL import Image

from planner.artwork import source
from planner.artwork.convert import cut_off
from planner.artwork.facts import ArtworkFacts, InkBox, OutOfSrgb
from planner.artwork.fixes import apply_fixes
from planner.artwork.ground import Edges, edges_of
from planner.artwork.opencv import opencv
from planner.artwork.outline import outline_of
from planner.artwork.palette import palette_of
from planner.artwork.pixels import decode_native, unmended
from planner.artwork.planes import FAINT, Planes, planes_of
from planner.artwork.print_shift import glance_of
from planner.artwork.sharpness import sharpness_of
from planner.artwork.softness import soft_levels
from planner.artwork.solid import solid_levels
from planner.artwork.source import SourceNote
from planner.artwork.specks import specks_of
from planner.artwork.strokes import thin_gaps, thin_strokes
from planner.job.document import Artwork
from planner.work.ticket import Ticket

_STEPS = 3


def measure(data: bytes, artwork: Artwork, ticket: Ticket | None = None) -> ArtworkFacts:
    """Everything that judging needs to know of the artwork with its fixes.

    Raises:
        UnreadableArtwork: the file cannot be decoded.
        Cancelled: the ticket was stopped.
    """
    if artwork.vector:
        from planner.artwork.vectors import describe

        notes = describe(data, artwork.media, name=artwork.name, page=artwork.page).notes
        picture = unmended(artwork, data)
    else:
        picture, notes = decode_native(data, name=artwork.name)
    return with_source(measure_picture(picture, artwork, notes=notes, ticket=ticket), data, artwork)


def with_source(facts: ArtworkFacts, data: bytes, artwork: Artwork) -> ArtworkFacts:
    """The facts with what only the file itself tells: fonts that it lacks, colours that were cut off."""
    if SourceNote.FONT_NOT_EMBEDDED in facts.notes:
        from planner.artwork.vectors import describe

        fonts = describe(data, artwork.media, name=artwork.name, page=artwork.page).loose_fonts
        return facts.model_copy(update={"loose_fonts": fonts})
    if SourceNote.OUT_OF_SRGB in facts.notes:
        with source.reading(artwork.name):
            opened = source.open_picture(data, artwork.media, artwork.name)
            beyond = cut_off(source.decoded(data, opened))
        if beyond is not None:
            regions = () if artwork.fixes else beyond.regions
            told = OutOfSrgb(share=round(beyond.share, 4), regions=regions)
            return facts.model_copy(update={"out_of_srgb": told})
    return facts


def measure_picture(
    picture: Image.Image,
    artwork: Artwork,
    *,
    notes: frozenset[SourceNote] = frozenset(),
    ticket: Ticket | None = None,
) -> ArtworkFacts:
    """As `measure`, of a picture decoded already ("RGB" or "RGBA", without the fixes)."""
    _step(ticket, 0)
    if artwork.fixes:
        if picture.mode == "RGB":
            picture.putalpha(255)
        picture = apply_fixes(picture, artwork.fixes, ticket)
    _step(ticket, 1)
    planes = planes_of(picture, ticket)
    facts = _measured(planes, artwork, notes, ticket)
    _step(ticket, _STEPS)
    return facts


def _measured(
    planes: Planes, artwork: Artwork, notes: frozenset[SourceNote], ticket: Ticket | None
) -> ArtworkFacts:
    ink = _ink_box(planes)
    edges = edges_of(planes, ink) if ink else Edges(rectangle=False, ground=None)
    palette = palette_of(planes)
    _step(ticket, 2)
    return ArtworkFacts(
        sha256=artwork.sha256,
        width_px=planes.width,
        height_px=planes.height,
        vector=artwork.stays_vector,
        ink=ink,
        ink_px=_ink_area(planes),
        has_alpha=planes.alpha is not None,
        rectangle=edges.rectangle,
        ground=edges.ground,
        soft=soft_levels(planes, ticket),
        specks=specks_of(planes, ticket),
        colours=palette.colours,
        flat_colours=palette.flat_colours,
        style=palette.style,
        solid=solid_levels(planes),
        glance=glance_of(planes.sample),
        sharpness=None if artwork.stays_vector else sharpness_of(planes, palette.style, ticket),
        strokes=thin_strokes(planes, ticket),
        gaps=thin_gaps(planes, ticket),
        outline=outline_of(planes),
        notes=tuple(sorted(notes)),
    )


def _step(ticket: Ticket | None, done: int) -> None:
    if ticket is not None:
        ticket.step(done, _STEPS)


def _ink_box(planes: Planes) -> InkBox | None:
    if planes.alpha is None:
        return InkBox(left_px=0, top_px=0, width_px=planes.width, height_px=planes.height)
    rows = planes.alpha.max(axis=1) >= FAINT
    columns = planes.alpha.max(axis=0) >= FAINT
    if not rows.any():
        return None
    top, bottom = int(rows.argmax()), len(rows) - int(rows[::-1].argmax())
    left, right = int(columns.argmax()), len(columns) - int(columns[::-1].argmax())
    return InkBox(left_px=left, top_px=top, width_px=right - left, height_px=bottom - top)


def _ink_area(planes: Planes) -> float:
    if planes.alpha is None:
        return float(planes.width * planes.height)
    return float(opencv().sumElems(planes.alpha)[0]) / 255.0
