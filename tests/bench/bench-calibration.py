#!/usr/bin/env python3
"""How far the run-out forecasts can be trusted: simulated fleets, imported and asked by `tapetum due`.

  bench-calibration.py TAPETUM [--fleets N] [--detail] [--no-rounds]

Prints three tables: how often the 80 % interval held the truth, by part and by quarter of the true rate; how often
stations were down for each tenth of the chance given; and nights lost against a four-week calendar at the same
number of visits. The suite does the same on fewer fleets and holds the numbers to bounds (test_calibration.py).
"""

import argparse
import collections
import datetime
import json
import math
import os
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import fleet as simulated  # noqa: E402

AHEAD = (14, 28, 56, 112)  # days to the next round


def run(program, *arguments):
    done = subprocess.run([program, *arguments], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit("%s: %s" % (" ".join(arguments[:2]), done.stderr.strip()[:400]))
    return done.stdout


class Project:
    def __init__(self, program, folder):
        self.program, self.folder, self.path = program, folder, os.path.join(folder, "fleet.gpkg")
        run(program, "new", self.path, "--name", "Fleet", "--zone", "UTC")

    def take(self, names):
        paths = [os.path.join(self.folder, name + ".csv") for name in names]
        run(self.program, "import", self.path, *[path for path in paths if os.path.exists(path)])

    def due(self, on, until):
        return json.loads(run(self.program, "due", self.path, "--on", simulated.moment(on), "--until",
                              simulated.moment(until), "--json"))


ALL = ["stations", "units", "deployments", "fittings", "visits", "readings"]


def instant(text):
    if text is None:
        return math.inf
    at = datetime.datetime.fromisoformat(text.replace("Z", "+00:00")).astimezone(datetime.timezone.utc)
    return (at.replace(tzinfo=None) - simulated.START).total_seconds() / 86400


def age(fleet, history):
    """A past of visits every four to seven weeks, some stations later than others."""
    due = {station.code: fleet.rng.uniform(20, 45) for station in fleet.stations}
    while fleet.day < history:
        fleet.live()
        for station in fleet.stations:
            if fleet.day >= due[station.code]:
                fleet.visit(station)
                due[station.code] = fleet.day + fleet.rng.uniform(28, 50)


class Tally:
    def __init__(self):
        self.held = collections.Counter()
        self.all = collections.Counter()
        self.below = collections.Counter()

    def add(self, key, low, high, truth):
        self.all[key] += 1
        self.held[key] += low <= truth <= high
        self.below[key] += truth < low

    def share(self, key):
        return self.held[key] / self.all[key]


def judge_chances(said, truths, ahead, bins):
    for row in said["stations"]:
        truth = truths[row["station"]]
        chances = [(row["p_down"], min(truth.values())), (row["card"]["p_full"], truth["card"])]
        chances += [(unit["p_out"], truth[unit["unit"]]) for unit in row["units"]]
        bins += [(chance, days <= ahead) for chance, days in chances if chance is not None]


def judge_intervals(fleet, said, truths, quarters, tally, by_age):
    by_code = {station.code: station for station in fleet.stations}
    for row in said["stations"]:
        station, truth = by_code[row["station"]], truths[row["station"]]
        parts = [("station", row["p10"], row["p90"], min(truth.values())),
                 ("card", row["card"].get("p10"), row["card"].get("p90"), truth["card"])]
        parts += [(unit["kind"], unit["p10"], unit["p90"], truth[unit["unit"]]) for unit in row["units"]]
        for part, low, high, days in parts:
            detail = [fleet.label + ", " + part, fleet.label + ", quarter %d" % quarters[station.code]] if by_age else []
            for key in (part, "overall", "quarter %d" % quarters[station.code], fleet.label, *detail):
                tally.add(key, instant(low), instant(high), fleet.day + days)


def calibrate(program, fleets, n_stations, by_age=False):
    tally, bins = Tally(), []
    for seed in range(fleets):
        for label, history in (("new", 0), ("two months", 60), ("half a year", 180), ("two years", 730)):
            fleet = simulated.Fleet(1000 * seed + history, n_stations)
            fleet.label = label
            age(fleet, history)
            ranked = sorted(fleet.stations, key=lambda station: station.level)
            quarters = {station.code: 1 + 4 * i // len(ranked) for i, station in enumerate(ranked)}
            with tempfile.TemporaryDirectory() as folder:
                project = Project(program, folder)
                fleet.write(folder)
                project.take(ALL)
                truths = {station.code: station.run_out(fleet.day) for station in fleet.stations}
                for ahead in AHEAD:
                    said = project.due(fleet.day, fleet.day + ahead)
                    judge_chances(said, truths, ahead, bins)
                judge_intervals(fleet, said, truths, quarters, tally, by_age)
    return tally, bins


def lose(program, seed, n_stations, weeks, clever):
    """Nights lost when a quarter of the stations is served each week: in turn, or as the forecast says."""
    fleet = simulated.Fleet(seed, n_stations, small=True)
    each, turn, lost = n_stations // 4, 0, 0
    with tempfile.TemporaryDirectory() as folder:
        project = Project(program, folder) if clever else None
        for week in range(weeks):
            lost += fleet.live(7)
            if clever:
                fleet.write(folder) if week == 0 else fleet.write_visits(folder)
                project.take(ALL if week == 0 else ["visits", "readings"])
                said = project.due(fleet.day, fleet.day + 14)["stations"]
                said.sort(key=lambda row: (-(row["lost_nights"] or 0), row["p50"] or "9"))
                codes = [row["station"] for row in said[:each]]
            else:
                codes = [fleet.stations[(turn + i) % n_stations].code for i in range(each)]
                turn += each
            for station in fleet.stations:
                if station.code in codes:
                    fleet.visit(station, swap_all=True)
    return lost, fleet.n_visits


def print_held(tally, mark=""):
    print("%s%-24s %6s %9s %12s" % (mark, "80 % interval", "n", "held", "truth early"))
    for key in sorted(tally.all):
        print(mark + "%-24s %6d %8.1f%% %11.1f%%" % (key, tally.all[key], 100 * tally.share(key), 100 * tally.below[key] / tally.all[key]))


def print_bins(bins):
    print("\n%-12s %6s %10s %10s" % ("chance given", "n", "mean given", "came true"))
    for k in range(10):
        rows = [(p, came) for p, came in bins if k / 10 <= p < (k + 1) / 10 or (k == 9 and p == 1)]
        if rows:
            print("%.1f to %.1f   %6d %9.1f%% %9.1f%%" % (k / 10, (k + 1) / 10, len(rows), 100 * sum(p for p, _ in rows) / len(rows),
                                                      100 * sum(came for _, came in rows) / len(rows)))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--fleets", type=int, default=5)
    parser.add_argument("--stations", type=int, default=60)
    parser.add_argument("--no-rounds", action="store_true")
    parser.add_argument("--detail", action="store_true", help="also by age of the project")
    arguments = parser.parse_args()

    tally, bins = calibrate(arguments.program, arguments.fleets, arguments.stations, arguments.detail)
    print_held(tally)
    print_bins(bins)
    if arguments.no_rounds:
        return
    print("\n%-8s %22s %22s %8s" % ("fleet", "four-week calendar", "by the forecast", "fewer"))
    for seed in range(arguments.fleets):
        fixed, visits = lose(arguments.program, 77 + seed, arguments.stations, 40, False)
        clever, same = lose(arguments.program, 77 + seed, arguments.stations, 40, True)
        assert visits == same
        print("%-8d %9d of %d visits %9d of %d visits %7.0f%%" % (seed, fixed, visits, clever, same, 100 * (1 - clever / max(1, fixed))))


if __name__ == "__main__":
    main()
