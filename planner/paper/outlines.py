"""Flat outlines of garments in millimetres, drawn for the planner: own shapes, adult sizes, true to scale.

The origin is on the centre line, level with the shoulder seam at the collar (with the bag's opening, the
waistband); x runs to the
viewer's right, y down. A half outline runs from the middle of the top to the middle of the bottom on the
right; its mirror image closes it. A part is ("l", x, y) or ("c", x1, y1, x2, y2, x, y).
"""

from dataclasses import dataclass, field

from planner.shop.garments import GarmentKind, Location

Part = tuple[str, *tuple[float, ...]]
Half = tuple[tuple[float, float], tuple[Part, ...]]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where prints of a location are measured from, and which way is up there."""

    x_mm: float
    y_mm: float
    up_deg: float = 0
    """Clockwise turn of the print's upright."""
    from_below: bool = False
    """Measured upwards from a hem to the print's lower edge."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A garment laid flat."""

    front: Half
    back: Half
    width_mm: float
    """Body width, armpit to armpit (or side to side)."""
    length_mm: float
    top_mm: float
    """How far the drawing reaches above the origin."""
    reach_mm: float
    """Half of the drawing's whole width."""
    beyond_mm: float = 8
    """How far the drawing reaches below the length."""
    spots: dict[Location, Spot] = field(default_factory=dict)
    right_lines: tuple[Half, ...] = ()
    """Seams, drawn on both sides."""
    front_lines: tuple[Half, ...] = ()
    """Lines on the front alone, drawn on both sides."""


def _half(x: float, y: float, *parts: Part) -> Half:
    return (x, y), parts


_TEE_BODY: tuple[Part, ...] = (
    ("l", 232, 46),
    ("c", 262, 62, 286, 84, 306, 112),
    ("l", 378, 212),
    ("l", 306, 266),
    ("l", 262, 214),
    ("c", 256, 380, 256, 560, 259, 728),
    ("c", 170, 736, 80, 738, 0, 738),
)
_TEE_SPOTS = {
    Location.FULL_FRONT: Spot(0, 89),
    Location.LEFT_CHEST: Spot(0, 0),
    Location.FULL_BACK: Spot(0, 26),
    Location.NAPE: Spot(0, 26),
    Location.LEFT_SLEEVE: Spot(342, 239, -36, from_below=True),
    Location.RIGHT_SLEEVE: Spot(-342, 239, 36, from_below=True),
    Location.OTHER: Spot(0, 89),
}
_ARM_SEAM = _half(232, 46, ("c", 246, 100, 256, 150, 262, 214))
_NECK = _half(0, 108, ("c", 52, 108, 96, 72, 106, 12))
_T_SHIRT = Outline(
    front=_half(0, 89, ("c", 44, 89, 78, 58, 88, 0), *_TEE_BODY),
    back=_half(0, 26, ("c", 44, 26, 72, 16, 88, 0), *_TEE_BODY),
    width_mm=520,
    length_mm=738,
    top_mm=6,
    reach_mm=380,
    spots=_TEE_SPOTS,
    right_lines=(_ARM_SEAM, _half(0, 718, ("l", 259, 708))),
    front_lines=(_NECK,),
)

_LONG_BODY: tuple[Part, ...] = (
    ("l", 228, 44),
    ("c", 268, 64, 290, 110, 304, 170),
    ("l", 408, 604),
    ("l", 336, 622),
    ("l", 262, 262),
    ("c", 256, 400, 256, 560, 259, 726),
    ("c", 170, 736, 80, 738, 0, 738),
)
_LONG_SPOTS = {
    **_TEE_SPOTS,
    Location.LEFT_SLEEVE: Spot(372, 613, -14, from_below=True),
    Location.RIGHT_SLEEVE: Spot(-372, 613, 14, from_below=True),
}
_LONG_SEAMS = (
    _half(228, 44, ("c", 244, 110, 256, 190, 262, 262)),
    _half(330, 590, ("l", 401, 573)),
    _half(0, 718, ("l", 259, 706)),
)
_LONG_SLEEVE = Outline(
    front=_half(0, 89, ("c", 44, 89, 78, 58, 88, 0), *_LONG_BODY),
    back=_half(0, 26, ("c", 44, 26, 72, 16, 88, 0), *_LONG_BODY),
    width_mm=520,
    length_mm=738,
    top_mm=6,
    reach_mm=410,
    spots=_LONG_SPOTS,
    right_lines=_LONG_SEAMS,
    front_lines=(_NECK,),
)

_SWEAT_BODY: tuple[Part, ...] = (
    ("l", 240, 50),
    ("c", 284, 74, 308, 120, 322, 180),
    ("l", 428, 560),
    ("l", 420, 628),
    ("l", 352, 640),
    ("l", 338, 582),
    ("l", 278, 276),
    ("c", 272, 400, 274, 540, 278, 640),
    ("l", 262, 706),
    ("c", 170, 712, 80, 713, 0, 713),
)
_SWEAT_SPOTS = {
    **_TEE_SPOTS,
    Location.LEFT_SLEEVE: Spot(383, 571, -15, from_below=True),
    Location.RIGHT_SLEEVE: Spot(-383, 571, 15, from_below=True),
}
_SWEAT_SEAMS = (
    _half(240, 50, ("c", 258, 120, 272, 200, 278, 276)),
    _half(338, 582, ("l", 428, 560)),
    _half(0, 648, ("l", 278, 640)),
)
_SWEATSHIRT = Outline(
    front=_half(0, 89, ("c", 44, 89, 78, 58, 90, 0), *_SWEAT_BODY),
    back=_half(0, 26, ("c", 44, 26, 72, 16, 90, 0), *_SWEAT_BODY),
    width_mm=556,
    length_mm=713,
    top_mm=6,
    reach_mm=430,
    spots={**_SWEAT_SPOTS, Location.FULL_FRONT: Spot(0, 89), Location.OTHER: Spot(0, 89)},
    right_lines=_SWEAT_SEAMS,
    front_lines=(_half(0, 114, ("c", 56, 114, 104, 76, 114, 14)),),
)

_HOOD: tuple[Part, ...] = (
    ("c", 70, -196, 126, -150, 128, -70),
    ("c", 130, -36, 124, -8, 118, 8),
)
_HOOD_FRONT_LINES = (
    _half(0, -150, ("c", 52, -150, 86, -110, 88, -56), ("c", 88, 4, 48, 62, 0, 89)),
    _half(118, 8, ("c", 96, 50, 52, 88, 0, 104)),
    _half(34, 84, ("l", 40, 220)),
)
_POUCH = _half(0, 452, ("l", 118, 452), ("l", 176, 560), ("l", 176, 640), ("l", 0, 646))
_HOODIE = Outline(
    front=_half(0, -196, *_HOOD, *_SWEAT_BODY),
    back=_half(0, -196, *_HOOD, *_SWEAT_BODY),
    width_mm=556,
    length_mm=713,
    top_mm=200,
    reach_mm=430,
    spots={
        **_SWEAT_SPOTS,
        Location.FULL_FRONT: Spot(0, 89),
        Location.FULL_BACK: Spot(0, 40),
        Location.NAPE: Spot(0, 40),
        Location.OTHER: Spot(0, 89),
    },
    right_lines=_SWEAT_SEAMS,
    front_lines=(*_HOOD_FRONT_LINES, _POUCH),
)
_ZIP_HOODIE = Outline(
    front=_HOODIE.front,
    back=_HOODIE.back,
    width_mm=556,
    length_mm=713,
    top_mm=200,
    reach_mm=430,
    spots=_HOODIE.spots,
    right_lines=_SWEAT_SEAMS,
    front_lines=(*_HOOD_FRONT_LINES, _POUCH, _half(3, 104, ("l", 3, 713))),
)
_POLO = Outline(
    front=_half(0, 58, ("c", 30, 58, 66, 30, 88, 0), *_TEE_BODY),
    back=_T_SHIRT.back,
    width_mm=520,
    length_mm=738,
    top_mm=14,
    reach_mm=380,
    spots={**_TEE_SPOTS, Location.FULL_FRONT: Spot(0, 89)},
    right_lines=_T_SHIRT.right_lines,
    front_lines=(
        _half(0, 62, ("l", 62, 104), ("l", 108, 34), ("l", 88, 0)),
        _half(0, 210, ("l", 16, 210), ("l", 16, 74)),
    ),
)
_TOTE = Outline(
    front=_half(0, 0, ("l", 190, 0), ("l", 194, 400), ("c", 194, 412, 190, 416, 180, 416), ("l", 0, 416)),
    back=_half(0, 0, ("l", 190, 0), ("l", 194, 400), ("c", 194, 412, 190, 416, 180, 416), ("l", 0, 416)),
    width_mm=384,
    length_mm=416,
    top_mm=262,
    reach_mm=200,
    spots={
        place: Spot(0, 0)
        for place in (Location.TOTE_FRONT, Location.FULL_FRONT, Location.FULL_BACK, Location.OTHER)
    },
    right_lines=(
        _half(0, -256, ("c", 70, -256, 92, -196, 100, 0)),
        _half(0, -230, ("c", 52, -230, 66, -180, 74, 0)),
        _half(0, 24, ("l", 190, 24)),
    ),
)
_CAP = Outline(
    front=_half(
        0,
        -6,
        ("c", 62, -6, 96, 48, 98, 118),
        ("c", 132, 132, 138, 160, 122, 176),
        ("c", 84, 150, 40, 146, 0, 146),
    ),
    back=_half(0, -6, ("c", 62, -6, 96, 48, 98, 118), ("c", 60, 124, 30, 126, 0, 126)),
    width_mm=196,
    length_mm=130,
    top_mm=14,
    reach_mm=140,
    beyond_mm=46,
    spots={
        place: Spot(0, 122, from_below=True)
        for place in (Location.CAP_FRONT, Location.FULL_FRONT, Location.OTHER)
    },
    right_lines=(),
    front_lines=(
        _half(0, 122, ("c", 40, 122, 76, 120, 98, 118)),
        _half(0, -6, ("c", 34, 10, 54, 60, 60, 120)),
    ),
)
_LEGGINGS = Outline(
    front=_half(
        0,
        0,
        ("l", 150, 0),
        ("c", 176, 90, 196, 180, 194, 280),
        ("c", 186, 520, 154, 720, 136, 930),
        ("l", 64, 930),
        ("c", 62, 720, 40, 480, 6, 300),
        ("l", 0, 296),
    ),
    back=_half(
        0,
        0,
        ("l", 150, 0),
        ("c", 176, 90, 196, 180, 194, 280),
        ("c", 186, 520, 154, 720, 136, 930),
        ("l", 64, 930),
        ("c", 62, 720, 40, 480, 6, 300),
        ("l", 0, 296),
    ),
    width_mm=300,
    length_mm=930,
    top_mm=6,
    reach_mm=196,
    spots={Location.LEG: Spot(118, 160), Location.OTHER: Spot(118, 160), Location.FULL_BACK: Spot(0, 30)},
    right_lines=(_half(0, 60, ("l", 166, 54)),),
)
_APRON = Outline(
    front=_half(
        0,
        0,
        ("l", 140, 0),
        ("c", 150, 110, 210, 190, 330, 230),
        ("l", 330, 820),
        ("l", 0, 820),
    ),
    back=_half(0, 0, ("l", 140, 0), ("c", 150, 110, 210, 190, 330, 230), ("l", 330, 820), ("l", 0, 820)),
    width_mm=660,
    length_mm=820,
    top_mm=170,
    reach_mm=330,
    spots={place: Spot(0, 0) for place in (Location.FULL_FRONT, Location.LEFT_CHEST, Location.OTHER)},
    right_lines=(_half(0, -164, ("c", 76, -164, 110, -90, 124, 0)), _half(0, 22, ("l", 143, 22))),
)
_CLOTH = Outline(
    front=_half(0, 0, ("l", 260, 0), ("l", 260, 640), ("l", 0, 640)),
    back=_half(0, 0, ("l", 260, 0), ("l", 260, 640), ("l", 0, 640)),
    width_mm=520,
    length_mm=640,
    top_mm=6,
    reach_mm=264,
    spots={Location.OTHER: Spot(0, 0)},
)

OUTLINES = {
    GarmentKind.T_SHIRT: _T_SHIRT,
    GarmentKind.HOODIE: _HOODIE,
    GarmentKind.ZIP_HOODIE: _ZIP_HOODIE,
    GarmentKind.SWEATSHIRT: _SWEATSHIRT,
    GarmentKind.LONG_SLEEVE: _LONG_SLEEVE,
    GarmentKind.POLO: _POLO,
    GarmentKind.TOTE: _TOTE,
    GarmentKind.CAP: _CAP,
    GarmentKind.LEGGINGS: _LEGGINGS,
    GarmentKind.APRON: _APRON,
    GarmentKind.OTHER: _CLOTH,
}


def outline_of(kind: GarmentKind) -> Outline:
    return OUTLINES[kind]


def spot_of(outline: Outline, location: Location) -> Spot:
    """Where prints of a location are measured from; a location this garment lacks counts as another place."""
    return outline.spots.get(location) or outline.spots[Location.OTHER]
