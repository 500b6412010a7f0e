"""What is said of a whole folder of profiles, in few words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Row
from sweep.show.say.table import Column, Table


@dataclass(frozen=True)
class Summary:
    """A folder of profiles, counted.

    Parameters
    ----------
    profiles : int
    within, beyond : int
        Those that the best blade cuts within tolerance, and those that it does not.
    flagged : int
        Those whose best set-up is flagged.
    without : tuple of (str, str)
        Profiles without any figure, each with its reason.
    blades : tuple of (str, int)
        How many profiles each blade, on its saw, is the best for, the one of most first.
    same, by_set_up : int
        Profiles that are another one's same, and those that a set-up of the drawer makes.
    """

    profiles: int
    within: int
    beyond: int
    flagged: int
    without: tuple[tuple[str, str], ...]
    blades: tuple[tuple[str, int], ...]
    same: int
    by_set_up: int

    @property
    def is_well(self) -> bool:
        """Whether every profile can be cut within tolerance and nothing is flagged."""
        return self.within == self.profiles and not self.flagged


def summary_of(answers: Iterable[Answer], alike: Iterable[Alike]) -> Summary:
    """Return the counts."""
    without: list[tuple[str, str]] = []
    blades: Counter[str] = Counter()
    profiles = within = beyond = flagged = 0
    for answer in answers:
        best = answer.best
        profiles += 1
        within += best.within_tolerance is True
        beyond += best.within_tolerance is False
        flagged += bool(best.flags) or (best.rank is not None and best.flags is None)
        if best.rank is None:
            without.append((answer.profile, best.reason))
        else:
            blades[blade_and_saw(best)] += 1
    pairs = list(alike)
    return Summary(
        profiles,
        within,
        beyond,
        flagged,
        tuple(without),
        tuple(sorted(blades.items(), key=lambda pair: (-pair[1], pair[0]))),
        len({one.other for one in pairs if one.how == "same"}),
        len({one.profile for one in pairs if one.how == "set-up"}),
    )


def blade_and_saw(row: Row) -> str:
    """Return which blade, and on which saw where that has a name."""
    return f"{row.blade}, on {row.saw}" if row.saw and row.blade else row.blade


def blades_table(summary: Summary) -> Table:
    """Return for how many profiles each blade is the best."""
    columns = (Column("blade", left=True), Column("best for"))
    return Table(columns, tuple((name, str(count)) for name, count in summary.blades))


def sentences(summary: Summary) -> list[str]:
    """Return what there is to say, a line each."""
    said = [
        f"{_profiles(summary.profiles)}: {summary.within} within tolerance, {summary.beyond} not, "
        f"{summary.flagged} flagged, {len(summary.without)} without a set-up."
    ]
    if summary.by_set_up:
        said.append(f"With a set-up of the drawer: {_profiles(summary.by_set_up)} (alike.csv).")
    if summary.same:
        said.append(f"The same as another: {_profiles(summary.same)} (alike.csv).")
    return said


def _profiles(count: int) -> str:
    return f"{count:,} profile{'' if count == 1 else 's'}"
