"""The questions of `sweep new`, put to whoever sits at a terminal."""

from __future__ import annotations

from pathlib import Path

from sweep.disk.file import fit_new_file
from sweep.errors import SceneError
from sweep.plan.complete import complete
from sweep.quantity import in_inches
from sweep.scene.documented import documented_keys
from sweep.scene.new import Answers, new_text, read_answer, refuse_beyond_stock, tables_of_answers
from sweep.scene.notation import text_in_inches, told_as_written
from sweep.scene.questions import (
    ABOVE,
    DEPTH,
    FEED,
    FENCE,
    PROFILE,
    QUESTIONS,
    SHOULDERS,
    STOCK,
    TITLE,
    WIDTH,
    Question,
    answered_by,
    left_open,
)
from sweep.scene.read import scene_beside
from sweep.scene.shop import shop_in
from sweep.show.terminal.asking import asked, say

_INSTEAD = (WIDTH, DEPTH)
"""Asked only on the command line: at a terminal the marks are asked for."""


def new_scene(file: Path | None, given: dict[str, str], asking: bool) -> tuple[Path, str]:
    """Return the file and the text of a new scene that can be cut.

    Parameters
    ----------
    file : Path or None
    given : dict
        From the names of questions to answers.
    asking : bool
        Whether somebody is there to be asked for what is missing or does not go together.

    Raises
    ------
    SceneError
        Where an answer is wrong, missing or does not go with the others, and nobody can be asked.
    """
    if file is None and not asking:
        raise SceneError("FILE", "it is missing", "name the file to write, for example plinth.toml")
    place = ask_file() if file is None else file
    fit_new_file(place, "FILE")
    shop = answered_by(shop_in(place.parent))
    missing = [] if asking else left_open(given | shop)
    if missing:
        inches = any(text_in_inches(text) for text in given.values())
        example = " ".join(f'{one.option} "{one.example[inches]}"' for one in missing)
        raise SceneError(missing[0].option, "it is missing", f"write, for example, {example}")
    answers = ask_the_rest(place, given, shop)
    while True:  # ends with the user, who is asked each time
        try:
            return place, _text_of(answers, place)
        except SceneError as wrong:
            again = _asks_for(wrong.field, answers) if asking else None
            if again is None:
                raise
            say(f"Error: {wrong}")
            answers = answers | {again.name: ask(again, place, answers)}


def _text_of(answers: dict[str, Answers], file: Path) -> str:
    """Return the text of a scene, once it is known that it can be cut."""
    written = {key: value for answer in answers.values() for key, value in answer.items()}
    tables = tables_of_answers(written)
    with told_as_written(tables):
        complete(scene_beside(tables, file.parent))
    return new_text(written)


def ask_file() -> Path:
    """Return the name of a file that is not there yet."""

    def read(text: str) -> Path:
        fit_new_file(Path(text), "FILE")
        return Path(text)

    return asked("File to write", read)


def ask_the_rest(file: Path, given: dict[str, str], shop: dict[str, str]) -> dict[str, Answers]:
    """Return the answers by the names of their questions: those given, and those asked for.

    Where nothing is given every question is put, else only those without which there is no scene; what the shop answers
    is not asked.
    """
    answers = {one.name: read_answer(one, given[one.name], file) for one in QUESTIONS if one.name in given}
    for one in QUESTIONS:
        wanted = one in left_open({name: "" for name in answers if answers[name]} | shop)
        if one.name not in answers and (wanted or (not given and not one.required and one not in _INSTEAD)):
            answers[one.name] = ask(one, file, answers)
    return answers


def ask(question: Question, file: Path, known: dict[str, Answers]) -> Answers:
    """Return the answer to one question; none where Enter alone means that there is nothing to say.

    Parameters
    ----------
    question : Question
    file : Path
        The scene's.
    known : dict
        The answers so far: their notation is that of examples and defaults, and marks must lie on the stock.
    """
    inches = in_inches(known.get(STOCK.name, {}).get("stock.length"))
    default = _default(question, file, inches)

    def read(text: str) -> Answers:
        found = read_answer(question, text, file) if text else {}
        if question in (SHOULDERS, ABOVE) and STOCK.name in known:
            refuse_beyond_stock(known[STOCK.name] | found)
        return found

    words = question.asks[0].upper() + question.asks[1:]
    if not default:
        examples = question.example if question is STOCK else question.example[inches : inches + 1]
        words += f" (for example {', or '.join(examples)}{'' if question.required else '; Enter for none'})"
    return asked(words, read, default)


def _asks_for(field: str, answers: dict[str, Answers]) -> Question | None:
    """Return the question whose answer is at fault; whatever is wrong with points is wrong with their file."""
    if answers.get(PROFILE.name) and field.startswith("target."):
        return PROFILE
    return next((one for one in QUESTIONS if field in one.keys), None)


def _default(question: Question, file: Path, inches: bool) -> str | None:
    """Return what Enter stands for: a default of the program's, nothing at all, or None where there is none."""
    if question == TITLE:
        return file.stem
    if question in (FENCE, FEED):
        key = next(key for key in documented_keys() if key.path == question.keys[0])
        return str(key.in_inches if inches and key.in_inches else key.default)
    return None if question.required else ""
