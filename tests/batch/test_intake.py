"""Demo and intake on real files: times against exiftool, the project against GDAL."""

import json
import os
import shutil
import subprocess
import sys

from terminal import Skip, equal, list_tree, need_tool, query, read_bytes, run_cases, write_bytes, write_csv


def demo_of(program):
    """The demo, written once for all cases and never changed; a case works on its own copy."""
    folder = os.path.join(program.env['HOME'], 'demo')
    if not os.path.exists(folder):
        program.demo(folder)
    return folder


def copy_demo(program, folder):
    own = os.path.join(folder, 'demo')
    shutil.copytree(demo_of(program), own)
    return own


def demo_is_the_same_twice(program, folder):
    again = os.path.join(folder, 'again')
    program.run('demo', again, env={'TZ': 'Pacific/Auckland'})
    equal(list_tree(again), list_tree(demo_of(program)), 'the two trees')


def demo_holds_what_it_says(program, folder):
    project = os.path.join(demo_of(program), 'kelabau.gpkg')
    for table, least in (('stations', 14), ('units', 60), ('frames', 6000), ('visits', 14 * 20)):
        (count,), = query(project, 'SELECT count(*) FROM %s' % table)
        assert count >= least, '%s: %d' % (table, count)
    (days,), = query(project, 'SELECT julianday(max(at)) - julianday(min(at)) FROM visits')
    assert days > 690, days
    for found in ('dead', 'card-full'):
        (count,), = query(project, 'SELECT count(*) FROM visits WHERE found = ?', found)
        assert count > 0, found
    equal(program.json('check', project, '--pictures')['problems'], [], 'problems')


def demo_writes_only_into_an_empty_folder(program, folder):
    write_bytes(os.path.join(folder, 'letter.txt'), b'dear all')
    program.run('demo', folder, status=2)
    equal(os.listdir(folder), ['letter.txt'], 'the folder')


def gdal_reads_the_project(program, folder):
    project = os.path.join(demo_of(program), 'kelabau.gpkg')
    need_tool('ogrinfo')
    info = subprocess.run(['ogrinfo', '-so', '-al', project], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    equal(info.returncode, 0, 'ogrinfo')
    assert 'Warning' not in info.stdout and 'ERROR' not in info.stdout, info.stdout[:2000]
    assert 'Layer name: species_station_detections' in info.stdout


def gdal_finds_it_valid(program, folder):
    project = os.path.join(demo_of(program), 'kelabau.gpkg')
    if subprocess.run(['/usr/bin/python3', '-c', 'import osgeo_utils.samples.validate_gpkg'], stderr=subprocess.DEVNULL).returncode:
        raise Skip('python3-gdal is not installed')
    done = subprocess.run(['/usr/bin/python3', '-m', 'osgeo_utils.samples.validate_gpkg', '-k', '--extra', project],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    equal((done.returncode, done.stdout.strip()), (0, ''), 'validate_gpkg')


def intake_of_a_reset_clock(program, folder):
    own = copy_demo(program, folder)
    card, project = os.path.join(own, 'cards', 'card-moss'), os.path.join(own, 'kelabau.gpkg')
    before = list_tree(card, times=True)
    pair = [word for line in read_bytes(os.path.join(own, 'cards', 'about these cards.txt')).decode().splitlines()
            if '--clock-read' in line for word in line.split()]
    result = program.json('intake', project, '--deployment', 'MOSS-1', card, *pair)
    equal(result['frames'], len(before), 'frames')
    equal(result['frames'], 3 * result['triggers'], 'three frames a trigger')
    assert result['first'].startswith('2026-06-0'), result['first']
    equal(list_tree(card, times=True), before, 'the card')
    again = program.json('intake', project, '--deployment', 'MOSS-1', card, *pair)
    equal((again['batch'], again['frames'], again['duplicates']), (None, 0, len(before)), 'the second time')
    equal(program.json('check', project, '--pictures')['problems'], [], 'problems')


def intake_sets_aside(program, folder):
    own = copy_demo(program, folder)
    project, card = os.path.join(own, 'kelabau.gpkg'), os.path.join(own, 'cards', 'card-duri')
    result = program.json('intake', project, '--deployment', 'DURI-1', card, status=1)
    equal(len(result['unreadable']), 1, 'unreadable')
    equal(len(result['damaged']), 1, 'damaged')
    note = result['unreadable'][0]
    equal(read_bytes(os.path.join(own, note['kept_as'])), b'', 'kept bit for bit')
    verified = program.json('intake', project, '--deployment', 'DURI-1', card, '--verify-only', status=None)
    equal(verified['missing'], [], 'missing')


# Tags as different makers write them: name, exiftool options, the true instant.
MAKERS = [
    ('plain', ['-DateTimeOriginal=2026:05:14 07:30:05'], '2026-05-13T23:30:05.000Z'),
    ('subsec', ['-DateTimeOriginal=2026:05:14 07:30:05', '-SubSecTimeOriginal=5'], '2026-05-13T23:30:05.500Z'),
    ('subsec-zero', ['-DateTimeOriginal=2026:05:14 07:30:05', '-SubSecTimeOriginal=05'], '2026-05-13T23:30:05.050Z'),
    ('digitized', ['-CreateDate=2026:05:14 07:31:00'], '2026-05-13T23:31:00.000Z'),
    ('modified-later', ['-DateTimeOriginal=2026:05:14 07:32:00', '-ModifyDate=2026:06:01 00:00:00'], '2026-05-13T23:32:00.000Z'),
    ('upright', ['-DateTimeOriginal=2026:05:14 07:33:00', '-Orientation#=6', '-GPSLatitude=0', '-GPSLongitude=0'], '2026-05-13T23:33:00.000Z'),
]


def make_folder(program, folder):
    """A project with one deployment, and a picture without any metadata to stamp."""
    project = program.new(os.path.join(folder, 'p.gpkg'))
    program.run('import', project, write_csv(os.path.join(folder, 's.csv'), 'station', [['S']]),
                write_csv(os.path.join(folder, 'd.csv'), 'deployment,station,start', [['D', 'S', '2026-05-01T00:00']]))
    card = os.path.join(folder, 'card')
    os.mkdir(card)
    return project, card


def bare_picture(program):
    pictures = os.path.join(demo_of(program), 'pictures')
    first = sorted(os.listdir(pictures))[0]
    return os.path.join(pictures, first, sorted(os.listdir(os.path.join(pictures, first)))[0])


def times_of_exiftool_written(program, folder):
    need_tool('exiftool')
    project, card = make_folder(program, folder)
    for number, (name, tags, _) in enumerate(MAKERS):
        path = os.path.join(card, name + '.JPG')
        shutil.copy(bare_picture(program), path)
        subprocess.run(['exiftool', '-q', '-overwrite_original', '-all=', path], check=True)
        subprocess.run(['exiftool', '-q', '-overwrite_original', '-Make=Maker %d' % number, *tags, path], check=True)
    program.run('intake', project, '--deployment', 'D', card)
    rows = dict(query(project, 'SELECT file, at FROM frames'))
    for name, _, wanted in MAKERS:
        equal(rows['pictures/D/%s.JPG' % name], wanted, name)


def real_photographs():
    """Pictures with a date that packages on this machine happen to ship."""
    places = os.environ.get('TAPETUM_PHOTOS', '/usr/share').split(':')
    done = subprocess.run(['exiftool', '-q', '-r', '-json', '-if', '$EXIF:DateTimeOriginal', '-EXIF:DateTimeOriginal', '-ext', 'jpg', '-ext',
                           'jpeg', '-ext', 'nef', '-ext', 'cr2', '-ext', 'dng', *places], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    return [(row['SourceFile'], row['DateTimeOriginal']) for row in json.loads(done.stdout or b'[]')]


def times_of_real_photographs(program, folder):
    need_tool('exiftool')
    photographs = [(path, date) for path, date in real_photographs() if date[:4].isdigit() and not date.startswith('0000')]
    if not photographs:
        raise Skip('no package here ships photographs with a date; TAPETUM_PHOTOS=dir:dir names others')
    project, card = make_folder(program, folder)
    wanted = {}
    for number, (path, date) in enumerate(photographs):
        name = '%04d%s' % (number, os.path.splitext(path)[1])
        shutil.copy(path, os.path.join(card, name))
        wanted['pictures/D/' + name] = date[:19].replace(':', '-', 2).replace(' ', 'T')
    program.run('intake', project, '--deployment', 'D', card, status=None)
    for file, shown in query(project, "SELECT file, camera_time FROM frames WHERE time_source = 'exif-original'"):
        equal(shown[:19], wanted[file], file)


def main():
    return run_cases([
        ('demo: the same bytes twice, in any zone', demo_is_the_same_twice),
        ('demo: stations, units, frames, failures', demo_holds_what_it_says),
        ('demo: only into an empty folder', demo_writes_only_into_an_empty_folder),
        ('ogrinfo reads the project without complaint', gdal_reads_the_project),
        ('validate_gpkg finds it valid', gdal_finds_it_valid),
        ('intake: a reset clock, twice', intake_of_a_reset_clock),
        ('intake: what cannot be read is kept aside', intake_sets_aside),
        ('intake: times written by exiftool', times_of_exiftool_written),
        ('intake: times of real photographs', times_of_real_photographs),
    ])


if __name__ == '__main__':
    sys.exit(main())
