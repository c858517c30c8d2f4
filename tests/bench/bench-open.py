#!/usr/bin/python3
"""How long a large project takes: 1,000,000 frames, 300 stations, 5 years, 200,000 observations.

    python3 tests/bench/bench-open.py BUILD/src/tapetum [FOLDER]

Run by hand. Prints what the window needs before it can be used, and the strip chart's numbers beside the bare SQL
aggregate over the same rows in the sqlite3 shell, in the same run: times of one machine mean little, ratios do."""

import os
import sqlite3
import subprocess
import sys
import tempfile
import time
import uuid

STATIONS, YEARS, FRAMES, OBSERVATIONS, SPECIES = 300, 5, 1_000_000, 200_000, 40
START = 1_600_000_000  # September 2020


def instant(seconds):
    return time.strftime('%Y-%m-%dT%H:%M:%S.000Z', time.gmtime(seconds))


def number():
    n = 0
    while True:
        n += 1
        yield str(uuid.UUID(int=n))


def fill(path):
    """Straight into the tables: importing a million rows is not what is measured."""
    ids = number()
    span = YEARS * 365 * 86400
    db = sqlite3.connect(path)
    db.executemany('INSERT INTO species (uuid, scientific_name) VALUES (?, ?)', [(next(ids), 'Species %03d' % s) for s in range(SPECIES)])
    for s in range(1, STATIONS + 1):
        db.execute('INSERT INTO stations (id, uuid, station, name) VALUES (?, ?, ?, ?)', (s, next(ids), 'S%03d' % s, 'Station %d' % s))
        db.execute('INSERT INTO deployments (id, uuid, deployment, station_id, start_at, frames_per_trigger, frame_mb) VALUES (?, ?, ?, ?, ?, 3, 5)',
                   (s, next(ids), 'S%03d-1' % s, s, instant(START)))
        db.execute("INSERT INTO units (id, uuid, unit, kind, chemistry, cells_series, cell_mah, sleep_ma) VALUES (?, ?, ?, 'camera', 'nimh', 4, 2000, 0.6)",
                   (s, next(ids), 'K%03d' % s))
        db.execute('INSERT INTO fittings (uuid, deployment_id, unit_id, from_at) VALUES (?, ?, ?, ?)', (next(ids), s, s, instant(START)))
        db.execute('INSERT INTO batches (id, uuid, batch, deployment_id, taken_at, frames, bytes, duplicates, active) VALUES (?, ?, ?, ?, ?, ?, 0, 0, 1)',
                   (s, next(ids), 'S%03d-B01' % s, s, instant(START), FRAMES // STATIONS))
        for v in range(YEARS * 12):
            row = db.execute("INSERT INTO visits (uuid, visit, station_id, at, found) VALUES (?, ?, ?, ?, 'working')",
                             (next(ids), 'V%03d-%d' % (s, v), s, instant(START + (v + 1) * 30 * 86400)))
            db.execute("INSERT INTO readings (uuid, visit_id, unit_id, percent, action) VALUES (?, ?, ?, 60, 'swapped')", (next(ids), row.lastrowid, s))
    per = FRAMES // STATIONS
    for s in range(1, STATIONS + 1):
        first = (s - 1) * (per // 3)
        moments = [START + (i * span) // (per // 3) + s for i in range(per // 3)]
        db.executemany('INSERT INTO triggers (id, uuid, batch_id, deployment_id, start_at, end_at, frames) VALUES (?, ?, ?, ?, ?, ?, 3)',
                       [(first + i + 1, next(ids), s, s, instant(m), instant(m + 2)) for i, m in enumerate(moments)])
        db.executemany('INSERT INTO frames (uuid, frame, batch_id, deployment_id, trigger_id, file, at) VALUES (?, ?, ?, ?, ?, ?, ?)',
                       [(next(ids), '%03d-%06d' % (s, 3 * i + k), s, s, first + i + 1, 'pictures/%d/%d.jpg' % (s, 3 * i + k), instant(m + k))
                        for i, m in enumerate(moments) for k in range(3)])
    db.executemany("INSERT INTO observations (uuid, observation, deployment_id, start_at, end_at, type, species_id, count) VALUES (?, ?, ?, ?, ?, 'animal', ?, 1)",
                   [(next(ids), 'O%06d' % i, i % STATIONS + 1, instant(START + (i * 7919 * 613) % span), instant(START + (i * 7919 * 613) % span + 2), (i * 31) % SPECIES + 1)
                    for i in range(OBSERVATIONS)])
    db.execute('UPDATE batches SET frames = (SELECT count(*) FROM frames WHERE batch_id = batches.id)')
    db.commit()
    db.close()


def best(words, times=3):
    least = None
    for _ in range(times):
        began = time.perf_counter()
        subprocess.run(words, stdout=subprocess.DEVNULL, check=True)
        spent = time.perf_counter() - began
        least = spent if least is None else min(least, spent)
    return least


# Independent detections of every species at every station: what the strip chart counts.
AGGREGATE = """WITH records AS (SELECT o.species_id, d.station_id, o.start_at,
 max(coalesce(o.end_at, o.start_at)) OVER (PARTITION BY o.species_id, d.station_id ORDER BY o.start_at, o.id
  ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS before
 FROM observations o JOIN deployments d ON d.id = o.deployment_id WHERE o.type = 'animal' AND o.species_id IS NOT NULL)
SELECT station_id, species_id, count(*) FROM records WHERE before IS NULL
 OR julianday(start_at) - julianday(before) >= 30.0 / 1440 GROUP BY station_id, species_id;"""


def main():
    program = os.path.abspath(sys.argv[1])
    folder = sys.argv[2] if len(sys.argv) > 2 else tempfile.mkdtemp(prefix='tapetum-bench-')
    project = os.path.join(folder, 'large.gpkg')
    if not os.path.exists(project):
        subprocess.run([program, 'new', project, '--name', 'Large', '--zone', 'Asia/Kuching'], check=True)
        fill(project)
    print('%s: %.0f MB' % (project, os.path.getsize(project) / 1e6))
    on = instant(START + YEARS * 365 * 86400)
    opened = best([program, 'due', project, '--on', on, '--json'])
    print('what is due, the first thing the window shows   %6.2f s' % opened)
    bare = best(['sqlite3', project, AGGREGATE])
    rates = best([program, 'rates', project, '--json'])
    strip = best([program, 'figure', project, 'strip', '-o', os.path.join(folder, 'strip.svg'), '--species', 'Species 001'])
    print('bare aggregate in the sqlite3 shell             %6.2f s' % bare)
    print('the strip chart\'s numbers (rates)               %6.2f s   %.2f times the bare aggregate' % (rates, rates / bare))
    print('the strip chart of one species, written as SVG  %6.2f s   %.2f times' % (strip, strip / bare))


if __name__ == '__main__':
    main()
