"""The pass table and the findings, for a terminal of any kind: plain ASCII, colour only as an extra."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table

from sweep.check.judge import Outcome
from sweep.check.shares import governing, shares_of
from sweep.cut.surface import surface_of
from sweep.show.say.finishing import finishing_sentences
from sweep.show.say.flags import sentence_of
from sweep.units import Units, degrees

CAUTIONS = (
    "This is a simulation, not permission to cut. Wood varies, and figures of force and power are estimates. "
    "An oblique cut over a table saw is outside what many saws are made for: follow the makers' manuals, your "
    "local rules and qualified instruction; secure the fence on both sides of the table, keep hands clear with "
    "push blocks, use a guard or a cage of featherboards where the usual guard cannot be fitted, and never stand "
    "in line with the work."
)


def print_outcome(console: Console, outcome: Outcome, units: Units) -> None:
    """Print the set-up, one row a pass, what is flagged, and how the profile lies to the target."""
    console.print(headline_of(outcome, units), style="bold", highlight=False)
    print_whole(console, pass_table(outcome, units))
    _print_flags(console, outcome, units)
    _print_profile(console, outcome, units)
    for sentence in [marks_of(outcome, units), *finishing_sentences(outcome.job, units)]:
        if sentence:
            console.print(sentence, highlight=False)


def headline_of(outcome: Outcome, units: Units) -> str:
    """Return the job and its set-up in one line."""
    job, setup = outcome.job, outcome.job.scene.setup
    return (
        f"{job.scene.title or 'Untitled job'}: fence at {degrees(setup.fence_angle):.2f} deg, "
        f"blade {units.length(setup.blade_height)} high, tilted {degrees(setup.blade_tilt):.2f} deg, "
        f"{len(job.passes)} pass{'' if len(job.passes) == 1 else 'es'}"
    )


def marks_of(outcome: Outcome, units: Units) -> str:
    """Return what the last pass leaves to sand, in one sentence; nothing where it leaves nothing."""
    surface = surface_of(outcome.job.scene)
    if surface.largest <= 0:
        return ""
    return (
        f"Tooth marks of the last pass: ridges of at most {units.written(surface.largest)} every "
        f"{units.written(surface.spacing)}, highest on the flanks, to sand away; they grow with the feed "
        "(run-out only as given, tear-out not in it)."
    )


def pass_rows(outcome: Outcome, units: Units) -> list[dict[str, str]]:
    """Return what is shown of each pass, by heading, each with its unit after the last space."""
    job = outcome.job
    rows = []
    for one, taken, load in zip(job.passes, job.sections, job.loads, strict=True):
        shares = shares_of(job.scene, one, taken.area, load)
        limit = governing(shares)
        rows.append(
            {
                "height": units.length(one.height),
                "rise": units.length(one.rise),
                "width": units.length(taken.width),
                "area": units.area(taken.area),
                "feed": units.feed(one.feed_speed),
                "chip": units.fine(load.chip_thickness_max),
                "power": "- W" if load.usual is None else f"{_band(load.low.power, load.high.power)} W",
                "limit": f"{limit} ",
                "share of it": f"{100 * shares[limit]:.0f} %",
            }
        )
    return rows


def pass_table(outcome: Outcome, units: Units) -> Table:
    """Return the table of passes, units in the headings; a flagged pass begins with an exclamation mark."""
    rows = pass_rows(outcome, units)
    table = Table(
        box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1), collapse_padding=True, header_style="bold"
    )
    table.add_column("")
    table.add_column("pass", justify="right")
    for heading, shown in rows[0].items():
        table.add_column(f"{heading}\n{shown.rpartition(' ')[2]}", justify="right", no_wrap=True)
    for one, row in zip(outcome.job.passes, rows, strict=True):
        flagged = bool(outcome.flags_of(one.number))
        values = [shown.rpartition(" ")[0] for shown in row.values()]
        percent = values[-1]
        values[-1] = f"{_bar(float(percent) / 100)} {percent:>3}"
        table.add_row("!" if flagged else "", str(one.number), *values, style="bold red" if flagged else None)
    return table


def _bar(share: float) -> str:
    """Return six places that fill up to the limit."""
    full = min(6, round(6 * share))
    return "#" * full + "-" * (6 - full)


def _band(low: float, high: float) -> str:
    """Return a band to two figures."""
    return "-".join(f"{float(f'{value:.2g}'):.0f}" for value in (low, high))


def print_whole(console: Console, table: Table) -> None:
    """Print a table at its natural width: a narrow window wraps its lines, but no figure is lost."""
    width = console.width
    console.width = 1000
    console.width = max(width, console.measure(table).maximum)
    console.print(table)
    console.width = width


def _print_flags(console: Console, outcome: Outcome, units: Units) -> None:
    for flag in outcome.flags:
        where = "job" if flag.number is None else f"pass {flag.number}"
        console.print(f"! {where}: {sentence_of(flag, units)}. ({flag.code})", style="red", highlight=False)


def _print_profile(console: Console, outcome: Outcome, units: Units) -> None:
    within = outcome.profile is None or outcome.profile.within_tolerance
    style = None if outcome.profile is None else "green" if within else "red"
    console.print(("" if within else "! ") + verdict_of(outcome, units), style=style, highlight=False)


def verdict_of(outcome: Outcome, units: Units) -> str:
    """Return how the profile lies to the target, in one sentence."""
    profile = outcome.profile
    if profile is None:
        return "No target in the scene: the profile was not compared."
    y, _, deviation = profile.worst
    side = "wood left" if deviation > 0 else "cut too deep"
    verdict = "Profile within" if profile.within_tolerance else "Profile OUT OF"
    return (
        f"{verdict} tolerance: at most {units.fine(profile.max_deviation)} from the target "
        f"({side}, {units.length(abs(y))} {'right' if y > 0 else 'left'} of the centreline), "
        f"RMS {units.fine(profile.rms_deviation)}, tolerance {units.fine(profile.tolerance)}."
    )
