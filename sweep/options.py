"""Options that are made from data, or told in the order in which they were written."""

from __future__ import annotations

from collections.abc import Callable

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
