"""May this go on that? A print, the cloth it goes on, and an offer's transfer held against each other.

Every answer names the rule (its kind), the value found and the value needed. What the planner ships as a
limit is common practice or, where named, a published figure; the transfer printer's own sheet and the
garment's care label always win.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.buying.limits import largest_width_mm, most_colours_at, nearest_room, takes_size
from planner.job.document import GarmentLine, Job, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import NeededPiece, pieces_of
from planner.shop.book import Press
from planner.shop.cloth import IRON_LIMIT_C, Fibre, Swatch
from planner.shop.offers import Offer, TransferKind

MIGRATION_C = 150.0
"""Above this, dye of coloured polyester may rise into the print (common practice)."""
LIGHT_FROM = 85.0
"""CIE lightness from which cloth counts as light for a print without white (from memory)."""
DARK_UNDER = 70.0
"""Lightness under which such a print is lost altogether (from memory)."""


@dataclass(frozen=True, slots=True)
class ArtTraits:
    """What of an artwork decides whether a kind of transfer can show it."""

    colours: int | None = None
    """Flat colours; None where nobody counted them."""
    photograph: bool = False
    soft_edges: bool = False


def suits(
    job: Job,
    print_: Print,
    offer: Offer,
    traits: ArtTraits | None = None,
    *,
    presses: Sequence[Press] = (),
) -> tuple[Finding, ...]:
    """What speaks against buying a print at an offer, worst first; empty where nothing does.

    STOP is a no, LOOK a warning that a person answers. `traits` None: the artwork was not measured yet
    and only cloth, sizes and press are judged. Without `presses` no platen is judged.
    """
    line = job.line(print_.line)
    pieces = pieces_of(job, print_)
    found = [
        *_cloth(line, offer),
        *_heat(line, offer),
        *_sizes(pieces, offer),
        *_count(pieces, offer),
        *_platen(pieces, presses),
        *(_art(pieces, offer, traits) if traits is not None else ()),
    ]
    order = list(Seriousness)
    about = {"artwork": print_.artwork, "print": print_.key, "line": line.key, "offer": offer.key}
    placed = [finding.model_copy(update=about) for finding in found]
    return tuple(sorted(placed, key=lambda finding: order.index(finding.seriousness)))


def lightness_of(swatch: Swatch) -> float:
    """CIE L* of a colour on screen, 0 black to 100 white. sRGB: IEC 61966-2-1; L*: ISO/CIE 11664-4."""
    red, green, blue = (_linear(channel / 255) for channel in swatch.rgb)
    luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    if luminance <= (6 / 29) ** 3:
        return luminance * (29 / 3) ** 3
    return 116 * float(luminance ** (1 / 3)) - 16


def _linear(channel: float) -> float:
    return float(channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4)


def _cloth(line: GarmentLine, offer: Offer) -> list[Finding]:
    cloth, rule = line.cloth, offer.cloth
    found = []
    spandex = cloth.percent_of(Fibre.SPANDEX)
    if spandex and not rule.stretch:
        found.append(_no(FindingKind.NEEDS_STRETCH, spandex, 0, subject=Fibre.SPANDEX))
    nylon = cloth.percent_of(Fibre.NYLON)
    if nylon and Fibre.NYLON not in rule.fibres and not rule.stretch:
        found.append(_no(FindingKind.NEEDS_STRETCH, nylon, 0, subject=Fibre.NYLON))
    polyester = cloth.percent_of(Fibre.POLYESTER)
    if polyester < rule.least_polyester_percent:
        found.append(_no(FindingKind.TOO_LITTLE_POLYESTER, polyester, rule.least_polyester_percent))
    else:
        found += _unsuited_fibres(line, offer)
    if rule.light_only:
        found += _lightness(line.colour)
    if cloth.coated and not rule.coated:
        found.append(_look(FindingKind.COATED_CLOTH))
    return found


def _unsuited_fibres(line: GarmentLine, offer: Offer) -> list[Finding]:
    """A warning for each fibre that the offer does not name; spandex and nylon have a rule of their own."""
    rule = offer.cloth
    found = []
    for share in line.cloth.fibres:
        if share.fibre in rule.fibres or share.fibre is Fibre.SPANDEX:
            continue
        if share.fibre is Fibre.NYLON and not rule.stretch:
            continue
        found.append(_look(FindingKind.FIBRE_UNSUITED, share.percent, 0, subject=share.fibre))
    return found


def _lightness(colour: Swatch) -> list[Finding]:
    lightness = round(lightness_of(colour), 1)
    if lightness >= LIGHT_FROM:
        return []
    make = _no if lightness < DARK_UNDER else _look
    return [make(FindingKind.NEEDS_LIGHT_CLOTH, lightness, LIGHT_FROM, subject=colour.name)]


def _heat(line: GarmentLine, offer: Offer) -> list[Finding]:
    found = []
    setting = offer.press.setting_c
    dots = line.cloth.iron_dots
    if dots is not None and setting > IRON_LIMIT_C[dots]:
        found.append(_no(FindingKind.OVER_IRON_DOTS, setting, IRON_LIMIT_C[dots], subject=str(dots)))
    # Sublimation is dye in polyester: migration into it is the point, and its cloth is light anyway.
    is_dyed = min(line.colour.rgb) < 245
    polyester = line.cloth.percent_of(Fibre.POLYESTER)
    if polyester and is_dyed and setting > MIGRATION_C and offer.kind is not TransferKind.SUBLIMATION:
        found.append(_look(FindingKind.DYE_MIGRATION, setting, MIGRATION_C, subject=line.colour.name))
    return found


def _sizes(pieces: Sequence[NeededPiece], offer: Offer) -> list[Finding]:
    for piece in sorted(pieces, key=lambda piece: -piece.size.area_mm2):
        if takes_size(offer, piece.size, may_turn=piece.may_turn):
            continue
        room = nearest_room(offer, piece.size, may_turn=piece.may_turn).size
        found, needed = _over(piece.size.width_mm, piece.size.height_mm, room.width_mm, room.height_mm)
        best = largest_width_mm(offer, piece.size, may_turn=piece.may_turn)
        return [_no(FindingKind.TOO_LARGE_FOR_OFFER, found, needed, best_width_mm=best)]
    return []


def _platen(pieces: Sequence[NeededPiece], presses: Sequence[Press]) -> list[Finding]:
    """A warning where no press of the shop covers the print at once; a garment may lie turned on it."""
    platens = [(press.platen_width_mm, press.platen_height_mm) for press in presses]
    for piece in sorted(pieces, key=lambda piece: -piece.size.area_mm2):
        sides = (piece.size.width_mm, piece.size.height_mm)
        missing = [_over(*sides, *platen) for platen in platens]
        if missing and all(found > needed for found, needed in missing):
            found, needed = min(missing, key=lambda pair: pair[0] - pair[1])
            return [_look(FindingKind.OVER_PLATEN, found, needed)]
    return []


def _over(width: float, height: float, room_width: float, room_height: float) -> tuple[float, float]:
    """The side that sticks out most, and the room there, in whichever position sticks out less."""

    def worst(w: float, h: float) -> tuple[float, float]:
        return max((w, room_width), (h, room_height), key=lambda pair: pair[0] - pair[1])

    return min(worst(width, height), worst(height, width), key=lambda pair: pair[0] - pair[1])


def _count(pieces: Sequence[NeededPiece], offer: Offer) -> list[Finding]:
    count = sum(piece.count for piece in pieces)
    if 0 < count < offer.least_pieces:
        return [_look(FindingKind.UNDER_LEAST_PIECES, count, offer.least_pieces)]
    return []


def _art(pieces: Sequence[NeededPiece], offer: Offer, traits: ArtTraits) -> list[Finding]:
    found = []
    limits = [most_colours_at(offer, piece.size, may_turn=piece.may_turn) for piece in pieces]
    most = min((limit for limit in limits if limit is not None), default=offer.art.most_colours)
    if most is not None:
        if traits.photograph:
            found.append(_no(FindingKind.TOO_MANY_COLOURS, None, most, subject="photograph"))
        elif traits.colours is not None and traits.colours > most:
            found.append(_no(FindingKind.TOO_MANY_COLOURS, traits.colours, most))
    if traits.soft_edges and not offer.art.soft_edges:
        found.append(_look(FindingKind.SOFT_EDGES))
    return found


def _no(
    kind: FindingKind,
    found: float | None = None,
    needed: float | None = None,
    *,
    subject: str = "",
    best_width_mm: float | None = None,
) -> Finding:
    return Finding(
        kind=kind,
        seriousness=Seriousness.STOP,
        found=found,
        needed=needed,
        subject=str(subject),
        best_width_mm=best_width_mm,
    )


def _look(
    kind: FindingKind, found: float | None = None, needed: float | None = None, *, subject: str = ""
) -> Finding:
    return Finding(kind=kind, seriousness=Seriousness.LOOK, found=found, needed=needed, subject=str(subject))
