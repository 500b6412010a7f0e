"""A screen of a phone at the saw: one step of the work with its figure, its words, its cautions and its picture."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from sweep.check.flag import Flag
from sweep.show.say.cautions import Caution
from sweep.units import Shown

Kind = Literal["read", "pace", "set", "cut", "barred", "look"]
"""What is done before a screen: read and do, try the feed, set the blade, cut, not cut as it is set, measure."""

Banner = Literal["bench", "out", "turns", "guarded"]

BANNERS: dict[Banner, str] = {
    "bench": "At the bench",
    "out": "Plug out, in your sight",
    "turns": "The blade turns",
    "guarded": "Guard and riving knife on",
}
"""What stands over a screen: where the maker is, and what holds for the plug."""

View = Literal[
    "stock",
    "lies",
    "block",
    "height",
    "fence",
    "strips",
    "guards",
    "pass",
    "wood",
    "finishing",
    "pieces",
    "mitred",
    "kept",
]
"""What a picture shows; a pass before it is cut, and the wood after it."""


@dataclass(frozen=True)
class ScreenPicture:
    """A picture of a screen.

    Parameters
    ----------
    view : View
    place : int
        Of which set-up, from 0.
    number : int
        Of the pass or of the operation after the cove; 0 where there is none.
    """

    view: View
    place: int = 0
    number: int = 0


@dataclass(frozen=True)
class Big:
    """A figure to be read at arm's length, and what it is."""

    shown: Shown
    note: str


@dataclass(frozen=True)
class Pace:
    """A pace at which the feed is practised.

    Parameters
    ----------
    words : str
        Of which passes, how fast, how long.
    seconds : float
        That a blank takes.
    """

    words: str
    seconds: float


@dataclass(frozen=True)
class Measure:
    """What is measured after a pass, and what it should be.

    Parameters
    ----------
    number : int
        The pass.
    width, depth : Shown
        Of the cove at the table, and of its deepest place.
    flat : Shown or None
        What is left flat on the fence's side; None where nothing is.
    """

    number: int
    width: Shown
    depth: Shown
    flat: Shown | None


@dataclass(frozen=True, eq=False)
class Screen:
    """One step of the work as a phone shows it.

    Parameters
    ----------
    key : str
        By which its tick is kept: ``"pass-3-cut"``, with the set-up before it where there are several.
    kind : Kind
    title : str
    banner : Banner
    words : tuple of str
        Paragraphs.
    big : tuple of Big
        What is set or read, the first of them largest.
    flags : tuple of Flag
    cautions : tuple of Caution
    picture : ScreenPicture or None
    paces : tuple of Pace
        To practise the feed; the blade is below the table and the saw unplugged.
    count : int
        How many blanks are counted off once the cut is done; 0 where nobody knows, and nobody counts elsewhere.
    measure : Measure or None
    tick : str
        What a tick to hear is offered as; empty where none is.
    setup : int
        Which of the set-ups it is of, from 1, as the scene counts them.
    """

    key: str
    kind: Kind
    title: str
    banner: Banner
    words: tuple[str, ...]
    big: tuple[Big, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    picture: ScreenPicture | None = None
    paces: tuple[Pace, ...] = ()
    count: int = 0
    measure: Measure | None = None
    tick: str = ""
    setup: int = 1

    def of_setup(self, place: int, number: int) -> Screen:
        """Return the screen as that of one of several settings of the saw, from 0, and of the set-up of a number."""
        return replace(
            self,
            key=f"set-up-{place + 1}-{self.key}",
            title=f"Set-up {number}, {self.title[0].lower()}{self.title[1:]}",
            picture=None if self.picture is None else replace(self.picture, place=place),
            setup=number,
        )
