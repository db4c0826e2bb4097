"""The shop's logo on its papers: decoded by the one that decodes artwork, shown whole."""

import hashlib
import io
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from planner.artwork.decoding import InProcess
from planner.artwork.read import UnreadableArtwork
from planner.job.document import Artwork
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.registry import PAPERS
from planner.shop.book import Logo
from planner.shop.document import changed
from tests.paper.scenes import HeldInks, choir_papers, logo, photograph

MAGENTA = (255, 0, 255)


class Counting(InProcess):
    """Keeps the names of what it decoded."""

    def __init__(self) -> None:
        self.decoded: list[str] = []

    def printed(self, data: bytes, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        self.decoded.append(artwork.name)
        return super().printed(data, artwork, size_px)


class DecodedLogo(HeldInks):
    """The choir's pictures as they are held, the logo by a decoder."""

    def __init__(self, decoder: InProcess) -> None:
        super().__init__({"logo": logo(), "photo": photograph()})
        self._files = ArtworkInks({}.__getitem__, decoder)

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        return self._files.picture_of_file(data, artwork, size_px)


def with_logo(data: bytes, decoder: InProcess) -> Papers:
    papers = choir_papers()
    sign = Logo(
        name="sign.png",
        sha256=hashlib.sha256(data).hexdigest(),
        media="image/png",
        width_px=300,
        height_px=80,
        data=data,
    )
    shop = changed(papers.shop, letterhead=changed(papers.shop.letterhead, logo=sign))
    return replace(papers, shop=shop, pictures=Pictures(DecodedLogo(decoder)))


def a_sign() -> bytes:
    buffer = io.BytesIO()
    Image.new("RGB", (300, 80), MAGENTA).save(buffer, "PNG")
    return buffer.getvalue()


@pytest.mark.parametrize("paper", ["quote", "proof"])
def test_the_logo_is_decoded_once_by_the_artwork_s_decoder_and_shown(paper: str) -> None:
    decoder = Counting()
    pdf = PAPERS[paper](with_logo(a_sign(), decoder))
    assert decoder.decoded == ["sign.png"]
    seen = np.asarray(pypdfium2.PdfDocument(pdf)[0].render(scale=1).to_pil().convert("RGB")).astype(int)
    shown = (np.abs(seen - MAGENTA) < 12).all(axis=2)
    # 150 × 40 points: as wide as a letterhead has room for.
    assert abs(shown.sum() - 150 * 40) < 400


def test_a_logo_that_cannot_be_read_says_so() -> None:
    with pytest.raises(UnreadableArtwork, match=r"sign\.png"):
        PAPERS["quote"](with_logo(a_sign()[:60], InProcess()))
