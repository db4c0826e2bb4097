"""SVG artwork drawn as pixels; nothing that it refers to outside itself is ever fetched."""

from PIL import Image

from planner.artwork.source import UnreadableArtwork


def describe_svg(data: bytes, name: str) -> tuple[float, float, bool]:
    """Stated width and height in points, and whether it holds text."""
    raise UnreadableArtwork(
        f"“{name}” is an SVG drawing, which the planner does not read. Ask the customer for a PDF of it."
    )


def draw_svg(data: bytes, width: int, height: int, name: str) -> Image.Image:
    """The drawing at this size in pixels, "RGBA", ground transparent."""
    raise UnreadableArtwork(f"“{name}” is an SVG drawing. Ask the customer for a PDF of it.")
