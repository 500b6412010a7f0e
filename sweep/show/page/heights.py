"""The heights of passes as a table that is typed into."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.scene.pass_edits import feeds_of, step_as, step_in
from sweep.scene.places import value_at
from sweep.scene.shop import with_shop
from sweep.show.page.fields import Field, Standing
from sweep.show.page.passes_made import PassesMade


@dataclass(frozen=True)
class HeightRow:
    """One pass: its number, its height as a field, its rise in words, its feed as a field.

    A height is dragged by `step`, counted in `unit`, in which it is written.
    """

    number: int
    field: Field
    rise: str
    feed: Field
    step: float
    unit: str


@dataclass(frozen=True)
class Heights:
    """The heights of the passes of one set-up.

    Parameters
    ----------
    path : str
        Of the list.
    rows : tuple of HeightRow
        None of them where the passes are not written.
    own_feeds : bool
        Whether each pass has a feed of its own.
    told : str
        Heights of passes that cannot be written, for those of a rip right through are planned.
    """

    path: str
    rows: tuple[HeightRow, ...]
    own_feeds: bool
    told: str

    @property
    def fields(self) -> tuple[Field, ...]:
        """All heights."""
        return tuple(field for row in self.rows for field in (row.field, row.feed))


def heights_at(path: str, standing: Standing, made: PassesMade) -> Heights:
    """Return the heights of the passes at a path, and their rises where the picture shows them."""
    rows = []
    passes = value_at(standing.data, path) or {}
    heights = passes.get("heights") or []
    feeds = feeds_of(passes) if heights else []
    step = step_in(with_shop(standing.data, standing.shop)) if heights else None
    for number, height in enumerate(heights):
        rise = made.rises[number] if number < len(made.rises) else ""
        feed = feeds[number] if number < len(feeds) else ""
        rows.append(
            HeightRow(
                number + 1,
                _field(f"{path}.heights.{number}", f"height of pass {number + 1}", height, standing),
                rise,
                _field(f"{path}.feeds.{number}", f"feed of pass {number + 1}", feed, standing),
                *step_as(step, height),
            )
        )
    return Heights(f"{path}.heights", tuple(rows), "feeds" in passes, ", ".join(made.heights))


def _field(path: str, label: str, value: Any, standing: Standing) -> Field:
    typed, sentence = standing.refused.get(path, (None, ""))
    return Field(path, label, "", "text", str(value) if typed is None else typed, "", refused=sentence)
