"""Words that mean something to a program that reads them, and nothing to a maker."""

from __future__ import annotations

OBEYED = (
    "[/]",
    "[bold red]oak[/bold red] [link=file:///etc/passwd]here[/link]",
    ":smile: [oak]",
    "{{data}} {{script}} {{style}} {{policy}}",
    "{0} {title} %s %(title)s ${title} $\\frac{$",
    "</script><script>window.broken = 1</script>",
    "<img src=x onerror=window.broken=1> <!--<script>",
    "]]> <![CDATA[ &lt; &amp; &#27; &unknown;",
    "\"'`; -- \\ \\\\ \\n",
    "=cmd|' /C calc'!A1",
    "+1 -1 @sum(1)",
    '#import "x.typ" #eval("1") *strong* $x$ @label <tag>',
    "solid ascii",
    "../../up /etc/passwd C:\\con",
    "\N{CJK UNIFIED IDEOGRAPH-6846} \N{FAMILY} \N{LATIN SMALL LETTER E}\N{COMBINING ACUTE ACCENT} \N{NO-BREAK SPACE}",
    "x" * 200,
)
"""Titles that a scene takes: each is shown as it stands."""


def _together(titles: tuple[str, ...], most: int = 200) -> tuple[str, ...]:
    joined = [titles[0]]
    for title in titles[1:]:
        alone = not title.isascii() or len(joined[-1]) + 1 + len(title) > most
        joined[-1:] = [joined[-1], title] if alone else [f"{joined[-1]} {title}"]
    return tuple(joined)


TOGETHER = _together(OBEYED)
"""The same in as few titles as a scene takes, where it is dear to show one and the place in it tells nothing."""

NO_WORDS = (
    "\x1b[31mred\x1b[0m",
    "\x1b]0;title\x07",
    "two\nlines",
    "back\b\b\b\r",
    "\x00",
    "\x7f",
    "\x9b31m",
    "\N{LINE SEPARATOR}",
    "\N{RIGHT-TO-LEFT OVERRIDE}elif",
    "\N{LEFT-TO-RIGHT ISOLATE}",
    "\ufffe",
    "\ud83d",
)
"""What no scene takes, and what is made visible where it turns up in the name of a file."""
