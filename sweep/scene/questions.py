"""What `sweep new` asks of a job: one question for each option, in the order in which a maker is asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.scene.shop import is_whole_blade, with_its_saw


@dataclass(frozen=True)
class Question:
    """One question.

    Parameters
    ----------
    option : str
        On the command line: ``--stock``.
    asks : str
        In a few words, without a full stop.
    keys : tuple of str
        The keys of the scene that the answer is for; the parts of the answer stand side by side with an x between.
    example : (str, str)
        An answer, in mm and in inches.
    required : bool
        Whether there is no scene without it.
    """

    option: str
    asks: str
    keys: tuple[str, ...]
    example: tuple[str, str]
    required: bool = False

    @property
    def name(self) -> str:
        """The option without its dashes."""
        return self.option.removeprefix("--")


TITLE = Question("--title", "a name for the job", ("title",), ("plinth cove",) * 2)
STOCK = Question(
    "--stock",
    "the stock: length x width x thickness",
    ("stock.length", "stock.width", "stock.thickness"),
    ("900 mm x 80 mm x 22 mm", "36 in x 3 1/2 in x 7/8 in"),
    required=True,
)
WOOD = Question("--wood", "the wood", ("stock.species",), ("black cherry",) * 2)
PROFILE = Question(
    "--profile",
    "a file that has the profile: points (CSV), or a drawing (DXF, SVG); none for a plain cove",
    ("target.file",),
    ("arc.dxf",) * 2,
)
SHOULDERS = Question(
    "--shoulders", "the flat on each side of the cove", ("target.shoulders",), ("12 mm", "1/2 in"), required=True
)
ABOVE = Question("--above", "the wood above the cove", ("target.wood_above",), ("8 mm", "5/16 in"), required=True)
WIDTH = Question("--width", "instead of the shoulders: the cove's width", ("target.width",), ("56 mm", "2 1/2 in"))
DEPTH = Question("--depth", "instead of the wood above: the cove's depth", ("target.depth",), ("14 mm", "9/16 in"))
BLADE = Question(
    "--blade",
    "the blade: diameter x kerf x number of teeth",
    ("blade.diameter", "blade.kerf", "blade.teeth"),
    ("254 mm x 3.2 mm x 40", "10 in x 1/8 in x 40"),
    required=True,
)
BEVEL = Question(
    "--bevel", "the angle of its tips, where they are bevelled alternately", ("blade.bevel",), ("15 deg",) * 2
)
SPEED = Question("--speed", "the speed of the arbor", ("saw.speed",), ("4000 rpm", "3450 rpm"), required=True)
MOTOR = Question("--motor", "the power of the motor", ("saw.motor",), ("1.3 kW", "1.75 hp"))
FENCE = Question(
    "--fence",
    "the side of the blade that the fence is on: near, the operator's, or far",
    ("plan.fence_side",),
    ("near",) * 2,
)
FEED = Question("--feed", "the speed of the stock along the fence", ("plan.feed_speed",), ("2 m/min", "6 ft/min"))

QUESTIONS = (
    TITLE, STOCK, WOOD, PROFILE, SHOULDERS, ABOVE, WIDTH, DEPTH, BLADE, BEVEL, SPEED, MOTOR, FENCE, FEED,
)  # fmt: skip


def left_open(given: dict[str, str]) -> list[Question]:
    """Return the questions without whose answers there is no scene.

    Parameters
    ----------
    given : dict
        From the name of a question to its answer. Width, depth or a profile stand for the marks.
    """
    instead = {"shoulders": ("width", "profile"), "above": ("depth", "profile")}
    return [
        one
        for one in QUESTIONS
        if one.required and not any(name in given for name in (one.name, *instead.get(one.name, ())))
    ]


def answered_by(shop: dict[str, Any]) -> dict[str, str]:
    """Return the names of the questions that the folder's shop answers, for `left_open`."""
    has_blade = "blades" in shop or is_whole_blade(shop.get("blade"))
    known = {BLADE.name: has_blade, SPEED.name: "speed" in with_its_saw(shop, {}).get("saw", {})}
    return {name: "" for name, is_known in known.items() if is_known}
