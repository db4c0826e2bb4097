"""The base of all documents: frozen, nothing unknown, changed only through validation."""

from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict


class Document(BaseModel):
    """A frozen value; hold tuples inside, for a list in a frozen model could still change."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, use_attribute_docstrings=True)


D = TypeVar("D", bound=Document)


def changed(document: D, **fields: Any) -> D:
    """A copy with some fields replaced, validated anew (pydantic's `model_copy` does not validate)."""
    return type(document).model_validate({**dict(document), **fields})
