"""Messages between the program and its reader of artwork: a length, a JSON header, raw bytes.

Nothing here runs what it receives: a reader that was taken over by a hostile file can lie, and no more.
"""

import json
import struct
from typing import Any, BinaryIO

MOST_HEADER_BYTES = 32 * 2**20
MOST_BODY_BYTES = 2**30
_LENGTHS = struct.Struct(">IQ")

Message = tuple[dict[str, Any], bytes]


class BadMessage(Exception):
    """What arrived is no message of ours."""


def send(pipe: BinaryIO, header: dict[str, Any], body: bytes = b"") -> None:
    """Write one message.

    Raises:
        OSError: nobody listens any more.
    """
    head = json.dumps(header).encode()
    pipe.write(_LENGTHS.pack(len(head), len(body)))
    pipe.write(head)
    pipe.write(body)
    pipe.flush()


def receive(pipe: BinaryIO) -> Message | None:
    """The next message, or None where the other side is gone.

    Raises:
        BadMessage: too long, or no JSON object.
    """
    lengths = pipe.read(_LENGTHS.size)
    if len(lengths) < _LENGTHS.size:
        return None
    head_bytes, body_bytes = _LENGTHS.unpack(lengths)
    if head_bytes > MOST_HEADER_BYTES or body_bytes > MOST_BODY_BYTES:
        raise BadMessage(f"{head_bytes} and {body_bytes} bytes")
    head = pipe.read(head_bytes)
    body = pipe.read(body_bytes) if body_bytes else b""
    if len(head) < head_bytes or len(body) < body_bytes:
        return None
    try:
        header = json.loads(head)
    except (ValueError, RecursionError) as error:
        raise BadMessage("no JSON") from error
    if not isinstance(header, dict):
        raise BadMessage("no object")
    return header, body
