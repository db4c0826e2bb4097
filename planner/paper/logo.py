"""The shop's logo on its papers."""

from functools import lru_cache

from reportlab.platypus import Flowable

from planner.job.logo import artwork_of
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.blocks import Drawn
from planner.paper.pen import Area, Pen
from planner.paper.pictures import Pictures
from planner.shop.book import Logo

MOST_WIDTH, MOST_HEIGHT = 150.0, 44.0
"""Points: it introduces the shop, the offer is what is read."""


def logo_size(logo: Logo) -> tuple[float, float]:
    """Width and height in points, within what a letterhead has room for."""
    scale = min(MOST_WIDTH / logo.width_px, MOST_HEIGHT / logo.height_px)
    return logo.width_px * scale, logo.height_px * scale


def draw_logo(pen: Pen, left: float, top: float, logo: Logo) -> None:
    """The logo with its upper left corner in a place."""
    width, height = logo_size(logo)
    picture = _pictures(logo).at(artwork_of(logo), width, height)
    pen.picture(picture, Area(left, top, width, height))


def logo_block(logo: Logo) -> Flowable:
    width, height = logo_size(logo)
    return Drawn(width, height, lambda pen, area: draw_logo(pen, area.left, area.top, logo))


@lru_cache(maxsize=2)
def _pictures(logo: Logo) -> Pictures:
    return Pictures(ArtworkInks(lambda sha256: logo.data), longest_px=1200)
