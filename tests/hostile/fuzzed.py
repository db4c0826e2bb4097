"""Files that keep their grammar and say nonsense: what spoilt bytes seldom reach. Made by code, seeded.

Spoilt copies die at a checksum or a cross-reference. These are whole: readers go on to what they mean.
"""

import json
import random
import re
import sqlite3
import tempfile
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

from planner.storage.job_file import SUFFIX, write_job
from tests.builders import a_job
from tests.hostile.traps import pdf, stream, svg

_FIGURES = (
    "0", "-1", "1", "0.5", "-0", "1e9", "-1e9", "1e38", "1e-38", "2147483648", "-2147483649",
    "99999999999999999999", "nan", "inf", "1e400", "", "%", "1em", "100%", "#", "1.7.3", "0x10",
)  # fmt: skip
_COLOURS = (
    "red",
    "none",
    "#12",
    "rgb(1e9,0,0)",
    "url(#a)",
    "url(#none)",
    "currentColor",
    "icc-color(x)",
    "context-fill",
)
_IDS = "abcde"
_SHAPES = (
    "rect",
    "circle",
    "ellipse",
    "line",
    "path",
    "polygon",
    "text",
    "tspan",
    "image",
    "use",
    "g",
    "svg",
    "switch",
)
_HOLDERS = (
    "g",
    "defs",
    "clipPath",
    "mask",
    "pattern",
    "marker",
    "symbol",
    "linearGradient",
    "radialGradient",
    "filter",
)
_EFFECTS = (
    "feGaussianBlur", "feOffset", "feMorphology", "feTurbulence", "feConvolveMatrix", "feTile", "feFlood",
    "feImage",    "feDisplacementMap", "feMerge", "feComponentTransfer", "feDropShadow",
)  # fmt: skip


def fuzzed_svg(dice: random.Random) -> bytes:
    """A drawing of elements that refer to each other, with figures that no drawing has."""
    width, height = dice.choice(_FIGURES[:8]), dice.choice(("100", "100", *_FIGURES))
    size = f'width="{dice.choice(("100", "100", width))}" height="{height}" viewBox="{_figures(dice, 4)}"'
    if dice.random() < 0.7:
        size = 'width="100" height="100" viewBox="0 0 100 100"'
    return svg("".join(_element(dice, 0) for _ in range(dice.randrange(1, 6))), size=size)


def _element(dice: random.Random, depth: int) -> str:
    holder = depth < 4 and dice.random() < 0.4
    name = dice.choice(_HOLDERS if holder else _SHAPES)
    inner = "".join(_element(dice, depth + 1) for _ in range(dice.randrange(4))) if holder else "x"
    if name == "filter":
        inner = "".join(_tag(dice, dice.choice(_EFFECTS), "") for _ in range(dice.randrange(1, 5)))
    elif name.endswith("Gradient"):
        inner = "".join(_tag(dice, "stop", "") for _ in range(dice.randrange(4)))
    return _tag(dice, name, inner)


def _tag(dice: random.Random, name: str, inner: str) -> str:
    makers = list(_ATTRIBUTES.items())
    given = dict(dice.sample(makers, dice.randrange(2, 12)))
    if dice.random() < 0.5:
        given["id"] = _ATTRIBUTES["id"]
    told = " ".join(f'{key}="{make(dice)}"' for key, make in given.items())
    return f"<{name} {told}>{inner}</{name}>"


def _figure(dice: random.Random) -> str:
    return dice.choice(_FIGURES) if dice.random() < 0.4 else str(dice.randrange(100))


def _figures(dice: random.Random, count: int = 0) -> str:
    return " ".join(_figure(dice) for _ in range(count or dice.randrange(8)))


def _path(dice: random.Random) -> str:
    return "".join(
        f"{dice.choice('MmLlHhVvCcSsQqTtAaZz')}{_figures(dice)}" for _ in range(dice.randrange(1, 12))
    )


def _reference(dice: random.Random) -> str:
    return f"url(#{dice.choice(_IDS)})"


_ATTRIBUTES: dict[str, Callable[[random.Random], str]] = {
    **dict.fromkeys(
        ("x", "y", "width", "height", "r", "rx", "cx", "cy", "x1", "x2", "fx", "offset"), _figure
    ),
    **dict.fromkeys(("stroke-width", "opacity", "stop-opacity", "font-size", "stroke-miterlimit"), _figure),
    **dict.fromkeys(
        ("stdDeviation", "radius", "dx", "baseFrequency", "numOctaves", "order", "scale"), _figure
    ),
    **dict.fromkeys(("points", "stroke-dasharray", "kernelMatrix", "viewBox", "values"), _figures),
    **dict.fromkeys(("clip-path", "mask", "filter", "marker-mid", "marker-start"), _reference),
    **dict.fromkeys(
        ("fill", "stroke", "stop-color"), lambda dice: dice.choice((*_COLOURS, _reference(dice)))
    ),
    "id": lambda dice: dice.choice(_IDS),
    "href": lambda dice: dice.choice(
        (f"#{dice.choice(_IDS)}", "#", "data:image/png;base64,iVBORw0KGgo=", "a.png")
    ),
    "d": _path,
    "transform": lambda dice: (
        f"{dice.choice(('matrix', 'rotate', 'scale', 'skewX', 'translate'))}({_figures(dice)})"
    ),
    "patternUnits": lambda dice: dice.choice(("userSpaceOnUse", "objectBoundingBox", "odd")),
    "spreadMethod": lambda dice: dice.choice(("pad", "reflect", "repeat", "odd")),
    "style": lambda dice: f"mix-blend-mode:{dice.choice(('multiply', 'hue', 'odd'))};isolation:isolate",
}

_OPERATORS = (
    b"w J j M d ri i gs q Q cm m l c v y h re S s f F f* B b n W W* BT ET Tc Tw Tz TL Tf Tr Ts "
    b"Td TD Tm T* Tj TJ CS cs SC SCN sc scn G g RG rg K k sh BI ID EI Do MP DP BMC BDC EMC BX EX d0 d1"
).split()
_OPERANDS = (
    b"0", b"1", b"-1", b"9.5", b"50", b"1e9", b"999999999999", b"-2147483649", b"0.00001", b".", b"--5",
    b"[]", b"[0 0]", b"[1 2 3] 0", b"(x)", b"<41", b"<< /A /B >>", b"/F", b"/G", b"/P", b"/S", b"/T",
    b"/DeviceRGB", b"/Pattern", b"true", b"null",
)  # fmt: skip
_PARTS = (
    b"/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Matrix [1 0 0 1 0 0]",
    b"/Type /XObject /Subtype /Image /Width 4 /Height 4 /ColorSpace /DeviceRGB /BitsPerComponent 8",
    b"/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9",
    b"/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1]",
    b"/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1] /Size [2] /BitsPerSample 8",
    b"/ShadingType 4 /ColorSpace /DeviceRGB /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 "
    b"/Decode [0 9 0 9 0 1]",
)
_DICTIONARIES = (
    b"<< /PatternType 2 /Shading 9 0 R >>",
    b"<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [0 0 99 99] /Function 8 0 R /Extend [true true] >>",
    b"<< /ShadingType 3 /ColorSpace 7 0 R /Coords [0 0 9 9 9 99] /Function 8 0 R >>",
    b"<< /FunctionType 2 /Domain [0 1] /N 1 /C0 [0 0 0] /C1 [1 1 1] >>",
    b"<< /FunctionType 3 /Domain [0 1] /Functions [8 0 R 8 0 R] /Bounds [0.5] /Encode [0 1 0 1] >>",
    b"<< /Type /ExtGState /ca 0.5 /BM /Multiply /SMask << /S /Luminosity /G 5 0 R >> >>",
    b"<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [1 0 0 1 0 0] /CharProcs << /a 5 0 R >> "
    b"/Encoding << /Differences [97 /a] >> /FirstChar 97 /LastChar 97 /Widths [9] >>",
    b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
    b"[/Indexed /DeviceRGB 255 (abc)]",
    b"[/Separation /Spot /DeviceRGB 8 0 R]",
    b"[/ICCBased 5 0 R]",
    b"[/DeviceN [/A /B /C] /DeviceCMYK 8 0 R]",
)
_RESOURCES = (
    b"/Resources << /XObject << /F 5 0 R /G 6 0 R >> /Pattern << /P 7 0 R >> /Shading << /S 9 0 R >> "
    b"/Font << /T 10 0 R >> /ExtGState << /G 11 0 R >> /ColorSpace << /S 7 0 R >> >>"
)


def fuzzed_pdf(dice: random.Random) -> bytes:
    """A whole PDF of parts that refer to each other at random, some of their figures replaced."""
    parts = []
    for _ in range(7):
        if dice.random() < 0.6:
            extra = dice.choice(_PARTS) + (b" " + _RESOURCES if dice.random() < 0.5 else b"")
            parts.append(stream(_operators(dice), _with_other_figures(dice, extra)))
        else:
            parts.append(_with_other_figures(dice, dice.choice(_DICTIONARIES)))
    page = _RESOURCES + dice.choice(
        (b"", b" /Rotate 90", b" /Rotate -1", b" /CropBox [9 9 5 200]", b" /UserUnit 1e9")
    )
    return pdf(_operators(dice), page=page, objects=parts)


def _operators(dice: random.Random) -> bytes:
    words: list[bytes] = []
    for _ in range(dice.randrange(1, 30)):
        words += [dice.choice(_OPERANDS) for _ in range(dice.randrange(7))]
        words.append(dice.choice(_OPERATORS))
    return b" ".join(words)


def _with_other_figures(dice: random.Random, text: bytes) -> bytes:
    """Some figures and references replaced by others."""

    def other(found: re.Match[bytes]) -> bytes:
        if dice.random() < 0.85:
            return found[0]
        if found[0].endswith(b"R"):
            return b"%d 0 R" % dice.randrange(13)
        return dice.choice((b"0", b"-1", b"65536", b"2147483647", b"1e9", b"/X", b"null", b"[]"))

    return re.sub(rb"\d+ 0 R|\b\d+\b", other, text)


EVIL: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    10**18,
    1e308,
    -1e-300,
    "",
    "\0",
    "NaN",
    "1e999999999",
    "9" * 5000,
    "9999-12-31",
    [],
    {},
    "\ud800",
)


def fuzzed_json(text: str, dice: random.Random) -> str:
    """The document with a few of its parts exchanged, doubled, lost or replaced."""
    document = json.loads(text)
    for _ in range(dice.choice((1, 1, 2, 5))):
        holder, key = dice.choice(_places(document))
        other_holder, other_key = dice.choice(_places(document))
        manner = dice.random()
        if manner < 0.4:
            holder[key] = dice.choice(EVIL)
        elif manner < 0.7:
            holder[key] = json.loads(json.dumps(other_holder[other_key]))
        elif manner < 0.85:
            del holder[key]
        elif isinstance(holder, list):
            holder += [holder[key]] * dice.choice((1, 3, 2000))
        else:
            holder[f"{key}x"] = holder[key]
    made = json.dumps(document)
    return made[: dice.randrange(len(made))] if dice.random() < 0.05 else made


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every part of a document as its holder and its key there."""
    inner: Sequence[Any] = (
        list(value) if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    )
    return [(value, key) for key in inner] + [place for key in inner for place in _places(value[key])]


def fuzzed_job(dice: random.Random) -> bytes:
    """A whole job file whose document is nonsense: SQLite and digests find nothing wrong with it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"fuzzed{SUFFIX}"
        job, artworks = a_job()
        write_job(path, job, artworks)
        with closing(sqlite3.connect(path)) as file:
            file.execute("DELETE FROM remark")
            text = fuzzed_json(job.model_dump_json(), dice)
            file.execute(
                "UPDATE document SET json = ?",
                (text.encode("utf-8", "surrogatepass").decode("utf-8", "replace"),),
            )
            file.commit()
        return path.read_bytes()


FUZZED: dict[str, Callable[[random.Random], bytes]] = {
    ".svg": fuzzed_svg,
    ".pdf": fuzzed_pdf,
    SUFFIX: fuzzed_job,
}
"""Makers by the ending of what they make."""
