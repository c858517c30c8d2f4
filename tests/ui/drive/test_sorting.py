"""A card is named from the list of its triggers, once by mouse only and once by
keys only; what came of it is read back in a terminal.

    test_sorting.py TAPETUM
"""
import json
import os
import pathlib
import subprocess
import sys

import driver
from driver import Atspi, Program, wait_until

PUSH = Atspi.Role.PUSH_BUTTON


def read_frames(executable, project, *arguments):
    done = subprocess.run([executable, "frames", str(project), *arguments, "--json"], check=True, capture_output=True, text=True)
    return json.loads(done.stdout)


def count_undecided(executable, project, batch):
    return read_frames(executable, project, "--batch", batch, "--undecided")["triggers"]


def find_card(executable, project):
    """A card with something left to name, and how many triggers that is."""
    done = subprocess.run([executable, "batches", str(project), "--json"], check=True, capture_output=True, text=True)
    for batch in json.loads(done.stdout)["batches"]:
        if batch["undecided"] >= 3:
            return batch["batch"], batch["undecided"]
    raise AssertionError("the demo has no card with three undecided triggers")


def by_mouse(program, executable, project, batch, left):
    program.click("Sorting", Atspi.Role.PAGE_TAB)
    program.click(f"; {batch},", part=True)
    program.find(f"All triggers of card {batch}, by time.")
    program.click("Undecided", PUSH)
    program.find(f"Undecided triggers of card {batch}, by time.")
    program.find(f"{left} triggers, {left} undecided")
    x, y = program.locate("; undecided;", part=True)
    driver.xdotool("mousemove", str(x), str(y), "click", "1")
    program.find("1 trigger chosen")
    program.click("Blank", PUSH)
    wait_until(lambda: count_undecided(executable, project, batch) == left - 1, "the first to be named")
    program.click("Undo", PUSH, part=True)
    wait_until(lambda: count_undecided(executable, project, batch) == left, "that to be undone")
    program.click("Clear", PUSH)
    program.find("All triggers, by time.")


def by_keys(program, executable, project):
    left = read_frames(executable, project, "--undecided")["triggers"]
    program.find("Field", Atspi.Role.PAGE_TAB)
    program.press("ctrl+2")
    program.find("All triggers, by time.")
    program.press("shift+Tab", "shift+Tab", "shift+Tab", "shift+Tab", "shift+Tab", "space")
    program.find("Undecided triggers, by time.")
    program.find(f"{left} triggers, {left} undecided")
    # Back over the button that clears the filter, which is of use now.
    program.press("Tab", "Tab", "Tab", "Tab", "Tab", "Tab", "Home", "shift+Right", "shift+Right")
    program.find("3 triggers chosen")
    program.press("u")
    wait_until(lambda: read_frames(executable, project, "--undecided")["triggers"] == left - 3, "three to be named")
    program.find(f"{left - 3} triggers, {left - 3} undecided")  # the window knows, and offers to undo it
    program.press("ctrl+z")
    wait_until(lambda: read_frames(executable, project, "--undecided")["triggers"] == left, "three to be undone")
    program.find(f"{left} triggers, {left} undecided")
    program.press("Return")
    program.find(f"of {left}, {left} undecided", part=True)
    program.press("b")
    program.find(f"of {left}, {left - 1} undecided", part=True)
    program.press("Escape")
    program.find(f"{left - 1} triggers, {left - 1} undecided")
    assert read_frames(executable, project, "--undecided")["triggers"] == left - 1


def walk(executable, project, story, *arguments):
    with Program(executable, str(project)) as program:
        try:
            story(program, executable, project, *arguments)
        except (AssertionError, driver.GLib.Error):
            program.explain()
            raise


def main():
    executable = sys.argv[1]
    home = pathlib.Path(os.environ["HOME"])
    subprocess.run([executable, "demo", str(home / "demo")], check=True, capture_output=True)
    project = next((home / "demo").glob("*.gpkg"))
    walk(executable, project, by_mouse, *find_card(executable, project))
    walk(executable, project, by_keys)


if __name__ == "__main__":
    main()
