"""Everything that can go wrong, as one small tree.

    SweepError              one clear sentence; the command line prints it and exits with 2
        SceneError          what the user wrote cannot be used: names the field and what to write
        SolidError          the solid kernel could not make a closed solid of it
        PictureError        this machine cannot draw; names the packages that would mend it

A finding (a pass that is flagged, a profile out of tolerance) is data, never an exception.
"""


class SweepError(Exception):
    """Base of every error that sweep raises on purpose."""


class SceneError(SweepError):
    """Something the user wrote cannot be used.

    Parameters
    ----------
    field : str
        Where it stands, as the user would find it: ``setup.blade_height``.
    problem : str
        What is wrong, in half a sentence.
    remedy : str
        What to write instead, in half a sentence.
    """

    def __init__(self, field: str, problem: str, remedy: str) -> None:
        self.field, self.problem, self.remedy = field, problem, remedy
        super().__init__(f"{field}: {problem}; {remedy}.")


class SolidError(SweepError):
    """The solid kernel reported that an operation failed."""


class PictureError(SweepError):
    """The machine cannot draw, or cannot open a window."""
