"""The cautions: worded in one file, and told by whatever shows a job."""

from __future__ import annotations

import re
from pathlib import Path

from click.testing import CliRunner
from reports import report_of

import sweep
from sweep.cli import main
from sweep.show.page.page import write_removal
from sweep.show.say import cautions

PACKAGE = Path(sweep.__file__).parent
WORDED = re.compile(r"permission\s+to\s+cut|qualified\s+instruction|unplug\s+the\s+saw|take\s+fingers", re.IGNORECASE)


def test_no_other_file_of_the_package_words_a_caution():
    """Code, templates and scripts take theirs from `cautions.py`, so that one change reaches all."""
    texts = [path for path in PACKAGE.rglob("*") if path.suffix in {".py", ".html", ".js", ".typ", ".css"}]
    worded = [path.name for path in texts if WORDED.search(re.sub(r'"\s*\n\s*f?"', "", path.read_text("utf-8")))]

    assert len(texts) > 200
    assert worded == ["cautions.py"]


def test_the_help_and_the_page_tell_them(tmp_path):
    """The command line in a sentence; the page in a line at its head and in a paragraph below."""
    helped = CliRunner().invoke(main, ["--help"]).output
    write_removal(tmp_path / "removal.html", report_of("corner-cupboard-cornice"))
    page = (tmp_path / "removal.html").read_text("utf-8")

    assert cautions.SENTENCE in " ".join(helped.split())
    assert f"<strong>{cautions.LINE}</strong>" in page
    assert cautions.PARAGRAPH in page
