"""Two cards from yesterday's round, from the window of a project to what is said of them at
the end: once with the mouse alone, once with the keyboard alone.

    test_cards.py TAPETUM DRAG-FOLDER
"""
import json
import os
import pathlib
import shutil
import subprocess
import sys
import time

import driver
from driver import Atspi, Program, wait_until, xdotool

PUSH = Atspi.Role.PUSH_BUTTON
CARDS = ("card-moss", "card-duri")
# The second card has a picture cut short and an empty file.
DONE = ("Taken in · safe to reuse", "Taken in · safe to reuse · 1 picture damaged, 1 file set aside")


def drag(program, helper, folder, target):
    """Drops @folder on what is called @target."""
    x, y = program.locate(target, part=True)
    # A file manager's folder has no need of the screen reader.
    environment = dict(os.environ, GTK_A11Y="none")
    source = subprocess.Popen([helper, str(folder)], env=environment)
    try:
        search = ["xdotool", "search", "--onlyvisible", "--pid", str(source.pid)]
        window = wait_until(lambda: subprocess.run(search, capture_output=True, text=True).stdout.split(), "the folder")[-1]
        xdotool("windowmove", window, "1300", "820")
        time.sleep(0.5)
        xdotool("mousemove", "1345", "850", "mousedown", "1")
        for step in range(1, 21):
            xdotool("mousemove", str(1345 + (x - 1345) * step // 20), str(850 + (y - 850) * step // 20))
            time.sleep(0.03)
        time.sleep(0.5)
        xdotool("mouseup", "1")
        time.sleep(0.5)
    finally:
        source.terminate()
        source.wait(10)


def find_all(program, names):
    def count():
        said = {text for node in program.walk() for text in (node.get_name(), node.get_description())}
        return said.issuperset(names)

    wait_until(count, " and ".join(names), 60)


def by_mouse(program, demo, helper):
    program.click("Take in its card…", PUSH)
    drag(program, helper, demo / "cards" / CARDS[0], "No card in the reader")
    program.find("24 frames · Mossy steps", Atspi.Role.LABEL)
    drag(program, helper, demo / "cards" / CARDS[1], "Drop folders here")
    program.find("133 frames · Durian flat", Atspi.Role.LABEL)
    program.click("Take in all 2 cards", PUSH, part=True)
    find_all(program, DONE)
    program.find("Safe to reuse this card", Atspi.Role.LABEL)
    program.click("_Close Close", PUSH)


def by_keyboard(program, demo):
    program.press("ctrl+t")
    program.find("No card in the reader", part=True)
    for card in CARDS:
        program.press("ctrl+o")
        program.find("Add", PUSH, part=True)
        program.type(str(demo / "cards" / card))
        program.press("Return")
        program.find(card, Atspi.Role.LABEL)
    program.find("24 frames · Mossy steps", Atspi.Role.LABEL)
    program.find("133 frames · Durian flat", Atspi.Role.LABEL)
    program.press("ctrl+Return")
    find_all(program, DONE)
    program.press("Escape")


def count_frames(executable, project):
    said = subprocess.run([executable, "batches", str(project), "--json"], check=True, capture_output=True, text=True).stdout
    return sum(batch["frames"] for batch in json.loads(said)["batches"])


def tell(executable, home, how):
    demo = home / how
    subprocess.run([executable, "demo", str(demo)], check=True, capture_output=True)
    project = demo / "kelabau.gpkg"
    before = count_frames(executable, project)
    with Program(executable, str(project)) as program:
        try:
            program.find("Take in its card…", PUSH)
            if how == "mouse":
                by_mouse(program, demo, sys.argv[2])
            else:
                by_keyboard(program, demo)
            program.find_gone("Take in cards")
            program.find("Undo: Take in", PUSH, part=True)
        except (AssertionError, driver.GLib.Error):
            program.explain()
            raise
    # One file is empty and gives no frame.
    after = count_frames(executable, project)
    assert after == before + 24 + 132, (before, after)
    shutil.rmtree(demo)


def main():
    home = pathlib.Path(os.environ["HOME"])
    for how in ("mouse", "keyboard"):
        tell(sys.argv[1], home, how)


if __name__ == "__main__":
    main()
