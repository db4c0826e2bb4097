"""The packet as one call, for those who hold a job, a shop book and a plan."""

from planner.job.document import Job
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.registry import packet
from planner.plan.model import Plan
from planner.shop.book import Shop


def packet_pdf(job: Job, shop: Shop, plan: Plan, pictures: Pictures) -> bytes:
    """The bundle of papers of a job as PDF bytes; the same job gives the same bytes."""
    return packet(Papers(job, shop, plan, pictures))
