"""The shop's logo on its papers."""

from reportlab.platypus import Flowable

from planner.job.logo import artwork_of
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


def draw_logo(pen: Pen, left: float, top: float, logo: Logo, pictures: Pictures) -> None:
    """The logo with its upper left corner in a place, decoded by whoever decodes the job's artwork."""
    width, height = logo_size(logo)
    picture = pictures.at(artwork_of(logo), width, height, logo.data)
    pen.picture(picture, Area(left, top, width, height))


def logo_block(logo: Logo, pictures: Pictures) -> Flowable:
    width, height = logo_size(logo)
    return Drawn(width, height, lambda pen, area: draw_logo(pen, area.left, area.top, logo, pictures))
