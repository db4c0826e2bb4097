"""Effects in drawings: a shadow passes, a drawing made of them is refused before it is drawn."""

import pytest

from planner.artwork.decoding import InProcess
from planner.artwork.read import UnreadableArtwork
from tests.hostile.traps import heavy_traps, svg


@pytest.mark.parametrize("name", ["blur.svg", "turbulence.svg"])
def test_effects_out_of_proportion_are_refused_with_a_sentence(name: str) -> None:
    with pytest.raises(UnreadableArtwork, match=r"more blurs, shadows or textures.*PNG"):
        InProcess().imported(heavy_traps()[name], name)


def test_many_effects_on_a_large_drawing_are_refused_and_on_a_small_one_drawn() -> None:
    shadows = '<filter id="f"><feGaussianBlur stdDeviation="1"/></filter>' + (
        '<circle cx="50" cy="50" r="9" filter="url(#f)"/>' * 12
    )
    small = svg(shadows, size='width="20" height="20" viewBox="0 0 100 100"')
    large = svg(shadows, size='width="3000" height="3000" viewBox="0 0 100 100"')
    assert InProcess().imported(small, "stars.svg").vector
    with pytest.raises(UnreadableArtwork, match="more blurs"):
        InProcess().imported(large, "stars.svg")


def test_a_usual_shadow_passes() -> None:
    shadow = (
        '<filter id="s" x="-20%" y="-20%" width="140%" height="140%"><feGaussianBlur stdDeviation="2"/>'
        '</filter><rect style="filter: url(#s)" width="50" height="50"/>'
    )
    assert InProcess().imported(svg(shadow), "card.svg").vector
