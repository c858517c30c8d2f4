#!/usr/bin/python3
"""How long it takes to say what is due with many stations, and a project to look at the window with.

    python3 tests/bench/bench-due.py BUILD/src/tapetum [FOLDER [STATIONS [UNITS]]]

Run by hand. Makes FOLDER/due-STATIONS.gpkg if it is not there: STATIONS (default 300) rigs of UNITS (default 10) units
each with a year of visits, readings and triggers; every fifteenth station has no rig and every twentieth rig no data on
its cells. Its clock stands still at 2026-06-12. Prints the time of `due`, all included."""

import os
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
import uuid

NOW = 1_781_254_800  # 2026-06-12T17:00+08:00
DAY = 86400
FEATURES = ('trail', 'water', 'salt lick', 'burrow', 'ridge', 'fruiting tree')
FIRST = ('Otter', 'Fig', 'Ridge', 'Sambar', 'Lower', 'Upper', 'Fern', 'Stone', 'Rattan', 'Mossy', 'Quiet', 'Old', 'Red', 'Wet', 'Long')
SECOND = ('bank', 'ford', 'saddle', 'lick', 'terrace', 'bridge', 'hollow', 'spring', 'crossing', 'spur', 'pool', 'bend')
# kind, label, chemistry, size, in series, in parallel, mAh of a cell, mA asleep, mA awake, s, mA s a frame, W s a flash
KINDS = (('camera', 'Camera', 'nimh', 'AA', 8, 1, 2000, 0.35, 180, 6, 400, None),
         ('trigger', 'Beam', 'alkaline', 'AA', 4, 1, 2500, 0.9, 0, 0, 0, None),
         ('flash', 'Left flash', 'alkaline', 'AA', 4, 1, 2500, 0.12, 0, 0, 0, 50),
         ('flash', 'Right flash', 'alkaline', 'AA', 4, 1, 2500, 0.12, 0, 0, 0, 50),
         ('pack', 'Camera pack', 'lead-acid', None, 6, 1, 7200, 1.6, 0, 0, 300, None),
         ('flash', 'Back flash', 'lithium', 'AA', 4, 1, 3000, 0.1, 0, 0, 0, 40),
         ('trigger', 'Receiver', 'li-ion', '18650', 1, 1, 2600, 0.8, 0, 0, 0, None),
         ('pack', 'Flash pack', 'nimh', 'D', 8, 1, 9000, 0.5, 0, 0, 200, None),
         ('camera', 'Second camera', 'alkaline', 'D', 4, 2, 12000, 1.1, 150, 5, 350, None))


def instant(seconds):
    return time.strftime('%Y-%m-%dT%H:%M:%S.000Z', time.gmtime(seconds))


class Maker:
    """Straight into the tables: importing is not what is measured."""

    def __init__(self, path):
        self.db = sqlite3.connect(path)
        self.n = 0
        self.any = random.Random(7)

    def put(self, table, **values):
        self.n += 1
        values['uuid'] = str(uuid.UUID(int=self.n))
        sql = 'INSERT INTO %s (%s) VALUES (%s)' % (table, ', '.join(values), ', '.join('?' * len(values)))
        return self.db.execute(sql, tuple(values.values())).lastrowid

    def units(self, s, deployment, n, known, start):
        rows = []
        for u in range(n - 1):
            kind, label, chemistry, size, series, parallel, mah, sleep, awake, seconds, frame, flash = KINDS[u % len(KINDS)]
            spread = self.any.uniform(0.6, 1.6)
            rows.append(self.put('units', unit='U%03d-%d' % (s, u), kind=kind, label=label, chemistry=chemistry, cell_size=size,
                                 cells_series=series, cells_parallel=parallel, cell_mah=mah if known else None, sleep_ma=sleep * spread,
                                 awake_ma=awake, awake_s=seconds, frame_mas=frame, flash_ws=flash, power_fraction=1 / 16 if flash else None))
        rows.append(self.put('units', unit='C%03d' % s, kind='card', label='Card', capacity_gb=32 if known else None))
        for row in rows:
            self.put('fittings', deployment_id=deployment, unit_id=row, from_at=instant(start))
        return rows[:-1]

    def triggers(self, s, deployment, start, last):
        rate = self.any.gammavariate(2, 3)
        moments = sorted(self.any.uniform(start, last) for _ in range(int(rate * (last - start) / DAY)))
        batch = self.put('batches', batch='B%03d' % s, deployment_id=deployment, taken_at=instant(last), frames=3 * len(moments), bytes=0,
                         duplicates=0, active=1)
        for moment in moments:
            self.put('triggers', batch_id=batch, deployment_id=deployment, start_at=instant(moment), end_at=instant(moment + 2), frames=3)

    def visits(self, s, station, units, start):
        at = start + self.any.uniform(20, 40) * DAY
        last = start
        while at < NOW - 2 * DAY:
            found = self.any.choices(('working', 'dead', 'card-full'), (30, 1, 1))[0]
            visit = self.put('visits', visit='V%03d-%d' % (s, at), station_id=station, at=instant(at), found=found,
                             frames_on_card=self.any.randint(100, 3000))
            for row in units:
                if found == 'working' or self.any.random() < 0.9:
                    self.put('readings', visit_id=visit, unit_id=row, percent=self.any.randint(15, 95),
                             action=self.any.choice(('none', 'swapped', 'swapped')))
            last = at
            at += self.any.uniform(20, 45) * DAY
        return last

    def station(self, s, n_units):
        name = '%s %s' % (FIRST[s % len(FIRST)], SECOND[s // len(FIRST) % len(SECOND)])
        station = self.put('stations', station='S%03d' % s, name=name if s < 180 else '%s %d' % (name, s), feature=self.any.choice(FEATURES))
        self.db.execute('UPDATE stations SET geom = ? WHERE id = ?', (place(self.any), station))
        if s % 15 == 14:
            return
        start = NOW - self.any.uniform(40, 365) * DAY
        deployment = self.put('deployments', deployment='S%03d-1' % s, station_id=station, start_at=instant(start), frames_per_trigger=3, frame_mb=5)
        units = self.units(s, deployment, n_units, s % 20 != 13, start)
        self.triggers(s, deployment, start, self.visits(s, station, units, start))

    def stock(self):
        for number, (size, chemistry, pieces) in enumerate((('AA', 'alkaline', 36), ('AA', 'nimh', 64), ('D', 'nimh', 16))):
            self.put('stock', item='I%d' % number, what='cells', cell_size=size, chemistry=chemistry, pieces=pieces)
        self.put('stock', item='I9', what='card', capacity_gb=32, pieces=4)


def place(any_number):
    """A GeoPackage point, no envelope, WGS 84."""
    import struct
    return b'GP\x00\x01' + struct.pack('<i', 4326) + struct.pack('<bIdd', 1, 1, 113 + any_number.uniform(0, 0.2), 2.4 + any_number.uniform(0, 0.15))


def make(program, project, stations, units):
    subprocess.run([program, 'new', project, '--name', '%d stations' % stations, '--zone', 'Asia/Kuching'], check=True)
    maker = Maker(project)
    for s in range(stations):
        maker.station(s, units)
    maker.stock()
    maker.db.execute("INSERT INTO settings VALUES ('clock_at', '2026-06-12T09:00:00.000Z'), ('round_at', '2026-06-20')")
    maker.db.commit()
    maker.db.close()


def main():
    program = os.path.abspath(sys.argv[1])
    folder = sys.argv[2] if len(sys.argv) > 2 else tempfile.mkdtemp(prefix='tapetum-bench-')
    stations, units = (int(sys.argv[3]) if len(sys.argv) > 3 else 300), (int(sys.argv[4]) if len(sys.argv) > 4 else 10)
    project = os.path.join(folder, 'due-%d.gpkg' % stations)
    if not os.path.exists(project):
        make(program, project, stations, units)
    for words in (('due', project, '--json'), ('due', project, '--json', '--station', 'S001')):
        least = None
        for _ in range(3):
            began = time.perf_counter()
            subprocess.run([program, *words], stdout=subprocess.DEVNULL, check=True)
            spent = time.perf_counter() - began
            least = spent if least is None else min(least, spent)
        print('%-40s %6.3f s' % (' '.join(words[2:]) + ' of %d stations' % stations, least))


if __name__ == '__main__':
    main()
