"""Opening what a command works on: a job with its artwork measured, and the shop book."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from planner.artwork.decoding import Decoder
from planner.artwork.read import UnreadableArtwork
from planner.commands.parsing import Trouble
from planner.job.document import Job
from planner.measures.figures import write_for
from planner.plan.make_plan import make_plan
from planner.plan.model import Plan
from planner.plan.ordering import Facts, arrange_job
from planner.shop.book import Shop
from planner.shop.kept_prices import at_prices
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import read_job
from planner.storage.shop_book import open_shop_book

ROUNDS = 8
"""Search rounds without a window: by count and not by time, so that every machine gives one answer."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A job ready to be told or put on paper; sheets that nobody arranged yet are arranged."""

    job: Job
    artworks: Mapping[str, bytes]
    shop: Shop
    facts: Facts
    plan: Plan


def opened_shop() -> Shop:
    """The user's shop book; figures and days are written as in its region from then on.

    Raises:
        Trouble: it cannot be read.
    """
    try:
        shop = open_shop_book()
    except DocumentFileError as error:
        raise Trouble(str(error)) from error
    write_for(shop.region)
    return shop


def opened_job(path: Path, decoder: Decoder) -> Opened:
    """The job in a file with its plan of today; `decoder` reads its artwork.

    Raises:
        Trouble: the file or an artwork in it cannot be read.
    """
    shop = opened_shop()
    try:
        file = read_job(path)
        facts = {
            artwork.key: decoder.measured(file.artworks[artwork.sha256], artwork)
            for artwork in file.job.artworks
        }
    except (DocumentFileError, UnreadableArtwork) as error:
        raise Trouble(str(error)) from error
    return planned(file.job, file.artworks, shop, facts)


def planned(job: Job, artworks: Mapping[str, bytes], shop: Shop, facts: Facts) -> Opened:
    """The job arranged where it is not, and its plan of today."""
    today, shop = date.today(), at_prices(shop, job.prices)
    plan = make_plan(job, shop, facts=facts, today=today)
    if plan.provisional:
        job = arrange_job(job, shop, facts=facts, rounds=ROUNDS)
        plan = make_plan(job, shop, facts=facts, today=today)
    return Opened(job, artworks, shop, facts, plan)
