#!/usr/bin/python3
"""Makes projects for bench-findings.c: N frames, a fifth as many observations, 300 stations, 40 species, 5 years.

    bench-findings.py PROGRAM FOLDER [FRAMES...]

Stations have positions, species their own hours of the day. Invented; the same every time. Straight into the tables:
importing a million rows is not what is measured.
"""

import math
import os
import sqlite3
import subprocess
import sys
import time

SIZES = (10_000, 100_000, 1_000_000)
STATIONS, SPECIES, YEARS = 300, 40, 5
START = 1_600_000_000  # September 2020


def instant(seconds):
    return time.strftime('%Y-%m-%dT%H:%M:%S.000Z', time.gmtime(seconds))


def species_of(i):
    return (i * 31 + i // STATIONS) % SPECIES


def moment(i):
    """Spread over the years; most of a species' records about one or two hours of its own."""
    day = (i * 7919) % (YEARS * 365)
    share = (i * 104729 % 99991) / 99991
    hour = species_of(i) * 5 % 24 + (12 if i % 5 == 0 else 0) + 3 * math.sin(6.28 * share) * share
    return START + day * 86400 + int(hour * 3600) % 86400


def fill(path, frames):
    db = sqlite3.connect(path)
    db.executemany('INSERT INTO species (uuid, scientific_name) VALUES (?, ?)', [('s%d' % s, 'Species %03d' % s) for s in range(SPECIES)])
    for s in range(1, STATIONS + 1):
        db.execute('INSERT INTO stations (id, uuid, station, name) VALUES (?, ?, ?, ?)', (s, 't%d' % s, 'S%03d' % s, 'Station %d' % s))
        db.execute('INSERT INTO deployments (id, uuid, deployment, station_id, start_at, frames_per_trigger, frame_mb) VALUES (?, ?, ?, ?, ?, 3, 5)',
                   (s, 'd%d' % s, 'S%03d-1' % s, s, instant(START)))
        db.execute('INSERT INTO batches (id, uuid, batch, deployment_id, taken_at, frames, bytes, duplicates, active) VALUES (?, ?, ?, ?, ?, ?, 0, 0, 1)',
                   (s, 'b%d' % s, 'S%03d-B01' % s, s, instant(START), frames // STATIONS))
    triggers = frames // 3
    db.executemany('INSERT INTO triggers (id, uuid, batch_id, deployment_id, start_at, end_at, frames) VALUES (?, ?, ?, ?, ?, ?, 3)',
                   ((t + 1, 'r%d' % t, t % STATIONS + 1, t % STATIONS + 1, instant(moment(t)),
                     instant(moment(t) + 2)) for t in range(triggers)))
    db.executemany('INSERT INTO frames (uuid, frame, batch_id, deployment_id, trigger_id, file, at) VALUES (?, ?, ?, ?, ?, ?, ?)',
                   (('f%d' % f, '%08d' % f, f // 3 % STATIONS + 1, f // 3 % STATIONS + 1, f // 3 + 1, 'pictures/%d.jpg' % f,
                     instant(moment(f // 3) + f % 3)) for f in range(3 * triggers)))
    observations = frames // 5
    db.executemany("INSERT INTO observations (uuid, observation, deployment_id, trigger_id, start_at, end_at, type, species_id, count)"
                   " VALUES (?, ?, ?, ?, ?, ?, 'animal', ?, 1)",
                   (('o%d' % o, 'O%d' % o, o % STATIONS + 1, o + 1, instant(moment(o)),
                     instant(moment(o) + 2), species_of(o) + 1) for o in range(observations)))
    db.commit()
    db.close()


def place(program, path, folder):
    """Positions go the ordinary way, so that the geometry is right."""
    table = os.path.join(folder, 'places.csv')
    with open(table, 'w') as out:
        out.write('station,latitude,longitude\n')
        for s in range(STATIONS):
            out.write('S%03d,%.5f,%.5f\n' % (s + 1, 2.3 + 0.01 * (s % 20), 112.9 + 0.01 * (s // 20)))
    subprocess.run([program, 'import', path, table], check=True, stdout=subprocess.DEVNULL)


def main():
    program, folder = sys.argv[1], sys.argv[2]
    os.makedirs(folder, exist_ok=True)
    for frames in [int(n) for n in sys.argv[3:]] or SIZES:
        path = os.path.join(folder, 'findings-%d.gpkg' % frames)
        if os.path.exists(path):
            continue
        subprocess.run([program, 'new', path, '--name', 'Bench', '--zone', 'Asia/Kuching'], check=True, stdout=subprocess.DEVNULL)
        fill(path, frames)
        place(program, path, folder)
        print(path)


main()
