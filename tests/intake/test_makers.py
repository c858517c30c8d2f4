"""Pictures of many makers: what the program reads in them is what exiftool reads, and they come in whole.

    test_makers.py TAPETUM EXIF-DRIVER

The pictures are made up by tests/data/cameras. exiftool is another reading of the same bytes, written by others; where it
has two tags for one thing, the comment at the table says which of them it is compared with.
"""

import hashlib
import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.join(HERE, '..', 'batch'), os.path.join(HERE, '..', 'data', 'cameras')]
import make_cameras  # noqa: E402
from terminal import equal, list_tree, need_tool, query, read_bytes, run_cases, write_csv  # noqa: E402

COLUMNS = ('source', 'reading', 'make', 'model', 'serial', 'orientation', 'flash', 'tenths', 'number', 'sequence', 'width', 'height',
           'exposure')


def read_ours(program, paths):
    """{file name: {column: text}} by the program's own reading."""
    done = subprocess.run([program.extra[0], *paths], env=program.env, capture_output=True, text=True, check=False)
    equal((done.returncode, done.stderr), (0, ''), 'exif-driver')
    lines = [line.split('\t') for line in done.stdout.splitlines()]
    return {os.path.basename(path): dict(zip(COLUMNS, rest)) for path, *rest in lines}


def read_theirs(paths):
    """{file name: tags} by exiftool. -n: numbers, not words for them; numbers come as text, so that none loses its zeros."""
    need_tool('exiftool')
    tags = ('DateTimeOriginal', 'SubSecTimeOriginal', 'OffsetTimeOriginal', 'Make', 'Model', 'SerialNumber', 'InternalSerialNumber',
            'Flash', 'Orientation', 'AmbientTemperature', 'SequenceNumber', 'Sequence', 'FNumber', 'ExposureTime', 'ISO')
    done = subprocess.run(['exiftool', '-n', '-q', '-S', '-s', '-f', '-p', '\t'.join(['$filename'] + ['$' + tag for tag in tags]), *paths],
                          capture_output=True, text=True, check=False)
    # one kind of field camera's serial number is told as bytes of UTF-16, zeros and all
    rows = [line.split('\t') for line in done.stdout.replace('\0', '').splitlines()]
    return {row[0]: {tag: '' if value == '-' else value.strip() for tag, value in zip(tags, row[1:])} for row in rows}


def write_pictures(folder):
    told = make_cameras.write_all(os.path.join(folder, 'made'))
    paths = [os.path.join(folder, 'made', picture['file']) for picture in told]
    assert len(paths) >= 20 and sum(picture['kind'] == 'raw' for picture in told) >= 8, told
    return paths


def reading_of(tags):
    """The time as the program writes readings: cut to milliseconds, offset only if there is one."""
    date, time = tags['DateTimeOriginal'].split(' ')
    milliseconds = (tags['SubSecTimeOriginal'] + '000')[:3]
    return (date.replace(':', '-') + 'T' + time[:8] + ('' if milliseconds == '000' else '.' + milliseconds) +
            tags['OffsetTimeOriginal'].replace('+00:00', 'Z'))


def expect(tags):
    """What ours should be, column by column. Of two serial numbers the one called so before the one called internal; bit 0 of
    Flash is whether it fired (Exif 2.32, table 13); a field camera's `Sequence` is place and length."""
    sequence = tags['SequenceNumber'] or tags['Sequence'].split(' ')[0]
    return {
        'reading': reading_of(tags), 'make': tags['Make'], 'model': tags['Model'],
        'serial': tags['SerialNumber'] or tags['InternalSerialNumber'], 'orientation': tags['Orientation'],
        'flash': str(int(tags['Flash']) & 1),
        'tenths': str(round(float(tags['AmbientTemperature']) * 10)) if tags['AmbientTemperature'] else '',
        'sequence': '' if sequence == '0' else sequence,
    }


def same_as_exiftool(program, folder):
    paths = write_pictures(folder)
    ours, theirs = read_ours(program, paths), read_theirs(paths)
    equal(sorted(ours), sorted(theirs), 'pictures')
    for name, tags in sorted(theirs.items()):
        for column, value in expect(tags).items():
            equal(ours[name][column].replace('+00:00', 'Z'), value, '%s: %s' % (name, column))


def every_kind_of_fact_is_there(program, folder):
    """Or the comparison compares nothings."""
    ours = read_ours(program, write_pictures(folder)).values()
    for column, least in (('serial', 16), ('tenths', 8), ('sequence', 10), ('reading', len(ours))):
        found = sum(row[column] != '' for row in ours)
        assert found >= least, '%s: %d' % (column, found)
    equal({row['flash'] for row in ours}, {'0', '1'}, 'flash')
    equal({row['orientation'] for row in ours}, {'1', '3', '6', '8'}, 'orientation')
    equal({row['source'] for row in ours}, {'exif-original', 'maker-note'}, 'sources')


def facts_as_written(program, folder):
    """Against the makers of the pictures themselves, where exiftool tells nothing of its own accord."""
    ours = read_ours(program, write_pictures(folder))
    for name, _, camera in make_cameras.FILES:
        equal(ours[name]['serial'], camera.serial or camera.body_serial or '', name + ': serial')
        equal(ours[name]['orientation'], str(camera.orientation), name + ': orientation')
        equal(ours[name]['tenths'], '' if camera.temperature is None else str(round(camera.temperature * 10)), name + ': temperature')
        equal(ours[name]['source'], 'maker-note' if name.startswith('NODATE') else 'exif-original', name + ': source')
    # folder 100, file 1234; one maker writes both into one number, 1001234
    equal([ours[name]['number'] for name in ('CANON.CR2', 'CANON.JPG', 'NIKON.NEF', 'NIKON.JPG')],
          ['1001234', '1001234', '1234', '1234'], 'file numbers')


def jpegs_inside_are_found(program, folder):
    """By the library that the program uses, as images of their own."""
    need_tool('exiv2')
    for picture, path in zip(make_cameras.write_all(os.path.join(folder, 'made')), write_pictures(folder)):
        done = subprocess.run(['exiv2', '-pp', path], capture_output=True, text=True, check=False)
        equal((done.returncode, done.stderr), (0, ''), picture['file'])
        for size in (picture['large'], picture['small']):
            assert size == (0, 0) or picture['kind'] == 'jpeg' or '%dx%d pixels' % size in done.stdout, (picture, done.stdout)


def the_same_twice(program, folder):
    for name in ('one', 'two'):
        make_cameras.write_all(os.path.join(folder, name))
    equal(list_tree(os.path.join(folder, 'one')), list_tree(os.path.join(folder, 'two')), 'the pictures')


def they_come_in_whole(program, folder):
    """As one card: every byte is copied, the times on record are the cameras', none is refused or called damaged."""
    paths = write_pictures(folder)
    project = program.new(os.path.join(folder, 'p.gpkg'))
    program.run('import', project, write_csv(os.path.join(folder, 's.csv'), 'station', [['S']]),
                write_csv(os.path.join(folder, 'd.csv'), 'deployment,station,start', [['D', 'S', '2024-01-01T00:00']]))
    result = program.json('intake', project, '--deployment', 'D', os.path.join(folder, 'made'))
    equal((result['frames'], result['unreadable'], result['damaged']), (len(paths), [], []), 'frames, unreadable, damaged')
    rows = query(project, 'SELECT file, sha256, camera_time, time_source FROM frames')
    wanted = {os.path.basename(path): hashlib.sha256(read_bytes(path)).hexdigest() for path in paths}
    equal({os.path.basename(row[0]): row[1] for row in rows}, wanted, 'contents on record')
    equal(sorted(list_tree(os.path.join(folder, 'pictures')).values()), sorted(wanted.values()), 'copies')
    ours = read_ours(program, paths)
    equal({os.path.basename(row[0]): (row[2], row[3]) for row in rows},
          {name: (row['reading'], row['source']) for name, row in ours.items()}, 'times')


def cut_anywhere_is_borne(program, folder):
    """Cut short at every 97th byte of its head, a picture is read or refused, and the reader never dies."""
    cut = os.path.join(folder, 'cut')
    os.mkdir(cut)
    for path in write_pictures(folder):
        content = read_bytes(path)
        paths = []
        for length in range(0, min(len(content), 2500), 97):
            paths.append(os.path.join(cut, '%d-%s' % (length, os.path.basename(path))))
            with open(paths[-1], 'wb') as file:
                file.write(content[:length])
        done = subprocess.run([program.extra[0], *paths], env=program.env, capture_output=True, text=True, check=False)
        assert done.returncode in (0, 1), (path, done.returncode, done.stderr[-500:])


def main():
    return run_cases([
        ('read as exiftool reads them', same_as_exiftool),
        ('there is something to compare', every_kind_of_fact_is_there),
        ('read as they were written', facts_as_written),
        ('the JPEGs inside are found', jpegs_inside_are_found),
        ('the same bytes twice', the_same_twice),
        ('they come in whole', they_come_in_whole),
        ('cut short, borne', cut_anywhere_is_borne),
    ])


if __name__ == '__main__':
    sys.exit(main())
