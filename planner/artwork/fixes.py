"""Fixes applied to a decoded picture, step by step; the file itself is never touched."""

from PIL import Image

from planner.job.fixes import FixStep, Flip, QuarterTurn, Trim
from planner.work.ticket import Ticket


def apply_fixes(
    picture: Image.Image, fixes: tuple[FixStep, ...], ticket: Ticket | None = None
) -> Image.Image:
    """The "RGBA" picture after all steps, in order.

    Raises:
        Cancelled: the ticket was stopped.
    """
    for done, step in enumerate(fixes):
        if ticket is not None:
            ticket.step(done, len(fixes))
        picture = apply_fix(picture, step)
    return picture


def apply_fix(picture: Image.Image, step: FixStep) -> Image.Image:
    """The "RGBA" picture after one step."""
    if isinstance(step, Trim):
        return _trimmed(picture, step)
    if isinstance(step, Flip):
        return picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    if isinstance(step, QuarterTurn):
        turns = (Image.Transpose.ROTATE_270, Image.Transpose.ROTATE_180, Image.Transpose.ROTATE_90)
        return picture.transpose(turns[step.quarters - 1])
    raise NotImplementedError(step)


def _trimmed(picture: Image.Image, step: Trim) -> Image.Image:
    # Pasting at a negative place crops without `crop`'s bomb check, which large rolls would trip.
    kept = Image.new("RGBA", (step.width_px, step.height_px))
    kept.paste(picture, (-step.left_px, -step.top_px))
    return kept
