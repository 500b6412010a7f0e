"""How every command ends: with a status, and with one sentence where it is not 0 or 1, whatever happens.

0  nothing is flagged, and what is wanted is within tolerance
1  complete, and something is flagged or out of tolerance: nothing else ends with 1
2  wrong input, or something that the system refused
3  a fault of this program: its traceback is printed, to be sent to us
130  interrupted (128 and the number of the signal, as shells have it)
"""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

import click

from sweep.errors import SweepError
from sweep.words import visible

REFUSED, FAULT, INTERRUPTED = 2, 3, 130


class Commands(click.Group):
    """A group of commands, each of which returns its status, listed as they are written: in the order of a job."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return their names."""
        return list(self.commands)

    def main(self, *args: Any, **settings: Any) -> NoReturn:
        """Parse, call, and end the process."""
        _fill_closed_streams()
        status = status_of(lambda: super(Commands, self).main(*args, **settings | {"standalone_mode": False}))
        _drop_what_cannot_be_printed()
        sys.exit(status)


def status_of(command: Callable[[], int | None]) -> int:
    """Run a command and return the status to end with; say in one sentence what stopped it."""
    try:
        status = command() or 0
        sys.stdout.flush()
        return status
    except SweepError as wrong:
        return _refused(str(wrong))
    except click.Abort:  # Ctrl+C
        _say("interrupted.")
        return INTERRUPTED
    except click.ClickException as wrong:
        with suppress(OSError):
            wrong.show()
        return REFUSED
    except OSError as wrong:
        # whatever writes or reads a file of the user's says so itself, and names it
        what = "what is printed cannot be written" if wrong.filename is None else f"{wrong.filename} cannot be used"
        return _refused(f"{what} ({wrong.strerror or wrong}); files that were written are whole.")
    except SystemExit:  # the libraries that print end like this when nobody reads any more
        return _refused("what is printed was not read to its end; files that were written are whole.")
    except MemoryError:
        return _refused("this takes more memory than there is; simplify the scene.")
    except Exception:
        with suppress(OSError):
            traceback.print_exc()
        _say("this is a fault of sweep, not of what you wrote; please report it with the lines above.")
        return FAULT


def _refused(sentence: str) -> int:
    _say(sentence)
    return REFUSED


def _say(sentence: str) -> None:
    with suppress(OSError):
        click.echo(f"error: {visible(sentence, 'ascii')}", err=True)


def _fill_closed_streams() -> None:
    """Let nothing that is opened later take the number of a standard stream, and let no letter stop a sentence."""
    while (number := os.open(os.devnull, os.O_RDWR)) <= 2:  # ends after three at most
        os.set_inheritable(number, True)
    os.close(number)
    sys.stdout = sys.stdout or Path(os.devnull).open("w")
    sys.stderr = sys.stderr or Path(os.devnull).open("w")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _drop_what_cannot_be_printed() -> None:
    """Keep the interpreter from failing at its end on what a closed pipe or a full device did not take."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            with suppress(OSError, ValueError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
