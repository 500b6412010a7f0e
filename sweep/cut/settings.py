"""The settings of the saw, one after the other, in which several set-ups are cut: how the stock lies, and for what.

A cove and a rip are one setting each. A rabbet is two rips: one upright beside the step, one along its floor with the
stock on its edge. Each setting is a scene of its own, whose stock is what the one before left, as it lies for this one.
So all that is known of one set-up (passes, loads, flags, fence) is known of each.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

from sweep.cut.blank import cut_throughout, is_sawn_apart, piece_that_goes_on, pieces_left
from sweep.cut.rips import above, beside_step, height_through, rip
from sweep.cut.taken import require_height
from sweep.errors import SceneError, UnusableError
from sweep.scene.blank import Blank
from sweep.scene.keys import Passes, Setup
from sweep.scene.model import Scene, SetUpScene, WholeScene
from sweep.scene.setups import CoveSetup, RabbetSetup, RipSetup, SetupOfSeveral
from sweep.shape import edges, section
from sweep.shape.lying import Lying, face_down
from sweep.shape.tool import Tool


@dataclass(frozen=True)
class Asked:
    """One cut of a set-up, before it is known what wood it meets.

    Parameters
    ----------
    place : int
        Which of the settings of the saw it takes, from 1.
    number : int
        Which of the set-ups it is of, from 1.
    setup : SetupOfSeveral
    part, parts : int
        Which of its cuts, from 1, and how many it has.
    """

    place: int
    number: int
    setup: SetupOfSeveral
    part: int
    parts: int

    @property
    def field(self) -> str:
        """Where its set-up stands in the scene, as errors name it."""
        return f"setups, number {self.number}"

    @property
    def name(self) -> str:
        """What the maker calls it, or what is cut and the number; of two cuts, which."""
        name = self.setup.name or f"{self.setup.do} {self.number}"
        return name if self.parts == 1 else f"{name}, cut {self.part} of {self.parts}"


@dataclass(frozen=True, eq=False)
class Setting:
    """One setting of the saw.

    Parameters
    ----------
    asked : Asked
        What it is to cut.
    piece : int or None
        Which of the pieces that it leaves goes on, counted from the left; None where there is but one.
    lying : Lying
        From how the stock was planed to how it lies now.
    scene : SetUpScene
        As if it were alone: a `WholeScene` where its passes are known.
    """

    asked: Asked
    piece: int | None
    lying: Lying
    scene: SetUpScene

    @property
    def name(self) -> str:
        """What it is called in tables and drawings."""
        return self.asked.name

    @property
    def whole(self) -> WholeScene:
        """Its scene, where its passes are known."""
        assert isinstance(self.scene, WholeScene)
        return self.scene

    def with_passes(self, passes: Passes) -> Setting:
        """Return the setting with passes."""
        return replace(self, scene=self.scene.with_passes(passes))


def cuts_asked(scene: Scene) -> Iterator[Asked]:
    """Yield the cuts of all set-ups in order; a rabbet that is no wider than the kerf is one cut."""
    place = 0
    for number, setup in enumerate(scene.setups, start=1):
        two = isinstance(setup, RabbetSetup) and setup.width > scene.named(setup.blade).tool.kerf
        for part in range(1, 3 if two else 2):
            place += 1
            yield Asked(place, number, setup, part, 2 if two else 1)


@contextmanager
def naming(asked: Asked) -> Iterator[None]:
    """Tell what cannot be used of a cut as a SceneError that names its set-up."""
    try:
        yield
    except UnusableError as wrong:
        raise SceneError(asked.field, wrong.problem, wrong.remedy) from None


def laid(scene: Scene, asked: Asked, before: Setting | None) -> Setting:
    """Return a cut with the stock as it lies for it.

    Parameters
    ----------
    scene : Scene
        With set-ups.
    asked : Asked
    before : Setting or None
        The one before it, with its passes; None for the first.

    Raises
    ------
    SceneError
        Where the wood or the saw does not allow it, naming the set-up.
    """
    with naming(asked):
        return _laid(scene, asked, before)


def settled(setting: Setting) -> Setting:
    """Return a setting whose passes are known with the piece that goes on, where it saws the stock apart.

    What saws it apart on a part of its length only is refused, and what leaves none of it.

    Raises
    ------
    SceneError
    """
    scene = setting.whole
    with naming(setting.asked):
        pieces_left(scene, setting.piece)
    if is_sawn_apart(scene) is None:
        raise SceneError(
            setting.asked.field,
            "it saws the stock apart on a part of its length only",
            'let its passes, and those of the set-ups before it, go right through (stop = "through")',
        )
    return replace(setting, piece=_stays(setting))


def _laid(scene: Scene, asked: Asked, before: Setting | None) -> Setting:
    one, blade = asked.setup, scene.named(asked.setup.blade)
    wood = section.stock_section(scene.stock.width, scene.stock.thickness)
    from_planed = face_down(one.face, one.ends == "end for end", scene.stock.length)
    if asked.part == 2:  # of a rabbet: on the edge that is stepped, whichever way it lay
        assert isinstance(one, RabbetSetup)
        from_planed = face_down(f"{one.edge} edge", False, scene.stock.length).after(from_planed)
    turned, blank = from_planed, None
    if before is not None:
        turned = from_planed.after(before.lying.back)
        wood = pieces_left(before.whole, before.piece, top=cut_throughout)[0]  # it lies on what is least cut
        blank = Blank(before.whole, turned, before.piece)
    left, low, right, high = section.bounds_of(section.laid(wood, turned))
    to_table = (-(left + right) / 2, -low)
    if blank is not None:
        blank = replace(blank, lying=turned.moved(*to_table))
    setup = _on_saw(one, asked.part, blade.tool, section.laid(wood, turned.moved(*to_table)), above(scene))
    known = dict(scene) | {
        "title": asked.name,
        "stock": scene.stock.lying(right - left, high - low, blank),
        "blade": blade,
        "blades": (),
        "saw": scene.saw,
        "setup": setup,
        "fence": one.fence or scene.fence,
        "setups": (),
        "finish": (),
        "target": None,
        "order": None,
        "panel": None,
        "passes": None,
    }
    if isinstance(one, RipSetup) and one.blade_height is None:
        require_height(setup, blade.tool, scene.saw)
    alone = SetUpScene.model_construct(**known)
    lying = (turned if before is None else turned.after(before.lying)).moved(*to_table)
    piece = one.piece if asked.part == asked.parts else None
    found = Setting(asked, piece, lying, alone)
    return found if one.passes_written is None else found.with_passes(one.passes_written)


def _on_saw(one: SetupOfSeveral, part: int, tool: Tool, wood: section.Figure, clear: float) -> Setup:
    """Return how the saw is set for a cut in wood as it lies; a rip right through stands `clear`, mm, out of it."""
    left, right = section.sides_of(wood)
    match one:
        case CoveSetup():
            return Setup.model_construct(
                fence_angle=one.fence_angle,
                blade_height=one.blade_height,
                blade_tilt=one.blade_tilt,
                offset=one.offset,
                fence_side=one.fence_side,
                blade=one.blade,
            )
        case RipSetup():
            height = one.blade_height
            if height is None:
                height = height_through(tool, one.at, one.blade_tilt, wood, clear)
            return rip(tool, one.at, height, one.blade_tilt, one.fence_side == "right", one.blade)
        case RabbetSetup():
            from_left, (across, up) = one.edge == "left", (one.width, one.depth)
            if part == 2:  # on its edge the face with the step has come to the right, or of the right edge to the left
                from_left, (across, up) = not from_left, (up, across)
            corner = (left if from_left else right, 0.0)
            return beside_step(tool, corner, from_left, across, up, from_left, one.blade)


def _stays(setting: Setting) -> int | None:
    """Return which of the pieces that a setting leaves goes on, from 1; of a rabbet none that falls free of it."""
    scene, one = setting.whole, setting.asked.setup
    if setting.piece is not None or not isinstance(one, RabbetSetup) or setting.asked.part == 1:
        return piece_that_goes_on(scene, setting.piece)
    half, on_right = scene.stock.width / 2, one.edge == "left"
    step = section.together(edges.rabbet((half if on_right else -half, 0.0), one.depth, one.width, not on_right, True))
    return piece_that_goes_on(scene, None, step)
