"""The heights of passes as a table that is typed into."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.scene.places import value_at
from sweep.show.page.fields import Field, Standing
from sweep.show.page.passes_made import PassesMade


@dataclass(frozen=True)
class Row:
    """One pass: its number, its height as a field, its rise in words."""

    number: int
    field: Field
    rise: str


@dataclass(frozen=True)
class Heights:
    """The heights of the passes of one set-up.

    Parameters
    ----------
    path : str
        Of the list.
    rows : tuple of Row
        None where the passes are not written.
    told : str
        Heights of passes that cannot be written, for those of a rip right through are planned.
    """

    path: str
    rows: tuple[Row, ...]
    told: str

    @property
    def fields(self) -> tuple[Field, ...]:
        """All heights."""
        return tuple(row.field for row in self.rows)


def heights_at(path: str, standing: Standing, made: PassesMade) -> Heights:
    """Return the heights of the passes at a path, and their rises where the picture shows them."""
    rows = []
    for number, height in enumerate(value_at(standing.data, f"{path}.heights") or []):
        at = f"{path}.heights.{number}"
        typed, sentence = standing.refused.get(at, (None, ""))
        label = f"height of pass {number + 1}"
        field = Field(at, label, "", "text", str(height) if typed is None else typed, "", refused=sentence)
        rows.append(Row(number + 1, field, made.rises[number] if number < len(made.rises) else ""))
    return Heights(f"{path}.heights", tuple(rows), ", ".join(made.heights))
