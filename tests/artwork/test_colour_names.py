"""Everyday words for colours: each is its own nearest, and plain ones are what everybody says."""

import pytest

from planner.artwork.colour_names import _WORDS, colour_name, hex_of_name


@pytest.mark.parametrize("word", _WORDS)
def test_each_word_names_its_own_colours(word: str) -> None:
    assert {colour_name(look) for look in _WORDS[word]} == {word}
    assert hex_of_name(word) == _WORDS[word][0]


@pytest.mark.parametrize(
    ("hex_colour", "word"),
    # Keywords of CSS Color 4, 6.1, and what they are called.
    [
        ("#ffffff", "white"),
        ("#000000", "black"),
        ("#808080", "grey"),
        ("#ff0000", "red"),
        ("#008000", "green"),
        ("#0000ff", "blue"),
        ("#ffff00", "yellow"),
        ("#000080", "dark blue"),
        ("#800000", "dark red"),
        ("#ffc0cb", "pink"),
        ("#ffa500", "orange"),
        ("#800080", "purple"),
        ("#00ffff", "turquoise"),
        ("#006400", "dark green"),
        ("#d3d3d3", "light grey"),
        ("#add8e6", "light blue"),
        ("#f5f5dc", "cream"),
    ],
)
def test_known_colours_are_called_as_people_call_them(hex_colour: str, word: str) -> None:
    assert colour_name(hex_colour) == word
