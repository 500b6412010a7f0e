"""What a live page asks with, and nothing else: read strictly, because anything may knock at a port."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from sweep.scene.edits import Edit, Value

Text = Annotated[str, Field(max_length=100)]


class PageRequest(BaseModel):
    """A request of a page: how its scene differs from the file, what is done to it now.

    And the moment that it shows: which setting of the saw, pass and travel.

    What lies beside it is told by its own differences from the file.

    What was refused before is asked again with every edit: what did not go together may do so now.
    """

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")

    version: Annotated[str, Field(max_length=32)]
    units: Literal["mm", "in", "in-decimal"]
    changes: Annotated[dict[Text, Value], Field(max_length=1000)]
    name: Text = ""
    beside: Annotated[dict[Text, Value], Field(max_length=1000)] = {}
    edits: Annotated[list[Edit], Field(max_length=100)] = []
    number: Annotated[int | None, Field(alias="pass", ge=0, le=10_000)] = None
    place: Annotated[int, Field(ge=0, le=100)] = 0
    width: Annotated[float | None, Field(ge=0, le=10_000, allow_inf_nan=False)] = None
    travel: Annotated[float | None, Field(ge=-100_000, le=100_000, allow_inf_nan=False)] = None


def asked(body: bytes) -> PageRequest:
    """Return what a request's body asks for.

    Raises
    ------
    ValueError
        For a body that no page of ours sends: not JSON, nested deeper than it is, numbers out of all range.
    """
    return PageRequest.model_validate_json(body)
