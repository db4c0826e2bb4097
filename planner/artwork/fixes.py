"""Fixes applied to a decoded picture, step by step; the file itself is never touched."""

from PIL import Image

from planner.artwork.facts import ArtworkFacts
from planner.artwork.fix_colour import knocked_out, recoloured
from planner.artwork.fix_shape import halftoned, hardened, outlined, thickened, without_specks
from planner.artwork.planes import heed
from planner.job.fixes import (
    FixStep,
    Flip,
    Halftone,
    HardenEdges,
    KnockOut,
    OutlineInk,
    QuarterTurn,
    Recolour,
    RemoveSpecks,
    Thicken,
    Trim,
)
from planner.work.ticket import Ticket

_TURNS = (Image.Transpose.ROTATE_270, Image.Transpose.ROTATE_180, Image.Transpose.ROTATE_90)


def apply_fixes(
    picture: Image.Image, fixes: tuple[FixStep, ...], ticket: Ticket | None = None
) -> Image.Image:
    """The "RGBA" picture after all steps, in order. It may share memory with the one handed in.

    Raises:
        Cancelled: the ticket was stopped.
    """
    for step in fixes:
        heed(ticket)
        picture = apply_fix(picture, step)
    return picture


def apply_fix(picture: Image.Image, step: FixStep) -> Image.Image:
    """The "RGBA" picture after one step."""
    match step:
        case Trim():
            return _trimmed(picture, step)
        case KnockOut():
            return knocked_out(picture, step)
        case RemoveSpecks():
            return without_specks(picture, step)
        case HardenEdges():
            return hardened(picture, step)
        case Halftone():
            return halftoned(picture, step)
        case Thicken():
            return thickened(picture, step)
        case OutlineInk():
            return outlined(picture, step)
        case Recolour():
            return recoloured(picture, step)
        case Flip():
            return picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
        case QuarterTurn():
            return picture.transpose(_TURNS[step.quarters - 1])


def suggest_trim(facts: ArtworkFacts) -> Trim | None:
    """The trim that leaves the ink and nothing else; None where there is nothing to trim, or no ink."""
    ink = facts.ink
    if ink is None or (ink.width_px, ink.height_px) == (facts.width_px, facts.height_px):
        return None
    return Trim(left_px=ink.left_px, top_px=ink.top_px, width_px=ink.width_px, height_px=ink.height_px)


def _trimmed(picture: Image.Image, step: Trim) -> Image.Image:
    # Pasting at a negative place crops without `crop`'s bomb check, which large rolls would trip.
    kept = Image.new("RGBA", (step.width_px, step.height_px))
    kept.paste(picture, (-step.left_px, -step.top_px))
    return kept
