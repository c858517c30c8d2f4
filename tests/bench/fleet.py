"""Simulated fleets of camera stations with known truth, for the calibration of forecasts.

Everything here is invented and made without looking at how the program reckons: rates that differ by station,
by season and from week to week, triggers that come in clumps, units that draw more or less than their sheet says,
cells that hold more or less than printed on them, meters that are off, people who swap when a reading looks low.
"""

import csv
import datetime
import math
import os
import random

START = datetime.datetime(2024, 3, 1, 12)
FAR = 3652  # days: nothing is followed farther

MODELS = {"Ash": 1.0, "Birch": 1.3, "Cedar": 0.8}  # how far each model's sheet is off
CHEMISTRIES = {"alkaline": 2400, "nimh": 2000, "lithium": 3000}
YEARLY_LOSS = {"alkaline": 0.03, "nimh": 0.25, "lithium": 0.01}
FRAMES = 3
NIGHT = 0.55


def moment(day):
    return (START + datetime.timedelta(seconds=round(day * 86400))).strftime("%Y-%m-%dT%H:%M:%SZ")


def lognormal(rng, sd):
    return math.exp(rng.gauss(0, sd))


class Unit:
    """A thing with cells: what it draws in truth, and how much of its present cells is used."""

    def __init__(self, rng, code, kind, chemistry, cells, sheet):
        self.rng, self.code, self.kind, self.chemistry, self.cells, self.sheet = rng, code, kind, chemistry, cells, sheet
        self.model = rng.choice(sorted(MODELS)) if kind == "camera" else "Lamp"
        self.factor = (MODELS[self.model] if kind == "camera" else 1.15) * lognormal(rng, 0.15)
        self.mah = CHEMISTRIES[chemistry]
        self.renew()

    def renew(self):
        self.whole = self.mah * self.cells[1] * lognormal(self.rng, 0.1)
        self.used = 0.0

    def per_day(self, triggers):
        night = NIGHT if self.kind == "flash" else 1
        drawn = 24 * self.sheet["sleep_ma"] + self.sheet["mas"] * night * triggers / 3600
        return drawn * self.factor + self.whole * YEARLY_LOSS[self.chemistry] / 365

    @property
    def share(self):
        return max(0.0, 1 - self.used / self.whole)

    def read(self):
        """What a tired person writes down: percent or volts, neither exact."""
        if self.used >= self.whole:
            return {"state": "dead"}
        if self.chemistry == "alkaline" and self.rng.random() < 0.4:
            volts = self.cells[0] * (1.08 + 0.47 * self.share ** 0.8 + self.rng.gauss(0, 0.03))
            return {"state": "working", "volts": "%.2f" % max(0.5, volts)}
        if self.rng.random() < 0.15:
            return {"state": "working"}
        percent = 100 * self.share + self.rng.gauss(0, 7)
        return {"state": "working", "percent": "%.0f" % min(100, max(0, percent))}


class Station:
    def __init__(self, rng, number, small):
        self.rng, self.code = rng, "S%03d" % number
        self.level = 6 * lognormal(rng, 0.9)
        self.clump = rng.choice([1.3, 2.5, 5.0])
        self.wander = rng.gauss(0, 0.25)
        chemistry = rng.choice(sorted(CHEMISTRIES))
        awake, seconds, frame = rng.choice([(180, 6, 200), (240, 9, 260), (150, 5, 160)])
        self.camera = Unit(rng, "K%03d" % number, "camera", chemistry, (4, 1 if small else 2),
                           {"sleep_ma": 0.35, "awake_ma": awake, "awake_s": seconds, "frame_mas": frame,
                            "mas": awake * seconds + frame * FRAMES})
        self.units = [self.camera]
        if rng.random() < 0.5:
            # 1000 * W s * power / (4 cells * 1.2 V * 0.6) mA s a flash, as the manual of a charger would say.
            self.units.append(Unit(rng, "F%03d" % number, "flash", "nimh", (4, 1),
                                   {"sleep_ma": 0.25, "flash_ws": 20, "power_fraction": 0.125,
                                    "mas": 1000 * 20 * 0.125 / (4 * 1.2 * 0.6) * FRAMES}))
        self.gigabytes = rng.choice([8, 16, 32] if small else [16, 32, 64])
        self.frame_mb = 4.0
        self.capacity = int(self.gigabytes * 1000 / self.frame_mb * lognormal(rng, 0.04))
        self.frames = 0

    def rate(self, day):
        season = 0.45 * math.cos(2 * math.pi * (day - 120) / 365.25)
        return self.level * math.exp(season + self.wander)

    def triggers(self, day):
        """Of one day; the level goes its own way with a memory of about six weeks."""
        keep = math.exp(-1 / 45)
        self.wander = self.wander * keep + self.rng.gauss(0, 0.25) * math.sqrt(1 - keep * keep)
        mean = self.rate(day)
        if self.clump > 1:
            mean = self.rng.gammavariate(mean / (self.clump - 1), self.clump - 1)
        return poisson(self.rng, mean)

    @property
    def down(self):
        return self.camera.used >= self.camera.whole or self.frames >= self.capacity

    def live(self, day):
        """One day in the field. A rig that is down takes no more frames, but sleeps on."""
        n = self.triggers(day)
        down = self.down
        for unit in self.units:
            unit.used += unit.per_day(0 if down else n)
        if not down:
            self.frames = min(self.capacity, self.frames + FRAMES * n)
        return self.down

    def run_out(self, day):
        """Days from now until each part is out if nobody comes: triggers go on for all of them alike."""
        used = {unit.code: unit.used for unit in self.units}
        frames, wander, out, ahead = self.frames, self.wander, {}, 0
        while len(out) <= len(self.units) and ahead < FAR:
            n = self.triggers(day + ahead)
            for unit in self.units:
                step, left = unit.per_day(n), unit.whole - used[unit.code]
                if unit.code not in out and step >= left:
                    out[unit.code] = ahead + max(0.0, left / step)
                used[unit.code] += step
            if "card" not in out and frames + FRAMES * n >= self.capacity:
                out["card"] = ahead + max(0.0, (self.capacity - frames) / (FRAMES * n)) if n else ahead
            frames += FRAMES * n
            ahead += 1
        self.wander = wander
        return {part: out.get(part, math.inf) for part in [unit.code for unit in self.units] + ["card"]}


def poisson(rng, mean):
    if mean > 50:
        return max(0, round(rng.gauss(mean, math.sqrt(mean))))
    limit, n, product = math.exp(-mean), 0, rng.random()
    while product > limit:
        product *= rng.random()
        n += 1
    return n


class Fleet:
    """Stations, and the tables somebody kept of them; small ones have half the cells and cards."""

    def __init__(self, seed, n, small=False):
        self.rng = random.Random(seed)
        self.stations = [Station(self.rng, i, small) for i in range(n)]
        self.day = 0
        self.visits, self.readings = [], []
        self.n_visits = 0

    def live(self, days=1):
        lost = 0
        for _ in range(days):
            lost += sum(station.live(self.day) for station in self.stations)
            self.day += 1
        return lost

    def visit(self, station, swap_all=False):
        rng, code = self.rng, "V%05d" % self.n_visits
        self.n_visits += 1
        dead, full = station.camera.used >= station.camera.whole, station.frames >= station.capacity
        self.visits.append({"visit": code, "station": station.code, "at": moment(self.day),
                            "found": "dead" if dead else "card-full" if full else "working",
                            "frames_on_card": station.frames})
        for unit in station.units:
            row = {"visit": code, "unit": unit.code, "action": "none", **unit.read()}
            low = row["state"] == "dead" or float(row.get("percent", 100)) < 45 or rng.random() < 0.1
            if swap_all or low:
                row["action"] = "charged" if unit.chemistry == "nimh" else "swapped"
                unit.renew()
            self.readings.append(row)
        swap = swap_all or station.frames > 0.5 * station.capacity or rng.random() < 0.3
        self.readings.append({"visit": code, "unit": "C" + station.code[1:], "action": "swapped" if swap else "none"})
        if swap:
            station.frames = 0

    def write(self, folder):
        """The tables from the start, or, the second time, what came since."""
        os.makedirs(folder, exist_ok=True)
        self.write_rigs(folder)
        self.write_visits(folder)

    def write_rigs(self, folder):
        units = []
        for station in self.stations:
            for unit in station.units:
                units.append({"unit": unit.code, "kind": unit.kind, "model": unit.model, "chemistry": unit.chemistry,
                              "cell_size": "AA", "cells_series": unit.cells[0], "cells_parallel": unit.cells[1],
                              "cell_mah": unit.mah,
                              **{key: value for key, value in unit.sheet.items() if key != "mas"}})
            units.append({"unit": "C" + station.code[1:], "kind": "card", "capacity_gb": station.gigabytes})
        table(folder, "stations", [{"station": s.code, "latitude": 1.5 + 0.01 * i, "longitude": 110.4}
                                   for i, s in enumerate(self.stations)])
        table(folder, "units", units)
        table(folder, "deployments", [{"deployment": "D" + s.code[1:], "station": s.code, "start": moment(0),
                                       "frames_per_trigger": FRAMES, "frame_mb": s.frame_mb} for s in self.stations])
        table(folder, "fittings", [{"deployment": "D" + s.code[1:], "unit": code, "from": moment(0)}
                                   for s in self.stations for code in [u.code for u in s.units] + ["C" + s.code[1:]]])

    def write_visits(self, folder):
        table(folder, "visits", self.visits)
        table(folder, "readings", self.readings)
        self.visits, self.readings = [], []


def table(folder, name, rows):
    columns = []
    for row in rows:
        columns += [key for key in row if key not in columns]
    path = os.path.join(folder, name + ".csv")
    if not rows:
        return
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, columns)
        writer.writeheader()
        writer.writerows(rows)
