"""Demo and intake on real files: times against exiftool, the project against GDAL."""

import datetime
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


def look_writes_nothing(program, folder):
    """The survey of a card names its deployment and what could be done; nothing is written."""
    own = copy_demo(program, folder)
    project, card = os.path.join(own, 'kelabau.gpkg'), os.path.join(own, 'cards', 'card-moss')
    before = read_bytes(project)
    seen = program.json('intake', project, card, '--look')
    equal(read_bytes(project), before, 'the project')
    equal((seen['frames'], seen['clips'], seen['on_record']), (len(list_tree(card)), 0, 0), 'totals')
    equal([camera['frames'] for camera in seen['cameras']], [seen['frames']], 'cameras')
    best = seen['matches'][0]
    equal((best['deployment'], best['objections']), ('MOSS-1', []), 'the likeliest')
    equal([(step['step'], step['proposed'], step['frames']) for step in best['steps']], [('reset', True, seen['frames'])], 'steps')
    assert best['steps'][0]['reading'].startswith('2020-01-01'), best['steps']
    assert all(match['objections'] for match in seen['matches'][1:] if match['station'] != 'MOSS'), 'another one fits'


def intake_finds_its_deployment(program, folder):
    """Without --deployment the only one that fits is taken; a clock is repaired only when asked; and taken back and put right again."""
    own = copy_demo(program, folder)
    project, card = os.path.join(own, 'kelabau.gpkg'), os.path.join(own, 'cards', 'card-moss')
    taken = program.json('intake', project, card)
    equal((taken['deployment'], taken['steps']), ('MOSS-1', []), 'as a rule a reset is left alone')
    assert taken['first'].startswith('2020-01-01') and any('put right' in doubt for doubt in taken['doubts']), taken
    equal((taken['safe'], taken['why_not_safe']), (True, None), 'safe')
    assert taken['camera']['serial'], taken['camera']
    times = 'SELECT file, at FROM frames WHERE batch_id = (SELECT max(id) FROM batches) ORDER BY file'
    bare = query(project, times)

    looked = program.json('clock', project, taken['batch'])
    equal((looked['changed'], looked['done'], [step['step'] for step in looked['steps']]), (0, [], ['reset']), 'looked')
    repaired = program.json('clock', project, taken['batch'], '--repair-clock')
    equal((repaired['changed'], repaired['done']), (taken['frames'], ['reset']), 'repaired')
    assert repaired['first'].startswith('2026-06-0'), repaired['first']
    right = query(project, times)
    equal(program.json('clock', project, taken['batch'], '--bare')['done'], [], 'bare')
    equal(query(project, times), bare, 'the bare readings')
    program.json('clock', project, taken['batch'], '--apply', 'reset')
    equal(query(project, times), right, 'put right again')
    equal(program.json('check', project)['problems'], [], 'problems')
    program.run('clock', project, taken['batch'], '--apply', 'drift', status=2)
    program.run('clock', project, taken['batch'], '--apply', 'reset', '--bare', status=2)
    program.run('clock', project, 'NO-BATCH', status=1)


def intake_repairs_when_asked(program, folder):
    own = copy_demo(program, folder)
    taken = program.json('intake', os.path.join(own, 'kelabau.gpkg'), os.path.join(own, 'cards', 'card-moss'), '--repair-clock')
    equal([step['step'] for step in taken['steps']], ['reset'], 'steps')
    assert taken['first'].startswith('2026-06-0'), taken['first']


def intake_refuses_a_guess(program, folder):
    """Where more than one deployment fits, or none does, somebody has to say."""
    need_tool('exiftool')
    project, card = make_folder(program, folder)
    stamp(program, card, PLAIN[:1])
    program.run('import', project, write_csv(os.path.join(folder, 's2.csv'), 'station', [['T']]),
                write_csv(os.path.join(folder, 'd2.csv'), 'deployment,station,start', [['E', 'T', '2026-05-01T00:00']]))
    said = program.run('intake', project, card, status=2).err
    assert 'D' in said and 'E' in said, said
    equal(query(project, 'SELECT count(*) FROM batches'), [(0,)], 'batches')
    empty = program.new(os.path.join(folder, 'q.gpkg'))
    program.run('intake', empty, card, status=2)


# Tags as different makers write them: where the date stands, a fraction, an offset from UTC.
PLAIN = (
    ('plain', ['-DateTimeOriginal=2026:05:14 07:30:05']),
    ('subsec', ['-DateTimeOriginal=2026:05:14 07:30:06', '-SubSecTimeOriginal=5']),
    ('subsec-zero', ['-DateTimeOriginal=2026:05:14 07:30:07', '-SubSecTimeOriginal=05']),
    ('subsec-long', ['-DateTimeOriginal=2026:05:14 07:30:08', '-SubSecTimeOriginal=123456']),
    ('digitized', ['-CreateDate=2026:05:14 07:31:00', '-SubSecTimeDigitized=25']),
    ('both', ['-DateTimeOriginal=2026:05:14 07:31:30', '-CreateDate=2026:05:20 00:00:00']),
    ('modified-later', ['-DateTimeOriginal=2026:05:14 07:32:00', '-ModifyDate=2026:06:01 00:00:00']),
    ('upright', ['-DateTimeOriginal=2026:05:14 07:33:00', '-Orientation#=6', '-GPSLatitude=0', '-GPSLongitude=0']),
    ('midnight', ['-DateTimeOriginal=2026:05:15 00:00:00']),
    ('sidecar-words', ['-XMP-exif:DateTimeOriginal=2026:05:14 07:35:00']),
)
OFFSETS = (
    ('east', ['-DateTimeOriginal=2026:05:14 07:30:05', '-OffsetTimeOriginal=+07:00']),
    ('half-hour', ['-DateTimeOriginal=2026:05:14 07:40:05', '-OffsetTimeOriginal=+05:30', '-SubSecTimeOriginal=75']),
    ('west', ['-DateTimeOriginal=2026:05:14 07:50:05', '-OffsetTimeOriginal=-03:00']),
    ('digitized', ['-CreateDate=2026:05:14 07:55:00', '-OffsetTimeDigitized=+07:00']),
)
# What the camera's clock showed and the true time: it was 7 min 12.5 s slow.
PAIR = ('--clock-read', '2026-05-16T10:00:00', '--clock-true', '2026-05-16T10:07:12.500+08:00')
# The same for a camera that tells +07:00.
OWN_PAIR = ('--clock-read', '2026-05-16T09:00:00+07:00', '--clock-true', '2026-05-16T10:07:12.500+08:00')


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


def read_with_exiftool(paths):
    """{file name: (date, fraction, offset)} as exiftool reads them; the original before the digitized, Exif before XMP."""
    done = subprocess.run(['exiftool', '-json', '-G1', '-n', *paths], capture_output=True, check=True)
    return {os.path.basename(row['SourceFile']): choose_date(row) for row in json.loads(done.stdout)}


def choose_date(row):
    for date, fraction, offset in (('ExifIFD:DateTimeOriginal', 'ExifIFD:SubSecTimeOriginal', 'ExifIFD:OffsetTimeOriginal'),
                                   ('ExifIFD:CreateDate', 'ExifIFD:SubSecTimeDigitized', 'ExifIFD:OffsetTimeDigitized'),
                                   ('XMP-exif:DateTimeOriginal', '', '')):
        if str(row.get(date, '')).strip(' 0:'):
            return str(row[date]), str(row.get(fraction, '')).strip(), str(row.get(offset, '')).strip()
    return None


def moment_of(read, hours_east, shift_s):
    """The instant a reading stands for, cut to milliseconds as the program says it does."""
    date, fraction, offset = read
    moment = datetime.datetime.strptime(date[:19], '%Y:%m:%d %H:%M:%S')
    moment += datetime.timedelta(milliseconds=int((fraction + '000')[:3]) if fraction else 0)
    if offset:
        hours_east = (-1 if offset[0] == '-' else 1) * (int(offset[1:3]) + int(offset[4:6]) / 60)
    moment += datetime.timedelta(seconds=shift_s) - datetime.timedelta(hours=hours_east)
    return moment.strftime('%Y-%m-%dT%H:%M:%S.') + '%03dZ' % (moment.microsecond // 1000)


def stamp(program, card, makers):
    for number, (name, tags) in enumerate(makers):
        path = os.path.join(card, name + '.JPG')
        shutil.copy(bare_picture(program), path)
        subprocess.run(['exiftool', '-q', '-overwrite_original', '-all=', path], check=True)
        subprocess.run(['exiftool', '-q', '-overwrite_original', '-n', '-Make=Maker %d' % number, *tags, path], check=True)


def times_of_exiftool_written(makers, pair, shift_s):
    """The time on record is what exiftool reads, in its own offset or else the project's zone, plus our correction."""
    def case(program, folder):
        need_tool('exiftool')
        project, card = make_folder(program, folder)
        stamp(program, card, makers)
        read = read_with_exiftool([os.path.join(card, name) for name in os.listdir(card)])
        assert all(read.values()) and len(read) == len(makers), read
        document = program.json('intake', project, '--deployment', 'D', card, *pair)
        equal(document['clock_offset_s'], shift_s, 'clock_offset_s')
        rows = {os.path.basename(file): at for file, at in query(project, 'SELECT file, at FROM frames')}
        equal(rows, {name: moment_of(date, 8, shift_s) for name, date in read.items()}, 'times')
    return case


def clock_reading_is_kept(program, folder):
    """What the camera said stays on record beside the corrected time, offset and fraction included."""
    need_tool('exiftool')
    project, card = make_folder(program, folder)
    stamp(program, card, OFFSETS[:2])
    program.run('intake', project, '--deployment', 'D', card, *PAIR)
    equal(sorted(query(project, 'SELECT camera_time FROM frames')),
          [('2026-05-14T07:30:05+07:00',), ('2026-05-14T07:40:05.750+05:30',)], 'camera_time')


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
    for number, (path, _) in enumerate(photographs):
        shutil.copy(path, os.path.join(card, '%04d%s' % (number, os.path.splitext(path)[1])))
    read = read_with_exiftool([os.path.join(card, name) for name in sorted(os.listdir(card))])
    program.run('intake', project, '--deployment', 'D', card, status=None)
    seen = 0
    for file, shown in query(project, "SELECT file, camera_time FROM frames WHERE time_source = 'exif-original'"):
        date, fraction, offset = read[os.path.basename(file)]
        wanted = date[:19].replace(':', '-', 2).replace(' ', 'T')
        milliseconds = (fraction + '000')[:3]
        equal(shown, wanted + ('' if milliseconds == '000' else '.' + milliseconds) + offset.replace('Z', '+00:00'), file)
        seen += 1
    assert seen > 0, 'none of %d photographs was taken in with its date' % len(photographs)


def main():
    return run_cases([
        ('demo: the same bytes twice, in any zone', demo_is_the_same_twice),
        ('demo: stations, units, frames, failures', demo_holds_what_it_says),
        ('demo: only into an empty folder', demo_writes_only_into_an_empty_folder),
        ('ogrinfo reads the project without complaint', gdal_reads_the_project),
        ('validate_gpkg finds it valid', gdal_finds_it_valid),
        ('intake: a reset clock, twice', intake_of_a_reset_clock),
        ('intake: what cannot be read is kept aside', intake_sets_aside),
        ('intake: looking writes nothing', look_writes_nothing),
        ('intake: the deployment found, the clock put right afterwards', intake_finds_its_deployment),
        ('intake: a clock repaired when asked', intake_repairs_when_asked),
        ('intake: no guessing', intake_refuses_a_guess),
        ('intake: times without an offset', times_of_exiftool_written(PLAIN, (), 0)),
        ('intake: times without an offset, clock put right', times_of_exiftool_written(PLAIN, PAIR, 432.5)),
        ('intake: times with their offset', times_of_exiftool_written(OFFSETS, (), 0)),
        ('intake: one offset throughout, clock put right', times_of_exiftool_written(OFFSETS[:1] + OFFSETS[3:], OWN_PAIR, 432.5)),
        ('intake: what the clock showed is kept', clock_reading_is_kept),
        ('intake: times of real photographs', times_of_real_photographs),
    ])


if __name__ == '__main__':
    sys.exit(main())
