"""Options that are made from data, told in the order in which they were written, or many."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from sweep.scene.questions import QUESTIONS


def question_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command an option for each question about a new job."""
    for question in reversed(QUESTIONS):
        says = f'{question.asks[0].upper()}{question.asks[1:]}; "{question.example[0]}".'
        command = click.option(question.option, help=says)(command)
    return command


class InOrder(click.Command):
    """A command that is told its options in the order in which they were written, each with its text."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Parse them, and keep pairs of name and text in `ctx.obj`."""
        values, _, order = self.make_parser(ctx).parse_args(list(args))
        left = {name: iter(texts if isinstance(texts, list) else [texts]) for name, texts in values.items()}
        ctx.obj = [(one.name, next(left[one.name])) for one in order if one.name in left and one.name != "scene"]
        return super().parse_args(ctx, args)


_MEASURED = {
    "width": 'Width of the cove at the table: "51.9 mm".',
    "depth": 'Its depth from the face on the table: "11.1 mm".',
    "flat": 'The flat from the edge along the fence to the cove: "20.1 mm".',
}


def measured_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for what is measured of a cove, each as often as it was measured."""
    exactly = 'Standard deviation of each: "0.1 mm"; accuracy.measured of the scene unless given.'
    for name in reversed((*_MEASURED, "points")):
        command = click.option(f"--{name}-accuracy", multiple=True, help=exactly)(command)
    command = click.option("--points", multiple=True, help="Points of the profile, a file as for `match`.")(command)
    for name, says in reversed(_MEASURED.items()):
        command = click.option(f"--{name}", multiple=True, help=says)(command)
    return click.option("--pass", multiple=True, type=int, help="What follows was measured after this pass.")(command)


_KEPT = (
    click.option(
        "--into", type=click.Path(path_type=Path), help="Folder of the record; record/ beside SCENE unless given."
    ),
    click.option("--date", help='Day on which it was made: "2026-11-26"; today unless given.'),
    click.option("--block", help="The set-up block or piece that is kept with it, and where."),
    click.option("--notes", help="Anything else, on one line."),
    click.option("--record", type=click.Path(path_type=Path), help="What the phone at the saw wrote down."),
    click.option("--width", help='What was measured on the wood: the width at the table, "60.9 mm".'),
    click.option("--depth", help='The depth from the face on the table, "16.1 mm".'),
    click.option("--flat", help='From the edge along the fence to the cove, "15.6 mm".'),
    click.option("--points", type=click.Path(path_type=Path), help="Points measured on the profile, as for `match`."),
    click.option("--accuracy", help='Standard deviation of each; "0.1 mm" or "4 thou" unless given.'),
    click.option("--pass", "after_pass", type=click.IntRange(1), help="After which pass; after the last unless given."),
    click.option("--setup", type=click.IntRange(1), help="Of which of several set-ups; the first unless given."),
)

_PICTURE = (
    click.option("--scale", help='How large a pixel is: "50 mm = 412 px".'),
    click.option("--marks", help='Or two marks a known length apart, x and y in pixels: "100,80 512,84 = 50 mm".'),
    click.option(
        "--table",
        "side",
        type=click.Choice(["bottom", "top", "left", "right"]),
        help="Side of the picture on which the face lies that lay on the table; the one with the hollow unless given.",
    ),
    click.option(
        "--as",
        "kind",
        type=click.Choice(["points", "cove", "whole"]),
        default="points",
        show_default=True,
        help="The face, for match and correct; its cove, or the whole section, for target.file.",
    ),
    click.option("--out", type=click.Path(path_type=Path), help="File of points to write; beside IMAGE unless given."),
    click.option("--page", is_flag=True, help="Correct the outline on a page in the browser, and save it from there."),
    click.option("--port", type=int, default=0, help="Of the page, on the loopback address; a free one unless given."),
    click.option("--no-browser", is_flag=True, help="Print the page's address and open no browser."),
)


def kept_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for what is kept with a job that was made."""
    for option in reversed(_KEPT):
        command = option(command)
    return command


def picture_options(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for what is traced in a picture, and where it is written."""
    for option in reversed(_PICTURE):
        command = option(command)
    return command
