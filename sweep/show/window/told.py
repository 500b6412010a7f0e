"""The words of the window, above the saw and below it, and the columns in which they stand."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import shorten

import pyvista as pv

from sweep.show.draw.colours import ALARM, FAINT
from sweep.show.say.cautions import SENTENCE
from sweep.show.say.flags import in_a_line
from sweep.show.window.flat_parts import word
from sweep.show.window.setups_shown import SetupShown

HEAD, FOOT = 96, 116
"""Pixels: heights of the words above the saw and of the sliders below it."""

LEFT, FACTS, FEED_END, PASS_START, RIGHT = 0.02, 0.24, 0.60, 0.66, 0.98
"""Shares of the width: both rims and the columns between them."""

_FACTS_BESIDE_NAME = 0.53
"""The column of the facts where a set-up's name stands before the pass."""

_MOST_FLAGS = 7
"""So many fit in a line of a window 900 pixels wide."""

_LETTERS = 108
"""So many fit there too."""

_KEYS = "arrows feed   page up and down change the pass   space plays   q closes"


class MomentWords:
    """What is said of the moment that is shown.

    Parameters
    ----------
    head, foot : pv.Renderer
        The views above and below the saw.
    views : sequence of str
        What the places to look from are called, in the order of their keys.
    several : bool
        Whether a set-up's name stands before the pass.
    """

    def __init__(self, head: pv.Renderer, foot: pv.Renderer, views: Sequence[str], several: bool) -> None:
        self.title = word(head, LEFT, 62 / HEAD, 22, bold=True)
        self.facts = word(head, _FACTS_BESIDE_NAME if several else FACTS, 62 / HEAD, 16)
        self.of_pass = word(head, LEFT, 36 / HEAD, 14)
        self.of_job = word(head, LEFT, 14 / HEAD, 14)
        self.gone = word(foot, LEFT, 92 / FOOT, 14)
        word(foot, PASS_START, 92 / FOOT, 14, "Pass")
        word(foot, LEFT, 47 / FOOT, 12, "   ".join(f"{key} {words}" for key, words in enumerate(views, start=1)))
        word(foot, LEFT, 29 / FOOT, 12, _KEYS)
        word(foot, LEFT, 8 / FOOT, 13, f"{SENTENCE} Blade slowed.")

    def say(self, setup: SetupShown, number: int, travel: float, is_finished: bool) -> None:
        """Say what is seen.

        Parameters
        ----------
        setup : SetupShown
        number : int
            Of the pass within its set-up, from 1.
        travel : float, mm
        is_finished : bool
            Whether the finished moulding is seen.
        """
        report = setup.report
        job, units = report.job, report.units
        one, area = job.passes[number - 1], units.area(job.sections[number - 1].area)
        self.title.input = f"{setup.name}{'p' if setup.name else 'P'}ass {number} of {len(job.passes)}"
        self.facts.input = f"height {units.length(one.height)}    rise {units.as_read(one.rise)}    area {area}"
        flags = report.flags_of(number)
        mild = tuple(flag for flag in report.outcome.may_exceed if flag.number == number)
        self.of_pass.input = f"this pass: {in_a_line(flags, mild, _MOST_FLAGS)}"
        self.of_pass.prop.color = ALARM if flags else FAINT
        self.of_job.input = shorten(setup.alert, _LETTERS, placeholder=" ...")
        self.of_job.prop.color = ALARM if setup.flagged else FAINT
        side = "past" if travel >= 0 else "short of"
        self.gone.input = f"Feed: leading end {units.tape(abs(travel))} {side} the blade's centre"
        if is_finished:
            self.title.input, self.gone.input = "The finished moulding", "Feed"
            self.facts.input = self.of_pass.input = ""
