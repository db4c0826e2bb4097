"""Short labels that tell pieces apart: the same letter on layouts, press cards and cut pieces."""

from planner.job.document import Job
from planner.job.pieces import needed_pieces, print_of_piece


def _letters(number: int) -> str:
    """0 is A, 25 is Z, 26 is AA, as columns of a table are lettered."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def print_labels(job: Job) -> dict[str, str]:
    """Label of each print by key: A, B, C in the job's order."""
    return {print_.key: _letters(number) for number, print_ in enumerate(job.prints)}


def piece_labels(job: Job) -> dict[str, str]:
    """Label of each piece by key: its print's letter, and a figure where a print has several widths.

    Extras are X1, X2 and so on.
    """
    letters = print_labels(job)
    keys: dict[str, list[str]] = {}
    for piece in needed_pieces(job):
        keys.setdefault(print_of_piece(piece.key), []).append(piece.key)
    labels = {print_.key: letters[print_.key] for print_ in job.prints}
    for print_key, pieces in keys.items():
        for number, piece_key in enumerate(pieces, 1):
            own = str(number) if len(pieces) > 1 else ""
            labels[piece_key] = f"{letters[print_key]}{own}"
    for number, extra in enumerate(job.extras, 1):
        labels[extra.key] = f"X{number}"
    return labels
