"""The tables that the benchmarks end with. That each answer is right is asserted; speed is shown, and asserted only
where a time of the processor was asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest
from bench.yardstick import Job

from sweep.scene.model import Scene

Table = dict[str, list[Sequence[str]]]
TABLES = pytest.StashKey[Table]()


def pytest_configure(config: pytest.Config) -> None:
    """Our tables stand in for the plugin's own; --benchmark-verbose brings that back."""
    config.stash[TABLES] = {}
    config.option.benchmark_quiet = True


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Print every table, its first row the heading."""
    for title, rows in config.stash[TABLES].items():
        terminalreporter.section(title)
        widths = [max(len(row[k]) for row in rows if k < len(row)) for k in range(len(rows[0]))]
        for row in rows:
            cells = [cell.rjust(width) for cell, width in zip(row, widths, strict=False)]
            terminalreporter.write_line("  ".join([row[0].ljust(widths[0]), *cells[1:]]))


@pytest.fixture(scope="session")
def job(cornice: Scene) -> Job:
    """The demo scene: eight through passes."""
    return Job(cornice)


@pytest.fixture
def write_row(request: pytest.FixtureRequest) -> Callable[[str, Sequence[str], Sequence[str]], None]:
    """Return how a row is added to a table: title, heading, cells."""
    tables = request.config.stash[TABLES]

    def write(title: str, heading: Sequence[str], cells: Sequence[str]) -> None:
        tables.setdefault(title, [heading]).append(cells)

    return write
