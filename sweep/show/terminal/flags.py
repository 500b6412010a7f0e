"""What is flagged, on the terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console

from sweep.check.flag import Flag
from sweep.check.judge import Outcome
from sweep.check.setups import Verdict
from sweep.show.say.flags import flag_line
from sweep.show.say.profile import verdict_of
from sweep.units import Units


def print_flags(console: Console, flags: Iterable[Flag], units: Units) -> None:
    """Print one sentence a flag, with what it belongs to."""
    for flag in flags:
        console.print(flag_line(flag, units), style="yellow" if flag.may else "red")


def print_verdict(console: Console, outcome: Outcome | Verdict, units: Units) -> None:
    """Print how the profile lies to the target."""
    if outcome.profile is None and outcome.whole is None:
        console.print(verdict_of(outcome, units))
    elif outcome.is_within_tolerance:
        console.print(verdict_of(outcome, units), style="green")
    else:
        console.print(f"! {verdict_of(outcome, units)}", style="red")
