"""Colours by everyday words, for sentences: nobody reads "#143c78"."""

from functools import lru_cache

import numpy as np

from planner.artwork.colour import ciede2000, lab_of, rgb_of_hex

# The words are those of everyday English; how each colour looks is our own reckoning.
_WORDS = {
    "white": ("#ffffff",),
    "cream": ("#f4ead2",),
    "light grey": ("#cfcfcf",),
    "grey": ("#8a8a8a", "#a4a4a4"),
    "dark grey": ("#4a4a4a", "#5c5c5c"),
    "black": ("#000000", "#141414", "#232325"),
    "red": ("#d0202a", "#ff0000"),
    "dark red": ("#7c1620", "#8e3b2f"),
    "pink": ("#f19ab5", "#ff7ab0"),
    "orange": ("#ee7a1c", "#c8501e", "#ffa500"),
    "yellow": ("#f6d32d", "#ffff00"),
    "gold": ("#d2a02c", "#ebb428"),
    "beige": ("#d3bf9d",),
    "brown": ("#70492b", "#4d3529"),
    "light green": ("#a5d88c",),
    "green": ("#2f9a44", "#00ff00"),
    "dark green": ("#1d5132", "#0c3b24"),
    "olive": ("#7a7a33",),
    "turquoise": ("#35bdb8", "#00ffff"),
    "dark turquoise": ("#0f6063",),
    "light blue": ("#a6cbe8", "#7fb2e0"),
    "blue": ("#1f5fc4", "#0000ff"),
    "dark blue": ("#15305f", "#1b2a49", "#143c78", "#000080"),
    "lilac": ("#c0a3dc",),
    "purple": ("#6f2c91", "#4b2d73"),
    "magenta": ("#d6168a", "#ff00ff"),
}


@lru_cache(maxsize=512)
def colour_name(hex_colour: str) -> str:
    """The everyday word for a colour "#rrggbb": the one whose colours come nearest by CIEDE2000."""
    words = [word for word, looks in _WORDS.items() for _ in looks]
    looks = [rgb_of_hex(look) for each in _WORDS.values() for look in each]
    apart = ciede2000(lab_of(np.array(looks)), lab_of(rgb_of_hex(hex_colour)))
    return words[int(np.argmin(apart))]


def hex_of_name(name: str) -> str | None:
    """The colour that a word stands for first; None where it is no such word."""
    looks = _WORDS.get(" ".join(name.casefold().replace("gray", "grey").split()))
    return looks[0] if looks else None
