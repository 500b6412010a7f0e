"""`result.json` and `passes.csv`: everything in numbers, with the unit in each name."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

from sweep.check.judge import Outcome
from sweep.check.shares import governing, shares_of
from sweep.cut.load import Load
from sweep.cut.surface import surface_of
from sweep.show.say.fence_numbers import fence_result
from sweep.show.say.finishing import finish_result, finished_result, mitre_result
from sweep.show.say.flags import flag_words
from sweep.show.say.order_numbers import cut_list_result
from sweep.show.say.panel import panel_result
from sweep.units import Units, degrees


def result_json(outcome: Outcome, units: Units) -> str:
    """Return `result.json`: the same bytes for the same scene; only the sentences of flags are in the maker's units."""
    return json.dumps(_result(outcome, units), indent=2, allow_nan=False) + "\n"


def passes_csv(outcome: Outcome) -> str:
    """Return `passes.csv`: one row a pass, its flags as codes."""
    rows = [row | {"flags": " ".join(flag["code"] for flag in row["flags"])} for row in _passes(outcome, Units())]
    text = io.StringIO()
    writer = csv.DictWriter(text, rows[0].keys(), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _result(outcome: Outcome, units: Units) -> dict[str, Any]:
    job, profile = outcome.job, outcome.profile
    setup, surface = job.scene.setup, surface_of(job.scene)
    return {
        "title": job.scene.title,
        "chord_tolerance_mm": job.chord,
        "setup": {
            "fence_angle_deg": degrees(setup.fence_angle),
            "blade_tilt_deg": degrees(setup.blade_tilt),
            "blade_height_mm": setup.blade_height,
            "offset_mm": setup.offset,
            "fence_side": setup.fence_side,
            "rim_speed_m_per_s": job.scene.saw.speed * job.scene.tool.radius / 1000,
        },
        "fence": fence_result(job),
        "cut_list": cut_list_result(job),
        "panel": panel_result(job.scene),
        "flags": flag_words(outcome.flags_of(None), units),
        "passes": _passes(outcome, units),
        "check": {
            "max_deviation_mm": profile and profile.max_deviation,
            "rms_deviation_mm": profile and profile.rms_deviation,
            "tolerance_mm": profile and profile.tolerance,
            "within_tolerance": profile and profile.within_tolerance,
            "worst": profile and dict(zip(("y_mm", "z_mm", "deviation_mm"), profile.worst, strict=True)),
            "station_mm": profile and profile.station,
        },
        "surface": {
            "ridge_height_mm": surface.largest,
            "spacing_mm": surface.spacing,
            "sanding_depth_mm": surface.sanding_depth,
            "ridge_per_feed_per_tooth": surface.ridge_per_feed,
        },
        "finish": finish_result(job),
        "mitre": mitre_result(job),
        "finished": finished_result(job),
    }


def _passes(outcome: Outcome, units: Units) -> list[dict[str, Any]]:
    job = outcome.job
    total = job.stages[0].volume - job.finished.volume
    rows = []
    for one, taken, load in zip(job.passes, job.sections, job.loads, strict=True):
        volume = job.removed(one.number)
        rows.append(
            {
                "number": one.number,
                "height_mm": one.height,
                "rise_mm": one.rise,
                "stop_mm": one.stop,
                "width_mm": taken.width,
                "area_mm2": taken.area,
                "volume_mm3": volume,
                "share": volume / total if total else 0.0,
                "feed_speed_mm_per_s": one.feed_speed,
                "feed_per_tooth_mm": load.feed_per_tooth,
                "chip_thickness_max_mm": load.chip_thickness_max,
                "chip_thickness_mean_mm": load.chip_thickness_mean,
                "chip_side_edge_mm": load.chip_side,
                "chip_top_edge_mm": load.chip_top,
                "chip_volume_per_tooth_mm3": load.chip_volume,
                "teeth_in_wood": load.teeth_in_wood,
                "power_w": load.power,
                "power_low_w": load.low and load.low.power,
                "power_high_w": load.high and load.high.power,
                "feed_force_n": load.usual and load.usual.feed,
                "fence_force_n": load.usual and load.usual.fence,
                "lift_force_n": load.usual and load.usual.lift,
                "side_force_n": load.usual and load.usual.side,
                **_bands(load),
                "side_deflection_mm": load.deflection,
                "gullet_fill": load.gullet_fill,
                "ridge_height_mm": surface_of(job.scene, number=one.number).largest,
                "governing_limit": governing(shares_of(job.scene, one, taken.area, load)),
                "flags": flag_words(outcome.flags_of(one.number), units),
            }
        )
    return rows


def _bands(load: Load) -> dict[str, float]:
    """Return the least and the most of each force over the three states of wood and edge, N."""
    if load.usual is None:
        return {}
    found = {}
    for name in ("feed", "fence", "lift", "side"):
        states = [getattr(forces, name) for forces in (load.low, load.usual, load.high)]
        found |= {f"{name}_force_low_n": min(states), f"{name}_force_high_n": max(states)}
    return found
