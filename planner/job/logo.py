"""The shop's logo as artwork, so that it is decoded and drawn the way artwork is."""

from planner.job.document import Artwork
from planner.shop.book import Logo


def artwork_of(logo: Logo) -> Artwork:
    """The logo without any fixes; its bytes stay with the logo."""
    return Artwork(
        key="logo",
        name=logo.name,
        sha256=logo.sha256,
        media=logo.media,
        width_px=logo.width_px,
        height_px=logo.height_px,
        vector=logo.vector,
    )
