"""What was set and asked for: stock, blade, saw, set-up, limits and target."""

from __future__ import annotations

from sweep.cut.passes import passes_of
from sweep.cut.plate import rim_stiffness
from sweep.cut.wood_table import wood_of
from sweep.scene.model import Scene, WholeScene
from sweep.show.say.numbers.model import Numbers
from sweep.units import degrees, rpm


class StockNumbers(Numbers):
    """The piece of wood before the cut."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    species: str
    """As the scene names it."""
    taken_as: str | None
    """The wood whose figures serve for the forces; null where nothing is known of it."""
    density_kg_per_m3: float | None
    """At 12 % moisture, of the wood that it is taken as."""
    moisture: float
    """A share: 0.12 is 12 %."""


class BladeNumbers(Numbers):
    """The blade, or another cutter."""

    name: str
    teeth: int
    tip: str
    """`flat`, `alternate bevel`, or `shaped` for a cutter that is given by its profile."""
    bevel_deg: float | None
    diameter_mm: float
    """Where it is greatest."""
    kerf_mm: float
    """From one side of the tips to the other along the arbor."""
    profile_mm: tuple[tuple[float, float], ...]
    """The outline that the edges sweep: offset along the arbor, and radius."""
    runout_mm: float
    wobble_mm: float
    max_speed_rpm: float | None
    """What the blade is marked for."""
    rim_stiffness_n_per_mm: float | None
    """The plate's stiffness against a force from the side at the rim; null for a shaped cutter."""


class SawNumbers(Numbers):
    """The machine and its table, whose edges are counted from the blade's centre."""

    speed_rpm: float
    motor_w: float | None
    efficiency: float
    max_height_mm: float | None
    least_tilt_deg: float
    most_tilt_deg: float
    lift_per_turn_mm: float | None
    table_depth_mm: float | None
    table_width_mm: float | None
    front_to_blade_mm: float | None
    left_to_blade_mm: float | None
    slots_mm: tuple[float, ...]
    throat_length_mm: float | None
    throat_width_mm: float | None
    throat_thickness_mm: float
    support_before_mm: float
    support_after_mm: float


class SetupNumbers(Numbers):
    """How fence and blade are set."""

    fence_angle_deg: float
    """Between the feed and the blade's plane; 0 of a straight rip along the saw's own fence."""
    blade_tilt_deg: float
    """Positive leans the top to the right."""
    blade_height_mm: float
    """The height of the last pass."""
    offset_mm: float
    """The stock's centreline from the blade's centre, to the right looking along the feed."""
    fence_side: str
    """`near`, the operator's, or `far`; of a straight rip the right, or the left, looking along the feed."""
    rim_speed_m_per_s: float


class PassOrderNumbers(Numbers):
    """What is set for one pass, in the order in which they are made."""

    number: int
    height_mm: float
    feed_speed_mm_per_s: float
    stop_mm: float | None
    """How far the leading end has gone past the blade's centre; null for a pass that goes through."""


class LimitNumbers(Numbers):
    """Beyond these a pass or a job is flagged."""

    rise_mm: float
    chip_thickness_mm: float
    area_mm2: float
    wood_above_mm: float
    shoulder_mm: float
    contact_mm: float
    stock_length_mm: float
    stock_width_mm: float
    stock_thickness_mm: float
    fence_angle_deg: float
    rim_speed_m_per_s: float
    push_n: float
    side_deflection_mm: float
    gullet_fill: float
    thin_chip_mm: float
    finish_wood_mm: float


class TargetNumbers(Numbers):
    """The profile wanted."""

    shape: str
    whole: bool
    """Whether the points are the whole moulding in the stock's section."""
    width_mm: float | None
    depth_mm: float | None
    across_mm: float
    tolerance_mm: float


def stock_numbers(scene: Scene) -> StockNumbers:
    """Return the stock."""
    stock, wood = scene.stock, wood_of(scene.stock)
    return StockNumbers(
        length_mm=stock.length,
        width_mm=stock.width,
        thickness_mm=stock.thickness,
        species=stock.species,
        taken_as=None if wood is None else wood.name,
        density_kg_per_m3=None if wood is None else wood.density,
        moisture=stock.moisture,
    )


def blade_numbers(scene: WholeScene) -> BladeNumbers:
    """Return the blade that cuts."""
    blade, tool = scene.blade, scene.tool
    return BladeNumbers(
        name=blade.name,
        teeth=blade.teeth,
        tip="shaped" if blade.profile is not None else blade.tip,
        bevel_deg=None if blade.bevel is None else degrees(blade.bevel),
        diameter_mm=2 * tool.radius,
        kerf_mm=tool.kerf,
        profile_mm=tuple((float(a), float(r)) for a, r in tool.profile),
        runout_mm=blade.runout,
        wobble_mm=blade.wobble,
        max_speed_rpm=None if blade.max_speed is None else rpm(blade.max_speed),
        rim_stiffness_n_per_mm=rim_stiffness(blade),
    )


def saw_numbers(scene: Scene) -> SawNumbers:
    """Return the saw."""
    saw = scene.saw
    return SawNumbers(
        speed_rpm=rpm(saw.speed),
        motor_w=saw.motor,
        efficiency=saw.efficiency,
        max_height_mm=saw.max_height,
        least_tilt_deg=degrees(saw.tilts[0]),
        most_tilt_deg=degrees(saw.tilts[1]),
        lift_per_turn_mm=saw.lift_per_turn,
        table_depth_mm=saw.table_depth,
        table_width_mm=saw.table_width,
        front_to_blade_mm=saw.front_to_blade,
        left_to_blade_mm=saw.left_to_blade,
        slots_mm=saw.slots,
        throat_length_mm=saw.throat_length,
        throat_width_mm=saw.throat_width,
        throat_thickness_mm=saw.throat_thickness,
        support_before_mm=saw.support_before,
        support_after_mm=saw.support_after,
    )


def setup_numbers(scene: WholeScene) -> SetupNumbers:
    """Return the set-up."""
    setup = scene.setup
    return SetupNumbers(
        fence_angle_deg=degrees(setup.fence_angle),
        blade_tilt_deg=degrees(setup.blade_tilt),
        blade_height_mm=setup.blade_height,
        offset_mm=setup.offset,
        fence_side=setup.fence_side,
        rim_speed_m_per_s=scene.saw.speed * scene.tool.radius / 1000,
    )


def pass_order_numbers(scene: WholeScene) -> tuple[PassOrderNumbers, ...]:
    """Return what is set for each pass."""
    return tuple(
        PassOrderNumbers(number=one.number, height_mm=one.height, feed_speed_mm_per_s=one.feed_speed, stop_mm=one.stop)
        for one in passes_of(scene)
    )


def limit_numbers(scene: Scene) -> LimitNumbers:
    """Return the limits."""
    limits = scene.limits
    return LimitNumbers(
        rise_mm=limits.rise,
        chip_thickness_mm=limits.chip_thickness,
        area_mm2=limits.area,
        wood_above_mm=limits.wood_above,
        shoulder_mm=limits.shoulder,
        contact_mm=limits.contact,
        stock_length_mm=limits.stock_length,
        stock_width_mm=limits.stock_width,
        stock_thickness_mm=limits.stock_thickness,
        fence_angle_deg=degrees(limits.fence_angle),
        rim_speed_m_per_s=limits.rim_speed / 1000,
        push_n=limits.push,
        side_deflection_mm=limits.side_deflection,
        gullet_fill=limits.gullet_fill,
        thin_chip_mm=limits.thin_chip,
        finish_wood_mm=limits.finish_wood,
    )


def target_numbers(scene: Scene) -> TargetNumbers | None:
    """Return the target; None where the scene names none."""
    target = scene.target
    return (
        None
        if target is None
        else TargetNumbers(
            shape=target.shape,
            whole=target.whole,
            width_mm=target.width,
            depth_mm=target.depth,
            across_mm=target.across,
            tolerance_mm=target.tolerance,
        )
    )
