"""How long a card of very many pictures takes, how much memory, and whether all of it came home. Run by hand:

    python3 tests/bench/bench-cards.py BUILD/src/tapetum FOLDER [PICTURES]

FOLDER is made, filled and removed. The pictures (100,000 if not said) are small, so that what is measured is the work per
picture. It prints a line for each step: seconds, pictures a second, most memory of the process. Memory grows with the
number of pictures, since an intake keeps a record of each until it is on file; what each adds is printed as well, from a
second card a quarter as large. Ends with exit status 1 when a picture is missing, is there twice or differs.
"""

import collections
import json
import os
import shutil
import subprocess
import sys
import time

sys.path[:0] = [os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', name) for name in ('batch', 'data/cameras')]
import make_cameras  # noqa: E402
from terminal import list_tree, query  # noqa: E402

DATE = '2026:05:14 07:00:00'


def template():
    camera = make_cameras.Camera('bench', 'Invented', 'Trail 1', (90, 120, 90), DATE, body_serial='INV-7', flash=1)
    return camera.jpeg(make_cameras.SMALL, make_cameras.make_app1(camera, None, '<'))


def date_of(number):
    """Three a minute, from the first of May."""
    minute = number // 3
    return '2026:%02d:%02d %02d:%02d:%02d' % (5 + minute // 1440 // 28, 1 + minute // 1440 % 28, minute // 60 % 24, minute % 60, number % 3)


def fill(card, count):
    """DCIM/100.. with 999 pictures each, as cameras number them."""
    content = template()
    for number in range(count):
        folder = os.path.join(card, 'DCIM', '%03dTRAIL' % (100 + number // 999))
        if number % 999 == 0:
            os.makedirs(folder)
        with open(os.path.join(folder, 'IMG_%04d.JPG' % (number % 9999 + 1)), 'wb') as file:
            file.write(content.replace(DATE.encode(), date_of(number).encode()) + b'%d' % number)


def make_project(program, folder):
    project = os.path.join(folder, 'p.gpkg')
    subprocess.run([program, 'new', project, '--name', 'Bench', '--zone', 'Asia/Kuching'], check=True, capture_output=True)
    for name, content in (('s', 'station\nS\n'), ('d', 'deployment,station,start,frames_per_trigger\nD,S,2026-04-30T00:00,3\n')):
        path = os.path.join(folder, name + '.csv')
        with open(path, 'w', encoding='utf-8') as file:
            file.write(content)
        subprocess.run([program, 'import', project, path], check=True, capture_output=True)
    return project


def measure(what, count, words):
    """Runs the command and prints what it took; returns the document and its most memory in MiB."""
    began = time.monotonic()
    child = subprocess.Popen([*words, '--json'], stdout=subprocess.PIPE)
    out = child.stdout.read()
    _, status, usage = os.wait4(child.pid, 0)
    seconds, memory = time.monotonic() - began, usage.ru_maxrss / 1024
    assert os.waitstatus_to_exitcode(status) == 0, '%s: %s' % (what, out[:500])
    print('%-22s %8d pictures %8.1f s %8.0f a second %8.0f MiB' % (what, count, seconds, count / seconds, memory), flush=True)
    return json.loads(out), memory


def take_in(program, folder, count):
    card = os.path.join(folder, 'card')
    os.makedirs(folder)
    fill(card, count)
    project = make_project(program, folder)
    words = [program, 'intake', project, '--deployment', 'D', card]
    first, memory = measure('taken in', count, words)
    again, _ = measure('taken in again', count, words)
    measure('verified only', count, [*words, '--verify-only'])
    good = (first['frames'], first['triggers'], again['frames'], again['duplicates']) == (count, count // 3 + (count % 3 > 0), 0, count)
    return good and is_whole(card, folder, project), memory


def is_whole(card, folder, project):
    wanted = collections.Counter(list_tree(card).values())
    on_record = collections.Counter(sha256 for sha256, in query(project, 'SELECT sha256 FROM frames'))
    return wanted == on_record == collections.Counter(list_tree(os.path.join(folder, 'pictures')).values()) and max(wanted.values()) == 1


def main():
    program, folder = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
    count = int(sys.argv[3]) if len(sys.argv) > 3 else 100_000
    os.makedirs(folder)
    try:
        small_good, small = take_in(program, os.path.join(folder, 'small'), count // 4)
        large_good, large = take_in(program, os.path.join(folder, 'large'), count)
    finally:
        shutil.rmtree(folder)
    print('each picture adds %.1f KiB of memory' % ((large - small) * 1024 / (count - count // 4)))
    print('nothing lost, nothing twice' if small_good and large_good else 'NOT WHOLE')
    return 0 if small_good and large_good else 1


if __name__ == '__main__':
    sys.exit(main())
