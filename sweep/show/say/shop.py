"""What is said of a whole folder of profiles, in few words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sweep.shop.alike import Alike
from sweep.shop.row import Answer, Row
from sweep.show.say.cautions import LINE
from sweep.show.say.table import Column, Table
from sweep.units import Units, minutes
from sweep.words import visible

MOST_TOLD = 10
"""Profiles of which a sentence each is told; the files have all."""

MOST_ROWS = 30
"""Profiles that a table has a row each for: what is read without turning back; of more the files have all."""


@dataclass(frozen=True)
class Summary:
    """A folder of profiles, counted.

    Parameters
    ----------
    profiles : int
    within, beyond, without : int
        Those that the best blade cuts within tolerance, those that it does not, and those without any figure.
    flagged : int
        Those whose best set-up is flagged.
    not_well : int
        Those that are not within tolerance, or flagged.
    best : tuple of Row
        The first row of each profile, of the first `MOST_ROWS` + 1.
    wrong : tuple of Row
        The first row of each that is not well, of the first `MOST_TOLD`.
    blades : tuple of (str, int)
        How many profiles each blade, on its saw, is the best for, the one of most first.
    same, by_set_up : tuple of Alike
        Profiles that are another one's same, and those that a set-up of the drawer makes, each told once.
    """

    profiles: int
    within: int
    beyond: int
    without: int
    flagged: int
    not_well: int
    best: tuple[Row, ...]
    wrong: tuple[Row, ...]
    blades: tuple[tuple[str, int], ...]
    same: tuple[Alike, ...]
    by_set_up: tuple[Alike, ...]

    @property
    def is_well(self) -> bool:
        """Whether every profile can be cut within tolerance and nothing is flagged."""
        return not self.not_well


def summary_of(answers: Iterable[Answer], alike: Sequence[Alike]) -> Summary:
    """Return the counts."""
    best: list[Row] = []
    wrong: list[Row] = []
    blades: Counter[str] = Counter()
    profiles = within = beyond = flagged = not_well = 0
    for answer in answers:
        row = answer.best
        profiles += 1
        within += row.within_tolerance is True
        beyond += row.within_tolerance is False
        is_flagged = bool(row.flags) or (row.rank is not None and row.flags is None)
        flagged += is_flagged
        is_wrong = is_flagged or not row.within_tolerance
        not_well += is_wrong
        if row.rank is not None:
            blades[blade_and_saw(row)] += 1
        if len(best) <= MOST_ROWS:
            best.append(row)
        if is_wrong and len(wrong) < MOST_TOLD:
            wrong.append(row)
    return Summary(
        profiles,
        within,
        beyond,
        profiles - within - beyond,
        flagged,
        not_well,
        tuple(best),
        tuple(wrong),
        tuple(sorted(blades.items(), key=lambda pair: (-pair[1], pair[0]))),
        _each_once(one for one in alike if one.how == "same"),
        _each_once(one for one in alike if one.how == "set-up"),
    )


def _each_once(alike: Iterable[Alike]) -> tuple[Alike, ...]:
    """Return the first, which is the nearest, that is told of each profile: of two that are the same of the later."""
    found: dict[str, Alike] = {}
    for one in alike:
        found.setdefault(one.other if one.how == "same" else one.profile, one)
    return tuple(found.values())


def blade_and_saw(row: Row) -> str:
    """Return which blade, and on which saw where that has a name."""
    return f"{row.blade}, on {row.saw}" if row.saw and row.blade else row.blade


def blades_table(summary: Summary) -> Table:
    """Return for how many profiles each blade is the best."""
    columns = (Column("blade", left=True), Column("best for"))
    return Table(columns, tuple((visible(name), str(count)) for name, count in summary.blades))


def profiles_table(summary: Summary, units: Units) -> Table | None:
    """Return a row for each profile that has figures, its blade below its name; None where there are too many or none.

    Columns in which there is nothing are left out.
    """
    rows = [
        (
            f"{visible(row.profile)}\n  {visible(blade_and_saw(row))}",
            "" if row.fence_angle_deg is None else f"{row.fence_angle_deg:.2f} deg",
            "" if row.blade_height_mm is None else units.length(row.blade_height_mm),
            f"{row.blade_tilt_deg:.2f} deg" if row.blade_tilt_deg else "",
            "" if row.deviation_mm is None else units.fine(row.deviation_mm),
            "" if row.passes is None else str(row.passes),
            "" if row.minutes is None else minutes(60 * row.minutes),
        )
        for row in summary.best
        if row.rank is not None
    ]
    if not rows or len(summary.best) > MOST_ROWS:
        return None
    heads = ("profile", "fence", "height", "tilt", "off by", "passes", "at the saw")
    used = [k for k in range(len(heads)) if any(row[k] for row in rows)]
    columns = tuple(Column(heads[k], left=k == 0) for k in used)
    return Table(columns, tuple(tuple(row[k] for k in used) for row in rows))


def sentences(summary: Summary, known: int, units: Units) -> list[str]:
    """Return what there is to say, a line each; `known` profiles were worked out by an earlier run."""
    said = [
        f"{counted(summary.profiles)}: {summary.within:,} within tolerance, {summary.beyond:,} not, "
        f"{summary.flagged:,} flagged, {summary.without:,} without a set-up."
    ]
    if known:
        said.append(f"Known from an earlier run: {known:,}; worked out now: {summary.profiles - known:,}.")
    said += _told_alike("With a set-up of the drawer", summary.by_set_up, units)
    said += _told_alike("The same as another", summary.same, units)
    said += [f"! {visible(row.profile)}: {visible(alarm_of(row))}" for row in summary.wrong]
    if summary.not_well > len(summary.wrong):
        said.append(f"! and {summary.not_well - len(summary.wrong):,} more (shop.csv)")
    return said


def _told_alike(heading: str, alike: tuple[Alike, ...], units: Units) -> list[str]:
    if not alike:
        return []
    said = [f"  {visible(one.profile)}: {alike_words(one, one.other, units)}" for one in alike[:MOST_TOLD]]
    if len(alike) > MOST_TOLD:
        said.append(f"  and {len(alike) - MOST_TOLD:,} more (alike.csv)")
    return [f"{heading}: {counted(len(alike))}.", *said]


def alarm_of(row: Row) -> str:
    """Return what is wrong with a profile's first row: out of tolerance, flags, and why."""
    beyond = "out of tolerance" if row.within_tolerance is False else ""
    flags = ", ".join(flag.replace("-", " ") for flag in (row.flags or "").split())
    reason = "" if row.within_tolerance and row.flags is not None else row.reason
    return "; ".join(filter(None, (beyond, flags, reason)))


def counted(count: int) -> str:
    """Return how many profiles there are."""
    return f"{count:,} profile{'' if count == 1 else 's'}"


def scene_of(answer: Answer) -> str:
    """Return a profile's scene as a file has it; nothing where none was found."""
    heading = f"# {visible(answer.profile, 'ascii')}, worked out by sweep shop.\n# {LINE}\n\n"
    return heading + answer.scene if answer.scene else ""


def alike_words(one: Alike, other: str, units: Units) -> str:
    """Return in which way a profile is like another."""
    turned = ", seen from its other end" if one.mirrored else ""
    how = "the same as {}" if one.how == "same" else "made by the set-up of {}"
    return f"{how.format(visible(other))}{turned} (within {units.fine(one.deviation_mm)})"
