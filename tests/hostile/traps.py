"""Artwork made by hand to crash, hang or fill up a reader, or to make it fetch something."""

import struct
import zlib
from collections.abc import Sequence
from functools import lru_cache
from io import BytesIO

from PIL import Image

ELSEWHERE = "http://127.0.0.1:9/fetched"
"""Nobody listens there; the tests that look for a fetch use a port of their own."""


def svg(body: str, *, head: str = "", size: str = 'width="100" height="100" viewBox="0 0 100 100"') -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"{head}<svg {names} {size}>{body}</svg>".encode()


def pdf(
    content: bytes, *, page: bytes = b"", objects: Sequence[bytes] = (), box: bytes = b"0 0 100 80"
) -> bytes:
    """A PDF of one page; `objects` get the numbers from 5 on."""
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [%s] /Contents 4 0 R %s >>" % (box, page),
        stream(content),
        *objects,
    ]
    made, offsets = bytearray(b"%PDF-1.7\n"), []
    for number, part in enumerate(parts, 1):
        offsets.append(len(made))
        made += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    start = len(made)
    made += b"xref\n0 %d\n0000000000 65535 f \n" % (len(parts) + 1)
    made += b"".join(b"%010d 00000 n \n" % offset for offset in offsets)
    return bytes(
        made + b"trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF" % (len(parts) + 1, start)
    )


def stream(data: bytes, extra: bytes = b"") -> bytes:
    return b"<< /Length %d %s >>\nstream\n%s\nendstream" % (len(data), extra, data)


def png(
    width: int, height: int, data: bytes, *chunks: tuple[bytes, bytes], depth: int = 8, kind: int = 6
) -> bytes:
    """A PNG of any header with any (deflated) data, its checksums right."""
    header = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, 0)
    parts = [(b"IHDR", header), *chunks, (b"IDAT", data), (b"IEND", b"")]
    made = b"\x89PNG\r\n\x1a\n"
    for name, body in parts:
        made += struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    return made


@lru_cache
def deflated_nothing(megabytes: int) -> bytes:
    """Zeros that inflate to so many megabytes."""
    squeeze = zlib.compressobj(9)
    block = bytes(1_000_000)
    return b"".join(squeeze.compress(block) for _ in range(megabytes)) + squeeze.flush()


@lru_cache
def traps() -> dict[str, bytes]:
    """Those that are told apart in a moment, by file name."""
    return {**_picture_traps(), **_svg_traps(), **_pdf_traps()}


@lru_cache
def heavy_traps() -> dict[str, bytes]:
    """Those that are within every limit and still a lot of work."""
    side = 12_000
    rows = deflated_nothing(side * (side + 1) // 1_000_000 + 1)
    return {
        "wide-but-allowed.png": png(side, side, rows, kind=0),
        "many-points.svg": svg(f'<path d="M0 0 {"L 9 9 L 1 50 " * 300_000}" fill="red"/>'),
        "markers.svg": svg(
            "<marker id='m'>" + "<rect width='9' height='9'/>" * 400 + "</marker>"
            f'<path marker-mid="url(#m)" d="M0 0{"h.01" * 5000}"/>'
        ),
        "to-and-fro.svg": svg(f'<path d="M0 0 {"L 9 90 L 1 2 " * 20_000}" stroke="red"/>'),
        "polyline.svg": svg(f'<polyline points="{"0,0 9,90 " * 20_000}"/>'),
        "many-points.pdf": pdf(b"0 0 m " + b"90 70 l 1 2 l " * 300_000 + b"f"),
        "many-points-drawn.pdf": pdf(b"0 0 m " + b"90 70 l 1 2 l " * 300_000 + b"S"),
        "blur.svg": svg(
            '<filter id="f" x="-50" y="-50" width="200" height="200"><feGaussianBlur stdDeviation="500"/>'
            "</filter>" + '<g filter="url(#f)">' * 12 + '<circle r="50"/>' + "</g>" * 12,
            size='width="1000" height="1000" viewBox="0 0 100 100"',
        ),
        "turbulence.svg": svg(
            '<filter id="f"><feTurbulence baseFrequency="0.9" numOctaves="200000"/></filter>'
            '<rect width="100" height="100" filter="url(#f)"/>'
        ),
        "scans.jpg": _many_scans(1500),
        "slim.svg": svg("<rect width='1' height='1'/>", size='width="1000000" height="0.2"'),
        "patterns.svg": svg(_nested_patterns(9)),
    }


def _picture_traps() -> dict[str, bytes]:
    little = zlib.compress(bytes(4 * 8 * 9))
    text = b"Comment\0\0" + deflated_nothing(120)
    profile = b"icc\0\0" + deflated_nothing(120)
    return {
        "giant.png": png(100_000, 100_000, little),
        "largest.png": png(2**31 - 1, 2**31 - 1, little),
        "zero.png": png(0, 0, little),
        "promises-more.png": png(4000, 4000, little),
        "inflates.png": png(8, 8, deflated_nothing(120)),
        "text.png": png(8, 8, little, (b"zTXt", text)),
        "texts.png": png(8, 8, little, *((b"zTXt", b"Comment\0\0" + deflated_nothing(1)),) * 500),
        "profile.png": png(8, 8, little, (b"iCCP", profile)),
        "depth.png": png(8, 8, little, depth=255),
        "frames.gif": _many_frames("GIF", 3000),
        "frames.png": _many_frames("PNG", 400),
        "frames.webp": _many_frames("WEBP", 400),
        "screen.gif": b"GIF89a\xff\xff\xff\xff\x80\x00\x00"
        + bytes(6)
        + b",\0\0\0\0\xff\xff\xff\xff\0\x02\x02\x4c\x01\0;",
        "giant.bmp": b"BM"
        + struct.pack("<IHHIIiiHHIIiiII", 54, 0, 0, 54, 40, 2**30, 2**30, 1, 24, 0, 0, 0, 0, 0, 0),
        "negative.bmp": b"BM"
        + struct.pack("<IHHIIiiHHIIiiII", 54, 0, 0, 54, 40, -5, -(2**31), 1, 24, 0, 0, 0, 0, 0, 0),
        "giant.jpg": _jpeg_stating(65_500, 65_500),
        "loop.tif": _tiff(
            [(256, 4, 1, 8), (257, 4, 1, 8), (258, 3, 1, 8), (273, 4, 1, 8), (279, 4, 1, 64)], after=8
        ),
        "strips.tif": _tiff(
            [(256, 4, 1, 8), (257, 4, 1, 8), (273, 4, 2**31, 8), (279, 4, 2**31, 8), (278, 4, 1, 1)]
        ),
        "giant.tif": _tiff(
            [(256, 4, 1, 2**31), (257, 4, 1, 2**31), (258, 3, 1, 8), (273, 4, 1, 8), (279, 4, 1, 8)]
        ),
        "tag.tif": _tiff([(256, 4, 1, 8), (257, 4, 1, 8), (34675, 7, 2**32 - 1, 8), (700, 1, 2**32 - 1, 0)]),
        "giant.webp": b"RIFF"
        + struct.pack("<I", 22)
        + b"WEBPVP8X"
        + struct.pack("<I", 10)
        + b"\x10\0\0\0"
        + b"\xff" * 6,
        "nothing.heic": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0\0\0\x08meta" * 500,
    }


def _svg_traps() -> dict[str, bytes]:
    laughs = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    uses = "".join(f'<g id="u{n}">{f"""<use xlink:href="#u{n - 1}"/>""" * 10}</g>' for n in range(1, 10))
    entity = '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
    return {
        "laughs.svg": svg("<text>&l9;</text>", head=f'<!DOCTYPE svg [<!ENTITY l0 "ha">{laughs}]>'),
        "quadratic.svg": svg(
            "<text>" + "&x;" * 50_000 + "</text>", head=f'<!DOCTYPE svg [<!ENTITY x "{"a" * 50_000}">]>'
        ),
        "file-entity.svg": svg("<text>&x;</text>", head=entity),
        "net-entity.svg": svg(
            "<g/>", head=f'<!DOCTYPE svg SYSTEM "{ELSEWHERE}.dtd" [<!ENTITY % p SYSTEM "{ELSEWHERE}"> %p;]>'
        ),
        "uses.svg": svg(
            f'<defs><g id="u0"><rect width="9" height="9"/></g>{uses}</defs><use xlink:href="#u9"/>'
        ),
        "use-loop.svg": svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'),
        "file-image.svg": svg(
            '<image href="file:///etc/passwd" width="9" height="9"/><image xlink:href="/etc/hostname"/>'
        ),
        "net-image.svg": svg(f'<image href="{ELSEWHERE}.png" width="90" height="90"/>'),
        "style.svg": svg(
            f'<style>@import url("{ELSEWHERE}.css"); rect {{ fill: url({ELSEWHERE}#g) }}</style>'
            '<rect width="9" height="9"/>'
        ),
        "script.svg": svg("<script>while (true) {}</script><foreignObject><p/></foreignObject>"),
        "deep.svg": svg("<g>" * 20_000 + "</g>" * 20_000),
        "huge.svg": svg("<rect/>", size='width="1e9" height="1e9"'),
        "endless.svg": svg("<rect/>", size='width="1e400" height="nan" viewBox="0 0 inf 0"'),
        "dashes.svg": svg('<path d="M0 0 H 1e9" stroke="red" stroke-width="1" stroke-dasharray="0.001"/>'),
        "matrix.svg": svg('<rect width="1e38" height="1e38" transform="scale(1e38)"/>'),
        "mask-loop.svg": svg(
            '<mask id="m"><rect mask="url(#m)" width="9" height="9"/></mask>'
            '<rect mask="url(#m)" width="9" height="9"/>'
        ),
        "inner.svg": svg('<image width="9" height="9" href="data:image/svg+xml;base64,PHN2Zy8+"/>'),
        "bad-image.svg": svg('<image width="9" height="9" href="data:image/png;base64,iVBORw0KGgo="/>'),
        "far.svg": svg('<circle r="99999999999999999999"/>'),  # The renderer panics.
        "wide.svg": svg("<rect/>").decode().encode("utf-16"),
    }


def _pdf_traps() -> dict[str, bytes]:
    nested = b"0 0 9 9 re f"
    for _ in range(40):
        nested = zlib.compress(nested)
    filters = b"/Filter [%s]" % (b"/FlateDecode " * 40)
    form = _form(5)
    bomb = stream(deflated_nothing(260), b"/Filter /FlateDecode")
    image = (
        b"/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceRGB /BitsPerComponent 8 "
        b"/Filter /FlateDecode"
    )
    use = b"/Resources << /XObject << /F 5 0 R >> >>"
    good = pdf(b"0 0 9 9 re f")
    return {
        "filters.pdf": pdf(b"/F Do", page=use, objects=[stream(nested, filters + form)]),
        "form-loop.pdf": pdf(b"/F Do", page=use, objects=[stream(b"/F Do /F Do", form)]),
        "form-laughs.pdf": pdf(
            b"/F Do",
            page=use,
            objects=[stream(b"/F Do " * 10, _form(number + 1)) for number in range(5, 14)]
            + [stream(b"0 0 9 9 re f", _form(5))],
        ),
        "inflates.pdf": pdf(b"", page=b"", objects=[bomb]).replace(b"/Contents 4 0 R", b"/Contents 5 0 R"),
        "big-image.pdf": pdf(
            b"90 0 0 70 5 5 cm /F Do",
            page=use,
            objects=[stream(deflated_nothing(30), image % (60_000, 60_000))],
        ),
        "image.pdf": pdf(
            b"90 0 0 70 5 5 cm /F Do", page=use, objects=[stream(b"no deflate", image % (9, 9))]
        ),
        "large-page.pdf": pdf(b"0 0 9 9 re f", box=b"0 0 14400000 14400000"),
        "no-page.pdf": pdf(b"0 0 9 9 re f", box=b"0 0 0 0"),
        "odd-page.pdf": pdf(b"0 0 9 9 re f", box=b"nan /x (y) -5"),
        "tree-loop.pdf": good.replace(b"/Kids [3 0 R] /Count 1", b"/Kids [2 0 R] /Count 9"),
        "many-pages.pdf": good.replace(b"/Count 1", b"/Count 999999999"),
        "xref.pdf": good.replace(b"startxref\n", b"startxref\n9"),
        "prev-loop.pdf": good.replace(b"/Root 1 0 R", b"/Root 1 0 R /Prev 9"),
        "action.pdf": good.replace(
            b"/Type /Catalog", b"/Type /Catalog /OpenAction << /S /URI /URI (%s) >>" % ELSEWHERE.encode()
        ),
        "script.pdf": good.replace(
            b"/Type /Catalog", b"/Type /Catalog /OpenAction << /S /JavaScript /JS (while(1);) >>"
        ),
        "outside.pdf": pdf(
            b"/F Do", page=use, objects=[b"<< /Length 0 /F (/etc/passwd) %s >>\nstream\n\nendstream" % form]
        ),
        "states.pdf": pdf(b"q " * 500_000),
        "text.pdf": pdf(b"BT /None 1e9 Tf (x) Tj ET " * 1000),
        "type4.pdf": pdf(
            b"/S sh",
            page=b"/Resources << /Shading << /S 5 0 R >> >>",
            objects=[
                b"<< /ShadingType 1 /ColorSpace /DeviceGray /Function 6 0 R /Domain [0 1e9 0 1e9] >>",
                stream(
                    b"{ " + b"{ " * 5000 + b"} " * 5000 + b"}",
                    b"/FunctionType 4 /Domain [0 1 0 1] /Range [0 1]",
                ),
            ],
        ),
        "dashes.pdf": pdf(b"[0.0001] 0 d 0 0 m 1000000 1000000 l S"),
    }


def _form(draws: int) -> bytes:
    """Entries of a form that calls object `draws` by the name /F."""
    return (
        b"/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /XObject << /F %d 0 R >> >>" % draws
    )


def _nested_patterns(depth: int) -> str:
    made = ""
    for level in range(depth):
        fill = "red" if level == 0 else f"url(#p{level - 1})"
        made += (
            f'<pattern id="p{level}" width="1" height="1" patternUnits="userSpaceOnUse">'
            f'<rect width="90" height="90" fill="{fill}"/></pattern>'
        )
    return f'<defs>{made}</defs><rect width="100" height="100" fill="url(#p{depth - 1})"/>'


def _many_frames(format_name: str, count: int) -> bytes:
    frames = [Image.new("RGB", (16, 16), (n % 256, n // 256, 90)) for n in range(count)]
    buffer = BytesIO()
    frames[0].save(buffer, format_name, save_all=True, append_images=frames[1:])
    return buffer.getvalue()


def _jpeg(**options: object) -> bytes:
    buffer = BytesIO()
    Image.new("RGB", (64, 64), "red").save(buffer, "JPEG", **options)
    return buffer.getvalue()


def _jpeg_stating(width: int, height: int) -> bytes:
    """A JPEG whose frame header (ITU-T T.81, B.2.2) states another size than it holds."""
    made = bytearray(_jpeg())
    at = made.index(b"\xff\xc0")
    made[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(made)


def _many_scans(count: int) -> bytes:
    """A progressive JPEG that refines the same picture over and over."""
    made = bytearray(_jpeg(progressive=True))
    at = made.index(b"\xff\xc2")
    made[at + 5 : at + 9] = struct.pack(">HH", 4000, 4000)
    first = made.index(b"\xff\xda")
    last = made.rindex(b"\xff\xda")
    scan = made[last:-2]
    return bytes(made[:first] + made[first:-2] + scan * count + b"\xff\xd9")


def _tiff(tags: Sequence[tuple[int, int, int, int]], after: int = 0) -> bytes:
    """A little-endian TIFF 6.0 of one directory with these tags, and where the next one should be."""
    made = b"II*\0" + struct.pack("<IH", 8, len(tags))
    made += b"".join(struct.pack("<HHII", *tag) for tag in tags)
    return made + struct.pack("<I", after) + bytes(64)
