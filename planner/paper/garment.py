"""Pictures of garments with the artwork in place, true to scale, with the measures a person needs."""

import math
from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.pathobject import PDFPathObject

from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.pieces import print_size
from planner.measures.lengths import LengthUnit
from planner.paper import style
from planner.paper.outlines import Half, Outline, outline_of, spot_of
from planner.paper.pen import Area, Pen
from planner.paper.pictures import Pictures
from planner.plan import wording
from planner.plan.wording_press import to_the_side
from planner.pressing.card import Edge
from planner.pressing.placement import place
from planner.shop.garments import GarmentKind, Location

BACK = (Location.FULL_BACK, Location.NAPE)


@dataclass(frozen=True, slots=True)
class GarmentPrint:
    """One print as it sits on a garment."""

    artwork: Artwork
    location: Location
    width_mm: float
    height_mm: float
    top_mm: float
    """From the mark to the print's nearer edge."""
    aside_mm: float
    """Of the print's centre from the centre line, towards the wearer's left."""
    measured_from: str

    @property
    def on_back(self) -> bool:
        return self.location in BACK


@dataclass(frozen=True, slots=True)
class GarmentPicture:
    """A garment in one size with its prints; it holds nothing that a customer must not see."""

    kind: GarmentKind
    colour_hex: str
    prints: tuple[GarmentPrint, ...]
    body_width_mm: float | None = None
    body_length_mm: float | None = None

    @property
    def sides(self) -> tuple[bool, ...]:
        """Which sides carry prints, front (False) first; the front alone where there are none."""
        return tuple(sorted({print_.on_back for print_ in self.prints})) or (False,)


@dataclass(frozen=True, slots=True)
class _Frame:
    """From millimetres on the garment to points on the page."""

    centre_x: float
    origin_y: float
    scale: float
    stretch_x: float
    stretch_y: float

    def point(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Where a point of the garment's outline is."""
        return (
            self.centre_x + x_mm * self.stretch_x * self.scale,
            self.origin_y - y_mm * self.stretch_y * self.scale,
        )


@dataclass(frozen=True, slots=True)
class _Placed:
    """A print on the page: its centre, size and clockwise turn, and the point it is measured from."""

    x: float
    y: float
    width: float
    height: float
    turned_deg: float
    mark_x: float
    mark_y: float

    @property
    def area(self) -> Area:
        return Area(self.x - self.width / 2, self.y + self.height / 2, self.width, self.height)


def shown_size(line: GarmentLine) -> SizeCount | None:
    """The size a picture shows: the one ordered most."""
    return max(line.sizes, key=lambda size: size.count, default=None)


def garment_picture(job: Job, line: GarmentLine, prints: tuple[Print, ...] | None = None) -> GarmentPicture:
    """A line's garment with its prints, or with some of them, in the size ordered most."""
    size = shown_size(line)
    on_it = []
    for print_ in job.prints_on(line.key) if prints is None else prints:
        artwork = job.artwork(print_.artwork)
        printed = print_size(artwork, print_.width_for(size.group) if size else print_.width_mm)
        placed = place(print_, size.group, line.kind) if size else None
        on_it.append(
            GarmentPrint(
                artwork,
                print_.location,
                printed.width_mm,
                printed.height_mm,
                placed.top_mm if placed else print_.top_mm or 0,
                placed.aside_mm if placed else print_.aside_mm or 0,
                _measured(placed.measured_from, placed.measured_to) if placed else "",
            )
        )
    return GarmentPicture(
        line.kind,
        line.colour.hex,
        tuple(on_it),
        size.body_width_mm if size else None,
        size.body_length_mm if size else None,
    )


def _measured(mark: str, edge: Edge) -> str:
    return f"above {mark}" if edge is Edge.BOTTOM else f"below {mark}"


def draw_garment(
    pen: Pen,
    area: Area,
    garment: GarmentPicture,
    pictures: Pictures,
    *,
    back: bool = False,
    measures: LengthUnit | None = None,
) -> None:
    """One side of a garment, as large as the area allows; `measures` adds dimensions in that unit."""
    outline = outline_of(garment.kind)
    room = area if measures is None else Area(area.left, area.top - 16, area.width - 84, area.height - 34)
    frame = _frame(room, garment, outline)
    _draw_outline(pen, frame, outline, HexColor(garment.colour_hex), back=back)
    for print_ in garment.prints:
        if print_.on_back is back:
            placed = _placed(frame, outline, print_)
            pen.picture(
                pictures.at(print_.artwork, placed.width, placed.height),
                placed.area,
                turned_deg=placed.turned_deg,
            )
            if measures is not None:
                _draw_measures(pen, area, room, frame, outline, print_, placed, measures)


def _frame(room: Area, garment: GarmentPicture, outline: Outline) -> _Frame:
    stretch_x = (garment.body_width_mm or outline.width_mm) / outline.width_mm
    stretch_y = (garment.body_length_mm or outline.length_mm) / outline.length_mm
    width_mm = 2 * outline.reach_mm * stretch_x
    height_mm = (outline.top_mm + outline.length_mm + outline.beyond_mm) * stretch_y
    scale = min(room.width / width_mm, room.height / height_mm)
    top = room.top - (room.height - height_mm * scale) / 2
    return _Frame(
        room.left + room.width / 2, top - outline.top_mm * stretch_y * scale, scale, stretch_x, stretch_y
    )


def _placed(frame: _Frame, outline: Outline, print_: GarmentPrint) -> _Placed:
    spot = spot_of(outline, print_.location)
    mark_x, mark_y = frame.point(spot.x_mm, spot.y_mm)
    # On the back the wearer's left is the viewer's left.
    aside = print_.aside_mm * (-1 if print_.on_back else 1)
    along = print_.top_mm + print_.height_mm / 2
    if not spot.from_below:
        along = -along
    turn = math.radians(spot.up_deg)
    right, up = (math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn))
    return _Placed(
        mark_x + (aside * right[0] + along * up[0]) * frame.scale,
        mark_y + (aside * right[1] + along * up[1]) * frame.scale,
        print_.width_mm * frame.scale,
        print_.height_mm * frame.scale,
        spot.up_deg,
        mark_x,
        mark_y,
    )


def _is_dark(colour: Color) -> bool:
    red, green, blue = colour.rgb()
    return bool(0.2126 * red + 0.7152 * green + 0.0722 * blue < 0.35)


def _draw_outline(pen: Pen, frame: _Frame, outline: Outline, colour: Color, *, back: bool) -> None:
    canvas = pen.canvas
    line_colour = style.shade(colour, style.WHITE, 0.4) if _is_dark(colour) else style.GREY
    canvas.saveState()
    canvas.setLineJoin(1)
    canvas.setLineCap(1)
    canvas.setFillColor(colour)
    canvas.setStrokeColor(style.BLACK)
    canvas.setLineWidth(0.8)
    path = canvas.beginPath()
    _add_closed(path, frame, outline.back if back else outline.front)
    canvas.drawPath(path, stroke=1, fill=1)
    canvas.setStrokeColor(line_colour)
    canvas.setLineWidth(0.5)
    for half in (*outline.right_lines, *(() if back else outline.front_lines)):
        for side in (1, -1):
            seam = canvas.beginPath()
            _add_open(seam, frame, half, side)
            canvas.drawPath(seam, stroke=1, fill=0)
    canvas.restoreState()


def _add_open(path: PDFPathObject, frame: _Frame, half: Half, side: int) -> None:
    (x, y), parts = half
    path.moveTo(*frame.point(side * x, y))
    for kind, *figures in parts:
        points = [frame.point(side * figures[at], figures[at + 1]) for at in range(0, len(figures), 2)]
        if kind == "l":
            path.lineTo(*points[0])
        else:
            path.curveTo(*points[0], *points[1], *points[2])


def _add_closed(path: PDFPathObject, frame: _Frame, half: Half) -> None:
    """The right half downwards, then its mirror image back up."""
    _add_open(path, frame, half, 1)
    starts = [half[0]]
    for _, *figures in half[1][:-1]:
        starts.append((figures[-2], figures[-1]))
    for start, (kind, *figures) in zip(reversed(starts), reversed(half[1]), strict=True):
        end = frame.point(-start[0], start[1])
        if kind == "l":
            path.lineTo(*end)
        else:
            path.curveTo(*frame.point(-figures[2], figures[3]), *frame.point(-figures[0], figures[1]), *end)
    path.close()


def _draw_measures(
    pen: Pen,
    area: Area,
    room: Area,
    frame: _Frame,
    outline: Outline,
    print_: GarmentPrint,
    placed: _Placed,
    unit: LengthUnit,
) -> None:
    """Dimension lines: distance from the mark at the right, offset above, print size below."""
    spot = spot_of(outline, print_.location)
    edge_y = placed.y - placed.height / 2 if spot.from_below else placed.y + placed.height / 2
    column = room.right + 4
    if spot.up_deg:
        mark_y = edge_y = placed.y
    else:
        mark_y = placed.mark_y
        for y in (mark_y, edge_y):
            pen.line(placed.mark_x, y, column + 3, y, width=0.4, colour=style.GREY, dash=(2, 2))
        pen.arrow(column, mark_y, column, edge_y)
    text = Area(column + 8, max(mark_y, edge_y) + 3, area.right - column - 8, 80)
    if abs(mark_y - edge_y) > 30:
        text = Area(text.left, (mark_y + edge_y) / 2 + 16, text.width, 80)
    used = pen.paragraph(text, wording.length(print_.top_mm, unit), style.LEAD_STRONG)
    used += pen.paragraph(text.below(used), print_.measured_from, style.TEXT)
    if spot.up_deg:
        size = wording.size(print_.width_mm, print_.height_mm, unit)
        pen.paragraph(text.below(used + 6), size, style.STRONG_TEXT)
    else:
        _draw_size(pen, room, print_, placed, unit)
        _draw_offset(pen, room, print_, placed, unit)


def _draw_size(pen: Pen, room: Area, print_: GarmentPrint, placed: _Placed, unit: LengthUnit) -> None:
    level = room.bottom - 6
    for x in (placed.area.left, placed.area.right):
        pen.line(x, placed.area.bottom, x, level - 3, width=0.4, colour=style.GREY, dash=(2, 2))
    pen.arrow(placed.area.left, level, placed.area.right, level)
    pen.text(
        placed.x,
        level - 11,
        f"{wording.size(print_.width_mm, print_.height_mm, unit)}",
        style.BODY,
        strong=True,
        align="centre",
    )


def _draw_offset(pen: Pen, room: Area, print_: GarmentPrint, placed: _Placed, unit: LengthUnit) -> None:
    level = room.top + 4
    pen.line(
        placed.mark_x, level, placed.mark_x, room.bottom, width=0.4, colour=style.GREY, dash=(6, 2, 1, 2)
    )
    if not print_.aside_mm:
        return
    pen.line(placed.x, placed.area.top, placed.x, level, width=0.4, colour=style.GREY, dash=(2, 2))
    pen.arrow(placed.mark_x, level, placed.x, level)
    text = to_the_side(print_.aside_mm, unit)
    pen.text((placed.mark_x + placed.x) / 2, level + 4, text, style.BODY, strong=True, align="centre")
