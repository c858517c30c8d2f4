"""When is the sun bear about, and has that changed since last year? Asked of the window,
once by mouse only and once by keys only, in fewer than ten actions each.

    test_findings.py TAPETUM
"""
import os
import pathlib
import re
import subprocess
import sys

import driver
from driver import Atspi, Program

PUSH = Atspi.Role.PUSH_BUTTON
MOST_ACTIONS = 9

# The demo's clock stands at 12 June 2026.
THIS_YEAR = "Sun bear, at all 15 stations that worked, 13 June 2025 to 12 June 2026, any hour. "
LAST_YEAR = "Sun bear, at all 15 stations that worked, 13 June 2024 to 12 June 2025, any hour. "

# The line on top, the species and five panes.
PARTS = 7


class Hands:
    """Counts what somebody does: a click, a key, a word typed."""

    def __init__(self, program):
        self.program = program
        self.actions = 0

    def click(self, *arguments, **named):
        self.actions += 1
        self.program.click(*arguments, **named)

    def point(self, name):
        """A click on a place rather than on a control."""
        self.actions += 1
        x, y = self.program.locate(name, part=True)
        driver.xdotool("mousemove", str(x), str(y), "click", "1")

    def press(self, key):
        self.actions += 1
        self.program.press(key)

    def type(self, word):
        self.actions += 1
        self.program.press(*word)


def read_answer(program):
    """The two sentences and the line below them, wherever they came from."""
    this, last = (program.find(start, Atspi.Role.LABEL, part=True).get_name() for start in (THIS_YEAR, LAST_YEAR))
    beside = program.find("Overlap of the hours", Atspi.Role.LABEL, part=True).get_name()
    for sentence in (this, last):
        assert re.search(r"\. \d+ detections in [\d,]+ trap nights: [\d.]+ per 100 \([\d.]+ to [\d.]+\)\.$", sentence), sentence
    assert re.search(r"^Seen [\d.]+ times as often in the later period as in the earlier \([\d.]+ to [\d.]+; p = ", beside), beside
    return this, last, beside


def by_mouse(program):
    hands = Hands(program)
    hands.click("Findings", Atspi.Role.PAGE_TAB)
    program.find("All species, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    hands.point("Sun bear, sensitive, 60 detections")
    program.find("Sun bear, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    hands.click("Compare")
    hands.click("The last 12 months and the 12 before", PUSH)
    return hands, read_answer(program)


def by_keys(program):
    hands = Hands(program)
    program.find("Field", Atspi.Role.PAGE_TAB)
    hands.press("ctrl+3")
    program.find("All species, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    hands.type(["s", "u", "n", "space", "b"])
    program.find("Sun bear, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    hands.press("alt+c")
    program.find("The last 12 months and the 12 before", PUSH)
    hands.press("Return")
    answer = read_answer(program)
    # And all the way back: one choice, then everything.
    program.press("alt+Left")
    program.find("Sun bear, at all 15 stations that worked, 12 June 2024 to 12 June 2026", Atspi.Role.LABEL, part=True)
    program.press("Escape", "Escape")
    program.find("All species, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    # F6 goes all the way round the panes, back to where a name is typed.
    program.press("ctrl+3", *["F6"] * PARTS)
    program.press(*"sun")
    program.find("Sun bear, at all 15 stations that worked", Atspi.Role.LABEL, part=True)
    return hands, answer


def tell(executable, project, story):
    with Program(executable, str(project)) as program:
        try:
            hands, answer = story(program)
        except (AssertionError, driver.GLib.Error):
            program.explain()
            raise
    print(f"{story.__name__}: {hands.actions} actions", *answer, sep="\n  ")
    assert hands.actions <= MOST_ACTIONS, f"{story.__name__} took {hands.actions} actions"
    return answer


def main():
    executable = sys.argv[1]
    home = pathlib.Path(os.environ["HOME"])
    subprocess.run([executable, "demo", str(home / "demo")], check=True, capture_output=True)
    project = next((home / "demo").glob("*.gpkg"))
    assert tell(executable, project, by_mouse) == tell(executable, project, by_keys)


if __name__ == "__main__":
    main()
