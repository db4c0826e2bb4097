"""Where artwork most likely goes on a garment: by what its file is called, and by what is still free."""

import re

from planner.job.document import GarmentLine, Job
from planner.shop.garments import GarmentKind, Location
from planner.window.artwork import words

_SLEEVES = (Location.LEFT_SLEEVE, Location.RIGHT_SLEEVE)
_USUAL = (Location.FULL_FRONT, Location.FULL_BACK, *_SLEEVES)
_USUAL_BY_KIND = {
    GarmentKind.TOTE: (Location.TOTE_FRONT,),
    GarmentKind.CAP: (Location.CAP_FRONT,),
    GarmentKind.LEGGINGS: (Location.LEG,),
    GarmentKind.APRON: (Location.FULL_FRONT,),
}
_ON_REQUEST = {GarmentKind.APRON: (Location.LEFT_CHEST,), GarmentKind.OTHER: tuple(Location)}
"""Places that a garment has, but that only a name speaks for."""
_SHIRT_ON_REQUEST = (Location.LEFT_CHEST, Location.NAPE)
_WITHIN = {Location.LEFT_CHEST: Location.FULL_FRONT, Location.NAPE: Location.FULL_BACK}
"""What lies in the way of what."""
_WORD = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])")


def named_places(name: str) -> tuple[Location, ...]:
    """The places that a file's name speaks of, the likeliest first; none for most files."""
    spoken = {word.casefold() for word in _WORD.findall(name.rpartition(".")[0] or name)}
    spoken |= {word.removesuffix("s") for word in spoken}
    places: dict[Location, None] = {}
    for location, names in words.PLACES_IN_NAMES.items():
        if spoken & names:
            places |= dict.fromkeys(_SLEEVES if location in _SLEEVES else (location,))
    found = tuple(places)
    return tuple(reversed(found)) if found == _SLEEVES and spoken & words.RIGHT_IN_NAMES else found


def likely_location(job: Job, line: GarmentLine, artwork_name: str) -> Location:
    """Where the next print on a line goes; `OTHER` rather than a place that has a print already."""
    usual = _USUAL_BY_KIND.get(line.kind, _USUAL)
    on_request = _ON_REQUEST.get(line.kind, () if line.kind in _USUAL_BY_KIND else _SHIRT_ON_REQUEST)
    taken = {print_.location for print_ in job.prints_on(line.key)}
    in_the_way = taken | {_WITHIN[place] for place in taken & _WITHIN.keys()}
    named = [place for place in named_places(artwork_name) if place in (*usual, *on_request)]
    free = (
        *(place for place in named if place not in taken),
        *(place for place in usual if place not in in_the_way),
    )
    return next(iter(free), Location.OTHER)
