"""What a case must never do, and how that is seen.

A traceback, a warning, a status other than 0, 1 and 2, anything written on refusal, a file of the user's changed, a
refusal that is no sentence, output on which a terminal would act, NaN in a result, an open mesh, volume not kept.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
import tempfile
import traceback
import warnings
from itertools import pairwise
from pathlib import Path
from typing import NoReturn

from sweep.check.setups import judge_setups
from sweep.cli import main
from sweep.cut.job import simulate
from sweep.cut.moulding import mould
from sweep.errors import SweepError
from sweep.live import answers
from sweep.live.asked import asked
from sweep.plan.complete import complete, plan_setups
from sweep.scene.model import Scene
from sweep.scene.read import read_scene, scene_of
from sweep.shape import solid
from sweep.tolerance import AS_DRAGGED, VOLUME
from sweep.words import visible

from .case import Case


class FoundError(Exception):
    """Something that must not be."""


def examine(case: Case) -> str:
    """Return what is wrong with a case, in the words of a traceback, or nothing."""
    with tempfile.TemporaryDirectory(prefix="sweep-fuzz-") as folder:
        place = Path(folder) / "here"
        place.mkdir()
        case.lay_out(place)
        with contextlib.chdir(place), warnings.catch_warnings():
            warnings.simplefilter("error")
            try:
                for command in case.commands:
                    _try(command, place)
                _users_files_are_there(case, place)
            except Exception:
                return traceback.format_exc()
    return ""


def _try(command: list[str], place: Path) -> None:
    if command[0] == "laws":
        _laws(Path(command[1]))
    elif command[0] == "desk":
        _ask(*command[1:])
    else:
        _run(command, place)


def _run(command: list[str], place: Path) -> None:
    before = _everything(place.parent)
    said, complained = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(complained):
        try:
            main(command)
        except SystemExit as end:
            status = end.code
    if status not in (0, 1, 2):
        raise FoundError(f"status {status}\n{complained.getvalue()}")
    for text in (said.getvalue(), complained.getvalue()):
        if re.search(r"[\x00-\x09\x0b-\x1f\x7f]|Traceback", text):
            raise FoundError(f"printed: {text[:400]!r}")
    if status == 2:
        _is_a_refusal(complained.getvalue(), said.getvalue())
        after = _everything(place.parent)
        if after != before:
            changed = sorted(name for name in before.keys() | after.keys() if before.get(name, 0) != after.get(name, 0))
            raise FoundError(f"refused, and written: {changed[:5]}")
    for result in place.rglob("result.json"):
        if str(result.relative_to(place.parent)) not in before:
            json.loads(result.read_text(), parse_constant=_no_number)
    if "--write" in command and status != 2:
        read_scene("new.toml" if "new.toml" in command else command[1])


def _is_a_refusal(complaint: str, said: str) -> None:
    if complaint.startswith("Usage: "):  # of the command line itself
        return
    if not re.fullmatch(r"error: \S[^\n]{8,900}\n", complaint) or said:
        raise FoundError(f"refused with {complaint[:1200]!r}, having said {said[:200]!r}")


def _laws(path: Path) -> None:
    try:
        scene = read_scene(path)
        if scene.setups:
            _laws_of_setups(scene)
            return
        job = simulate(complete(scene).scene, AS_DRAGGED)
    except SweepError as refusal:
        _is_a_refusal(f"error: {visible(str(refusal))}\n", "")
        return
    stock = job.scene.stock
    size = stock.length * stock.width * stock.thickness
    for before, after in pairwise(job.stages):
        chips = solid.volume(solid.subtract(before.body, [after.body]))
        if before.chord == after.chord and abs(before.volume - after.volume - chips) > VOLUME * size:
            raise FoundError(f"pass {after.number}: {before.volume} is not {after.volume} and {chips} of chips")
    for stage in job.stages:
        _is_whole(stage.mesh, f"after pass {stage.number}", size)
    for piece in job.pieces:
        _is_whole(piece.mesh, f"piece {piece.number}", size)


def _laws_of_setups(scene: Scene) -> None:
    made = mould(scene, [one.setting for one in plan_setups(scene)], AS_DRAGGED)
    judge_setups(made)
    size = scene.stock.length * scene.stock.width * scene.stock.thickness
    taken = sum(job.stages[0].volume - job.finished.volume for job in made.jobs)
    off = [one for one in made.fallen if not one.is_kept]  # the others are among the pieces
    kept = sum(piece.volume for piece in made.pieces) + sum(one.volume for one in (*off, *made.finishing))
    if abs(kept + taken - size) > VOLUME * size:
        raise FoundError(f"{size} of stock is not {kept} of wood and {taken} of chips")
    for mesh in (stage.mesh for job in made.jobs for stage in job.stages):
        _is_whole(mesh, "a stage", size)
    for piece in made.pieces:
        _is_whole(piece.mesh, f"piece {piece.number}", size)


def _is_whole(mesh, what: str, size: float) -> None:
    if not mesh.is_closed():
        raise FoundError(f"{what}: the mesh is open")
    if not 0 < mesh.volume <= size * (1 + VOLUME):
        raise FoundError(f"{what}: a volume of {mesh.volume} mm3 of {size}")


def _ask(path: str, name: str, text: str) -> None:
    """Ask as a live page does; answers are worked out here instead of in processes of the server's."""
    try:
        now = answers.opened(Path(path), None)
        try:
            question = asked(json.dumps(json.loads(text) | {"version": now.version}).encode())
        except ValueError:
            return  # the server's status 400
        if name == "page":
            answers.page(Path(path), None)
        elif name == "save":
            scene_of(answers.revised(now, question), Path(path))
        elif "." in name:
            answers.file(now, question, name)
        else:
            json.loads(getattr(answers, name)(now, question))
    except SweepError as refusal:
        _is_a_refusal(f"error: {visible(str(refusal))}\n", "")


def _everything(place: Path) -> dict[str, object]:
    """Return what lies below a folder: bytes of files, targets of links, None for folders."""
    found: dict[str, object] = {}
    for path in place.rglob("*"):
        name = str(path.relative_to(place))
        if path.is_symlink():
            found[name] = str(path.readlink())
        else:
            found[name] = None if path.is_dir() else path.read_bytes()
    return found


def _users_files_are_there(case: Case, place: Path) -> None:
    written = {"scene.toml"} if any("--write" in command for command in case.commands) else set()
    for name, content in case.files.items():
        if name not in written and (not (place / name).is_file() or (place / name).read_bytes() != content):
            raise FoundError(f"a file of the user's is gone or changed: {name}")
    for name, to in case.links.items():
        if not (place / name).is_symlink() or str((place / name).readlink()) != to:
            raise FoundError(f"a link of the user's is gone or changed: {name}")


def _no_number(text: str) -> NoReturn:
    raise FoundError(f"{text} in result.json")
