"""Every 'close enough' in the package: its name, its unit and its reason.

The rim of the blade is drawn with chords whose ends lie on the true circle, so a meshed cut
never takes more wood than the true one and leaves at most the chord tolerance more.
"""

from dataclasses import dataclass

CHORD = 0.005
"""mm. How far the chords of the meshed rim may fall inside the true rim: a tenth of a thin shaving."""

FINE_CHORD = 1e-5
"""mm. The same for the plane sections from which areas are reported: an error of 1e-6 of the area."""

BELOW_TABLE = 1.0
"""mm. How far tools are drawn below the table, so that no face of a tool lies on a face of the stock."""

CLEAR_OF_END = 1.0
"""mm. How far beyond the ends of the stock a through pass starts and stops, for the same reason."""

ON_FACE = 1e-9
"""mm. A vertex this close to a face of the stock lies on it: rounding of a coordinate of a few metres."""

VOLUME = 1e-9
"""Share of the stock's volume by which stock and (what is left + every chip) may differ."""

SAMPLE = 0.1
"""mm. Spacing of the points at which the profile is compared with the target: finer than a pencil line."""

ENGAGEMENT_ANGLES = 2048
"""Rim angles at which the engaged edges are measured exactly; the sums over them converge as 1/n or better."""

ENGAGEMENT_CHORD = 1e-3
"""mm. By how much the outlines of earlier set-ups may err where edges are looked for in what these left."""

SAME_HEIGHT = 1e-6
"""mm. Two heights closer than this are one height."""

SAME_LENGTH = 1e-6
"""mm. A part that is longer than the room left for it by less than this fits: rounding of a board's length."""

SAME_POINT = 1e-7
"""mm. Two points of an outline closer than this are one point: rounding of a few crossings of lines."""

DRAWN = 0.01
"""mm. A point of a drawn profile this close to an edge of the stock, or to the point it began with, lies there: sizes
in inches are written in mm with two or three decimals."""

AS_MUCH = 0.01
"""mm. Wood that is less than asked for by no more than this is as much: what is marked on it, and what a saw is set to,
is no finer, and a set-up worked out for just so much is written to four decimals of a degree."""

ON_TABLE = 1e-3
"""mm. How far above the table a face may lie that rides on it: far less than a shaving."""

BESIDE_FACE = 0.05
"""mm. How far what a finishing cut takes is drawn beyond the wood at its edges: far more than rounding, and less than
any hollow is wide."""

AREA_NOTHING = 1e-6
"""mm2. A pass that takes less than this from the section takes nothing."""


IN_95 = 1.959963984540054
"""Standard deviations either way that hold 95 % of a normal error."""


@dataclass(frozen=True)
class Fineness:
    """How finely a job is worked out.

    Parameters
    ----------
    chord : float, mm
        Of the meshed rim.
    section_chord : float, mm
        Of the plane sections from which areas are reported.
    sample : float, mm
        Spacing of the points at which the profile is compared with the target.
    angles : int
        Rim angles at which the engaged edges are measured.
    ends : int
        Travels at which the load is looked at while the blade enters the stock, and as many while it leaves; none
        where 0.
    every_stage : bool
        Whether the stock after every pass is cut at once, so that what cannot be cut is told before anything is
        written; else after the last alone, and after others when it is looked at.
    """

    chord: float = CHORD
    section_chord: float = FINE_CHORD
    sample: float = SAMPLE
    angles: int = ENGAGEMENT_ANGLES
    ends: int = 16
    every_stage: bool = True


AS_RUN = Fineness()
"""What a run is worked out with."""

AS_DRAGGED = Fineness(chord=0.02, section_chord=0.01, sample=0.5, angles=96, ends=0, every_stage=False)
"""While a setting is being moved on the live page: to the eye the same, in half the time."""
