"""Files made to do harm: spoilt copies of our samples, and traps made by hand; made by code, seeded.

`python -m tests.hostile.corpus DIR [--each N] [--seed S]` writes a folder for `tests.bench.hostile`.
"""

import argparse
import base64
import gzip
import random
import sys
import tempfile
import zipfile
import zlib
from collections.abc import Iterator, Sequence
from functools import lru_cache
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw

from planner.shop.starting import starting_shop
from planner.storage.job_file import SUFFIX, write_job
from planner.storage.shop_book import FILE_NAME, save_shop_book
from tests.builders import a_job
from tests.hostile import traps
from tests.hostile.fuzzed import FUZZED

_HEIC = (
    "0000SW^{RQXk}?*00000ZE0pPXk}?*ZE0a<0004fZDn*}000000000XXk=`10000000000aA{+700000000000000000000B"
    "57=IV*mgE07O6l0RRC200001p#T8@000000077U001LtX>Mi!000000RR916=`l}WdZ;I000310BCk&F#rGn01j|zbZr0t00"
    "0010002}X>f9I0002pX>en20001XXm(>m0RwOV0058x000009`FGC{rLC*01pFT0096PKmiN^|NjGU00093kN^M!000939=Z"
    "ZRVE_RDDnbDP18@KU0|1Z!00RI30{|YNAb|yz>g1-mxCm%4AOHXZ10VnZ0{|gn00967L;=Bbz=;3=025<xY;ta6Y<K_x01W^"
    "JfB*mh6lrsCWdHyG00000KmY&$KmY&$C}V74Z~y=RFaQ7m0RR91AOHXW0ssI1@Bjb+0{{R2-~a#s0ssI25O8UDX#fBK00RgJ"
    "2mk;87-?{AVE_OC000000RRC7fdT^sga7~l&~0R4bN~PV#3%u;8GyvJkonT4c2Ai=BV1vt%%(gX3q4iq5*$<n{Y<kei@z-Xj"
    "C##pdh(QZc4dR?1Mh@}Am`)3&JzZ9+!dNu3oH5=2%8Cb5qC=>3BQfY%)9Ufvw92yn@A<4$HGdvhzYwLksv)RqEZwQR7z1BvW"
    "5{Um0P^z<{*Sn6$$_(FMw0-I$}i)-F*VN7gk9_Mk-nkchWj^tUijOVYBm%`SF1-XVe;Z<E$WJM;#Al)`ft$Sbz_s)(*IQe$N"
    "q1U;"
)
"""48 × 32 pixels of our own drawing, encoded once: no library at hand writes HEIC."""


def picture(width: int = 96, height: int = 64) -> Image.Image:
    made = Image.new("RGBA", (width, height), (0, 0, 0, 0))
    draw = ImageDraw.Draw(made)
    draw.ellipse((4, 4, width - 5, height - 5), fill=(20, 60, 140, 255))
    draw.rectangle((width // 3, height // 3, width // 2, height // 2), fill=(240, 200, 40, 128))
    return made


@lru_cache
def samples() -> dict[str, bytes]:
    """One small, good file of every kind that the planner reads, by name."""
    rgba = picture()
    made = {
        "logo.png": _encoded(rgba, "PNG"),
        "palette.png": _encoded(rgba.convert("P"), "PNG"),
        "photo.jpg": _encoded(rgba.convert("RGB"), "JPEG", progressive=True),
        "ink.jpg": _encoded(rgba.convert("CMYK"), "JPEG"),
        "scan.tif": _encoded(rgba, "TIFF", compression="tiff_lzw"),
        "fax.tif": _encoded(rgba.convert("1"), "TIFF", compression="group4"),
        "deep.tif": _encoded(rgba.convert("L").convert("I;16"), "TIFF"),
        "web.webp": _encoded(rgba, "WEBP", lossless=True),
        "turning.gif": _encoded(
            rgba.convert("P"),
            "GIF",
            save_all=True,
            append_images=[rgba.rotate(a).convert("P") for a in (9, 18)],
        ),
        "plain.bmp": _encoded(rgba.convert("RGB"), "BMP"),
        "phone.heic": base64.b85decode(_HEIC),
        "drawing.svg": traps.svg('<g id="a"><circle cx="50" cy="50" r="40" fill="#224488"/></g>'),
        "drawing.pdf": traps.pdf(b"0.2 0.4 0.6 rg 10 10 80 60 re f"),
    }
    if "AVIF" in Image.SAVE:
        made["new.avif"] = _encoded(rgba, "AVIF")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"spring{SUFFIX}"
        write_job(path, *a_job())
        made[path.name] = path.read_bytes()
        save_shop_book(starting_shop(), Path(folder))
        made[FILE_NAME] = (Path(folder) / FILE_NAME).read_bytes()
    return made


def spoilt(data: bytes, dice: random.Random) -> bytes:
    """The bytes with a few of them changed, cut, repeated or lost."""
    made = bytearray(data)
    manner = dice.random()
    # Headers steer readers: half of all changes go there.
    most = len(made) if dice.random() < 0.5 else min(len(made), 256)
    if manner < 0.5:
        for _ in range(dice.choice((1, 1, 2, 8, 64))):
            made[dice.randrange(most)] = dice.choice((0, 1, 0x7F, 0x80, 0xFF, dice.randrange(256)))
    elif manner < 0.6:
        for _ in range(dice.choice((1, 3))):
            made[dice.randrange(most)] ^= 1 << dice.randrange(8)
    elif manner < 0.75:
        del made[dice.randrange(len(made)) :]
    elif manner < 0.85:
        start = dice.randrange(most)
        del made[start : start + dice.choice((1, 2, 4, 100))]
    else:
        start = dice.randrange(most)
        piece = bytes(made[start : start + dice.choice((4, 16, 200))])
        made[start:start] = piece * dice.choice((1, 3, 50))
    return bytes(made)


def corpus(each: int, seed: int) -> Iterator[tuple[str, bytes]]:
    """All samples, `each` spoilt copies of every one, four times as many fuzzed files of each kind, traps."""
    dice = random.Random(seed)
    for name, data in samples().items():
        stem, dot, suffix = name.rpartition(".")
        yield name, data
        for turn in range(each):
            yield f"{stem}-{turn:04}{dot}{suffix}", spoilt(data, dice)
    for kind, fuzzed in FUZZED.items():
        for turn in range(4 * each):
            yield f"fuzzed-{turn:04}{kind}", fuzzed(dice)
    yield from traps.traps().items()
    yield from traps.heavy_traps().items()
    yield "packed.zip", _nested_zip(4)
    yield "drawing.svgz", gzip.compress(bytes(20_000_000))


def _nested_zip(depth: int) -> bytes:
    inner = zlib.compress(bytes(10_000_000))
    for _ in range(depth):
        buffer = BytesIO()
        with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as packed:
            for number in range(10):
                packed.writestr(f"{number}.zip", inner)
        inner = buffer.getvalue()
    return inner


def _encoded(made: Image.Image, format_name: str, **options: object) -> bytes:
    buffer = BytesIO()
    made.save(buffer, format_name, **options)
    return buffer.getvalue()


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Write files made to do harm into a folder.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--each", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    wanted.folder.mkdir(parents=True, exist_ok=True)
    for name, data in corpus(wanted.each, wanted.seed):
        (wanted.folder / name).write_bytes(data)
    return 0


if __name__ == "__main__":
    sys.exit(main())
