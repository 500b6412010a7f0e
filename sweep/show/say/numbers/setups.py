"""Every setting of the saw in numbers: each with what one set-up alone has."""

from __future__ import annotations

from sweep.cut.moulding import Fallen
from sweep.shape import section
from sweep.show.say.numbers.fence import FenceNumbers, fence_numbers
from sweep.show.say.numbers.flags import FlagNumbers, flag_numbers
from sweep.show.say.numbers.model import Numbers
from sweep.show.say.numbers.passes import PassNumbers, pass_numbers
from sweep.show.say.numbers.planned import PassPlanNumbers, pass_plan_numbers
from sweep.show.say.numbers.profile import SurfaceNumbers, surface_numbers
from sweep.show.say.numbers.settings import (
    BladeNumbers,
    PassOrderNumbers,
    SetupNumbers,
    blade_numbers,
    pass_order_numbers,
    setup_numbers,
)
from sweep.show.say.numbers.steps import StepNumbers, step_numbers
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


class FallenNumbers(Numbers):
    """A piece that falls off as the stock is sawn apart."""

    width_mm: float
    """Across, as it lies."""
    height_mm: float
    volume_mm3: float
    kept: bool
    """Whether it is laid aside as one of the pieces of moulding; else it is an offcut."""


class SettingNumbers(Numbers):
    """One setting of the saw: a set-up, or one of the two cuts of a rabbet."""

    number: int
    """Which of the set-ups it is of, from 1."""
    cut: int
    """Which of that set-up's cuts it is, from 1."""
    name: str
    do: str
    """`cove`, `rip` or `rabbet`."""
    face: str
    """Which face of the stock, as it was planed, lies on the table for the first cut of the set-up."""
    end_for_end: bool
    """Whether the other end leads."""
    stock_width_mm: float
    """Across, as the stock lies."""
    stock_height_mm: float
    """Up from the table, as it lies."""
    blade: BladeNumbers
    setup: SetupNumbers
    order_of_passes: tuple[PassOrderNumbers, ...]
    pass_plan: PassPlanNumbers | None
    """Null where the scene has its passes."""
    fence: FenceNumbers
    order_of_work: tuple[StepNumbers, ...]
    """What is done at the saw for it, step by step."""
    flags: tuple[FlagNumbers, ...]
    """Those of the set-up; those of a pass stand with it."""
    may_exceed: tuple[FlagNumbers, ...]
    passes: tuple[PassNumbers, ...]
    surface: SurfaceNumbers
    fallen: tuple[FallenNumbers, ...]
    """What it saws off, from left to right."""
    section_left_mm2: float
    """What goes on."""
    volume_left_mm3: float


def only_setting(report: Report) -> SettingNumbers:
    """Return the one setting of a scene of one set-up."""
    return _setting(report, (), number=1, cut=1, name="", do="cove", face="table", end_for_end=False)


def setting_numbers(report: SetupsReport) -> tuple[SettingNumbers, ...]:
    """Return every setting of several set-ups."""
    moulding = report.moulding
    return tuple(
        _setting(
            one,
            tuple(fallen for fallen in moulding.fallen if fallen.setting is setting),
            number=setting.asked.number,
            cut=setting.asked.part,
            name=setting.name,
            do=setting.asked.setup.do,
            face=setting.asked.setup.face,
            end_for_end=setting.lying.end_for_end,
        )
        for one, setting in zip(report.reports, moulding.settings, strict=True)
    )


def _setting(
    report: Report,
    fallen: tuple[Fallen, ...],
    *,
    number: int,
    cut: int,
    name: str,
    do: str,
    face: str,
    end_for_end: bool,
) -> SettingNumbers:
    job, scene = report.job, report.scene
    return SettingNumbers(
        number=number,
        cut=cut,
        name=name,
        do=do,
        face=face,
        end_for_end=end_for_end,
        stock_width_mm=scene.stock.width,
        stock_height_mm=scene.stock.thickness,
        blade=blade_numbers(scene),
        setup=setup_numbers(scene),
        order_of_passes=pass_order_numbers(scene),
        pass_plan=pass_plan_numbers(report.plan),
        fence=fence_numbers(job),
        order_of_work=step_numbers(report.steps),
        flags=flag_numbers(report.flags_of(None), report.units),
        may_exceed=flag_numbers(report.outcome.may_exceed, report.units),
        passes=pass_numbers(report),
        surface=surface_numbers(report.surface),
        fallen=tuple(map(_fallen, fallen)),
        section_left_mm2=section.area(job.sections[-1].left) - sum(section.area(one.figure) for one in fallen),
        volume_left_mm3=job.finished.volume - sum(one.volume for one in fallen),
    )


def _fallen(fallen: Fallen) -> FallenNumbers:
    left, low, right, high = section.bounds_of(fallen.figure)
    return FallenNumbers(width_mm=right - left, height_mm=high - low, volume_mm3=fallen.volume, kept=fallen.is_kept)
