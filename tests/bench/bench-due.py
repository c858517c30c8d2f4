#!/usr/bin/env python3
"""How long `tapetum due` takes on 300 stations with 3,000 units, nine with cells and a card each, and two years of visits.

  bench-due.py TAPETUM [--stations N] [--units N] [--days N]

Prints the wall time of the whole command and, in the same run, of a bare query that reads the same readings with
Python's sqlite3, and their ratio.
"""

import argparse
import os
import sqlite3
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import fleet as simulated  # noqa: E402


def grow(fleet, units):
    """More units with cells at every station: lamps that sleep and fire."""
    for number, station in enumerate(fleet.stations):
        while len(station.units) < units:
            code = "L%03d-%d" % (number, len(station.units))
            station.units.append(simulated.Unit(fleet.rng, code, "flash", "alkaline", (4, 2),
                                                {"sleep_ma": 0.2, "frame_mas": 120, "mas": 120 * simulated.FRAMES}))


def best_of(runs, work):
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--stations", type=int, default=300)
    parser.add_argument("--units", type=int, default=9)
    parser.add_argument("--days", type=int, default=730)
    arguments = parser.parse_args()

    fleet = simulated.Fleet(7, arguments.stations)
    grow(fleet, arguments.units)
    due = {station.code: 35 for station in fleet.stations}
    while fleet.day < arguments.days:
        fleet.live()
        for station in fleet.stations:
            if fleet.day >= due[station.code]:
                fleet.visit(station)
                due[station.code] = fleet.day + 28
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "fleet.gpkg")
        fleet.write(folder)
        subprocess.run([arguments.program, "new", path, "--name", "Fleet", "--zone", "UTC"], check=True, capture_output=True)
        names = ["stations", "units", "deployments", "fittings", "visits", "readings"]
        subprocess.run([arguments.program, "import", path, *[os.path.join(folder, name + ".csv") for name in names]], check=True,
                       capture_output=True)
        command = [arguments.program, "due", path, "--on", simulated.moment(fleet.day), "--json"]
        ours = best_of(5, lambda: subprocess.run(command, check=True, capture_output=True))

        def query():
            with sqlite3.connect(path) as db:
                db.execute("SELECT r.unit_id, v.at, r.volts, r.percent, r.action, r.state FROM readings r"
                           " JOIN visits v ON v.id = r.visit_id ORDER BY r.unit_id, v.at").fetchall()

        bare = best_of(5, query)
        with sqlite3.connect(path) as db:
            counts = [db.execute("SELECT count(*) FROM " + name).fetchone()[0] for name in ("stations", "units", "visits", "readings")]
    print("%d stations, %d units, %d visits, %d readings" % tuple(counts))
    print("tapetum due %.3f s, bare query of the readings %.3f s, ratio %.1f" % (ours, bare, ours / bare))


if __name__ == "__main__":
    main()
