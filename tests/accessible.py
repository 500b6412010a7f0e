"""What an engine for accessibility that is not ours, axe-core, finds against a page."""

from __future__ import annotations

from npm import source_of
from playwright.sync_api import Page

RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],
    "selectors": False,  # of all that is looked at, which takes a fifth of the time; what is wrong is told as it stands
}


def violations(page: Page) -> list[str]:
    """What axe-core finds against a page as it stands: the rule, what it asks, and where."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(source_of("axe-core", "axe.min.js"))
    found = page.evaluate("async rules => (await axe.run(document, rules)).violations", RULES)
    return [f"{one['id']}: {one['help']}: {[node['html'][:200] for node in one['nodes']][:4]}" for one in found]
