"""How long it takes to find frames, to read a page of them, and to count what is left, as a project grows.

    bench-frames.py PROGRAM [FRAMES...]

Beside the whole command (a process, the file opened, the answer printed) stands the same question put to SQLite from
here: a bare query of one table that counts its rows. Triggers of three frames at 40 deployments, half of them named,
one in fifty twice and in half of these otherwise. Invented; the same every time.
"""

import contextlib
import os
import sqlite3
import subprocess
import sys
import tempfile
import time

SIZES = (10_000, 100_000, 1_000_000)
DEPLOYMENTS = 40
ASKED = (('all frames', ()), ('undecided', ('--undecided',)), ('differing', ('--disagreeing',)), ('one species', ('--species', 'Species 3')),
         ('one card', ('--batch', 'D7-B01')), ('two stations', ('--station', 'S7', '--station', 'S8')), ('blank last', ('--blank-last',)),
         ('at night', ('--hours', '20:00-04:00')))
BARE = (('rows of frames', 'SELECT count(*), max(at) FROM frames'), ('rows of triggers', 'SELECT count(*), max(start_at), max(blank_score) FROM triggers'),
        ('rows of observations', "SELECT count(*) FROM observations WHERE type <> 'unclassified'"))


def run(program, *words):
    return subprocess.run([program, *words], check=True, stdout=subprocess.PIPE).stdout


def moment(seconds):
    return time.strftime('%Y-%m-%dT%H:%M:%S', time.gmtime(1_700_000_000 + seconds)) + '.000Z'


def rows_of(frames):
    """Triggers, frames, observations as rows, by deployment and time."""
    n_triggers = frames // 3
    per = -(-n_triggers // DEPLOYMENTS)
    for t in range(n_triggers):
        deployment, number = t // per + 1, t % per
        at = number * 600
        score = (t * 7919 % 1000) / 1000
        yield ('triggers', (t + 1, 'u%d' % t, deployment, deployment, moment(at), moment(at + 2), 3, score))
        for k in range(3):
            f = 3 * t + k + 1
            yield ('frames', (f, 'f%d' % f, '%016x' % f, deployment, deployment, t + 1, 'pictures/%d/IMG_%07d.JPG' % (deployment, f), moment(at + k),
                              'exif', moment(at + k), '%064x' % f, 5_000_000))
        if t % 2 == 0:
            yield ('observations', ('o%d' % t, 'O%d' % t, deployment, t + 1, moment(at), moment(at + 2), 'blank' if t % 4 else 'animal',
                                    None if t % 4 else t // 4 % 20 + 1, 'Mira', 1))
        if t % 100 == 0:
            yield ('observations', ('p%d' % t, 'P%d' % t, deployment, t + 1, moment(at), moment(at + 2), 'blank' if t % 200 else 'animal',
                                    None if t % 200 else t // 4 % 20 + 1, 'Jau', 2))


INSERTS = {
    'triggers': 'INSERT INTO triggers (id, uuid, batch_id, deployment_id, start_at, end_at, frames, blank_score) VALUES (?,?,?,?,?,?,?,?)',
    'frames': 'INSERT INTO frames (id, uuid, frame, batch_id, deployment_id, trigger_id, file, camera_time, time_source, at, sha256, bytes)'
              ' VALUES (?,?,?,?,?,?,?,?,?,?,?,?)',
    'observations': 'INSERT INTO observations (uuid, observation, deployment_id, trigger_id, start_at, end_at, type, species_id, identified_by,'
                    ' opinion) VALUES (?,?,?,?,?,?,?,?,?,?)',
}


def make_project(program, folder, frames):
    project = os.path.join(folder, 'p-%d.gpkg' % frames)
    run(program, 'new', project, '--name', 'Bench', '--zone', 'Asia/Kuching')
    with contextlib.closing(sqlite3.connect(project)) as db:
        db.execute('PRAGMA synchronous = OFF')
        for d in range(1, DEPLOYMENTS + 1):
            db.execute('INSERT INTO stations (uuid, station) VALUES (?, ?)', ('s%d' % d, 'S%d' % d))
            db.execute('INSERT INTO deployments (uuid, deployment, station_id, start_at) VALUES (?, ?, ?, ?)', ('d%d' % d, 'D%d' % d, d, moment(0)))
            db.execute('INSERT INTO batches (uuid, batch, deployment_id, taken_at, frames, bytes, duplicates, active) VALUES (?, ?, ?, ?, 0, 0, 0, 1)',
                       ('b%d' % d, 'D%d-B01' % d, d, moment(0)))
        for s in range(1, 21):
            db.execute('INSERT INTO species (uuid, scientific_name) VALUES (?, ?)', ('x%d' % s, 'Species %d' % s))
        waiting = {table: [] for table in INSERTS}
        for table, row in rows_of(frames):
            waiting[table].append(row)
        for table in ('triggers', 'frames', 'observations'):
            db.executemany(INSERTS[table], waiting[table])
        db.commit()
    return project


def measure(do):
    """The middle of three, seconds."""
    times = []
    for _ in range(3):
        began = time.perf_counter()
        do()
        times.append(time.perf_counter() - began)
    return sorted(times)[1]


def bench(program, folder, frames):
    project = make_project(program, folder, frames)
    print('%d frames, %.0f MB' % (frames, os.path.getsize(project) / 1e6))
    with contextlib.closing(sqlite3.connect(project)) as db:
        for name, sql in BARE:
            print('  bare: %-24s %8.3f s' % (name, measure(lambda: db.execute(sql).fetchall())))  # noqa: B023
    for name, words in ASKED:
        print('  %-30s %8.3f s' % (name, measure(lambda: run(program, 'frames', project, '--limit', '1', '--json', *words))))  # noqa: B023
    one, many = (measure(lambda: run(program, 'frames', project, '--limit', limit, '--json')) for limit in ('1', '5001'))  # noqa: B023
    print('  128 rows read and printed      %8.4f s' % ((many - one) * 128 / 5000))
    print('  batches                        %8.3f s' % measure(lambda: run(program, 'batches', project)))
    os.remove(project)


def main():
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory(prefix='tapetum-bench-') as folder:
        for frames in [int(word) for word in sys.argv[2:]] or SIZES:
            bench(program, folder, frames)
    return 0


if __name__ == '__main__':
    sys.exit(main())
