"""The first whole path, walked from outside with real clicks and keys: a new
project, stations from a table, a visit, undo, what another program adds
meanwhile, the line of the next round, and a figure for somebody else.

    test_story.py TAPETUM
"""
import datetime
import json
import os
import pathlib
import subprocess
import sys

import driver
from driver import Atspi, Program, wait_until

STATIONS = """station,name,latitude,longitude,uncertainty_m,feature
OTTER,Otter bank,2.41182,113.02742,15,trail at water
FIG,Fig bend,2.40671,113.03390,20,fruiting fig
"""
DEPLOYMENTS = """deployment,station,start,end,frames_per_trigger
OTTER-1,OTTER,2026-03-01T10:00+08:00,2026-04-10T10:00+08:00,3
FIG-1,FIG,2026-03-01T12:00+08:00,2026-04-10T12:00+08:00,3
"""
SPECIES = """scientific_name,rank,common_en
Helarctos malayanus,species,Sun bear
"""
OBSERVATIONS = """observation,deployment,start,type,scientific_name,count
O-1,OTTER-1,2026-03-05T06:10+08:00,animal,Helarctos malayanus,1
O-2,OTTER-1,2026-03-19T21:40+08:00,animal,Helarctos malayanus,2
O-3,FIG-1,2026-03-22T04:05+08:00,animal,Helarctos malayanus,1
"""

PUSH = Atspi.Role.PUSH_BUTTON


def read_json(executable, *arguments):
    """What the terminal command says of the same file."""
    done = subprocess.run([executable, *arguments, "--json"], check=True, capture_output=True, text=True)
    return json.loads(done.stdout)


def make_project(program, home):
    program.click("New project…", PUSH)
    program.find("Name", Atspi.Role.TEXT)
    program.type("Kelindan lodge")
    program.press("Return")
    program.find("Kelindan lodge – Tapetum", Atspi.Role.FRAME)
    path = home / "Kelindan lodge.gpkg"
    assert path.is_file(), f"{path} was not made"
    return path


def import_stations(program, home):
    table = home / "stations.csv"
    table.write_text(STATIONS)
    program.click("Import tables and tracks…", PUSH)
    program.click("Choose files…", PUSH)
    program.find("Choose", PUSH, part=True)
    program.type(str(table))
    program.press("Return")
    program.find("Would add 2, update 0; 0 are the same already; 0 refused.")
    program.click("_Import Import", PUSH)
    program.find("Otter bank", Atspi.Role.LABEL)
    program.find("Fig bend", Atspi.Role.LABEL)


def record_visit(program):
    program.click("Otter bank", Atspi.Role.LABEL)
    program.find("trail at water", Atspi.Role.LABEL)
    program.click("Record visit", PUSH)
    program.fill("Who", "Mina")
    program.find("Saves the visit without readings.", Atspi.Role.LABEL)
    program.press("ctrl+Return")
    program.find("Undo: Record visit at Otter bank", PUSH)


def undo_visit(program):
    program.press("ctrl+z")
    program.find("Redo: Record visit at Otter bank", PUSH)
    program.press("ctrl+shift+z")
    program.find("Undo: Record visit at Otter bank", PUSH)


def follow_others(program, executable, project, home):
    """Somebody imports in a terminal; the window shows it without being asked."""
    tables = {"deployments.csv": DEPLOYMENTS, "species.csv": SPECIES, "observations.csv": OBSERVATIONS}
    for name, text in tables.items():
        (home / name).write_text(text)
    said = read_json(executable, "import", str(project), *[str(home / name) for name in tables])
    assert said["added"] == 6, said
    program.press("ctrl+3")
    program.find("3 detections in", part=True)


def export_figure(program, home):
    target = home / "bears.svg"
    program.click("Figure of “Stations through time”", PUSH)
    program.click("Save the figure", PUSH, part=True)
    program.find("_Save Save", PUSH)
    program.press("ctrl+a")
    program.type(str(target))
    program.press("Return")
    wait_until(lambda: target.is_file() and target.with_suffix(".csv").is_file(), "the figure and its numbers")
    text = target.read_text()
    assert "<svg" in text
    assert "113.02742" not in text and "2.41182" not in text, "an exact place went out"


def read_round(executable, project):
    return read_json(executable, "due", str(project))["until"]


def move_round(program, executable, project):
    """The next round: a day typed and taken back, then the line by keys."""
    program.press("ctrl+1")
    program.fill("Next round", "2031-06-14")
    program.press("Return")
    wait_until(lambda: read_round(executable, project).startswith("2031-06-14"), "the typed round")
    program.find("Undo: Plan the round on 2031-06-14", PUSH)
    program.press("ctrl+z")
    program.find("Redo: Plan the round on 2031-06-14", PUSH)
    before = datetime.date.fromisoformat(read_round(executable, project)[:10])
    # From the entry over the calendar, the search and the list to the line.
    program.press("Tab", "Tab", "Tab", "Tab")
    program.press("Right", "Right", "Page_Up", "Return")
    after = (before + datetime.timedelta(days=9)).isoformat()
    program.find(f"Undo: Plan the round on {after}", PUSH)
    assert read_round(executable, project).startswith(after)


def quit_program(program):
    program.press("ctrl+q")
    wait_until(lambda: program.process.poll() is not None, "the program to end")
    assert program.process.returncode == 0, program.process.returncode


def main():
    executable = sys.argv[1]
    home = pathlib.Path(os.environ["HOME"])
    with Program(executable) as program:
        try:
            project = make_project(program, home)
            import_stations(program, home)
            record_visit(program)
            undo_visit(program)
            follow_others(program, executable, project, home)
            export_figure(program, home)
            move_round(program, executable, project)
            quit_program(program)
        except (AssertionError, driver.GLib.Error):
            program.explain()
            raise
    found = read_json(executable, "check", str(project))
    assert found["problems"] == [], found


if __name__ == "__main__":
    main()
