"""The visit sheet: the pages, the table beside them, and what they must not give away."""

import csv
import datetime
import os
import re
import struct
import subprocess
import sys

from samples import DEPLOYMENTS, FITTINGS, STATIONS, UNITS
from terminal import dump, equal, need_tool, query, read_bytes, run_cases, without_history, write_bytes, write_csv

# The table's contract: the columns that import knows as a filled-in field sheet.
COLUMNS = ('station,at,people,found,camera_clock,true_clock,frames_on_card,left,visit_notes,unit,label,kind,state,volts,percent,'
           'action,replacement,cause,notes')
GIVEN = ('station', 'unit', 'label', 'kind')
DEMO = {}


def demo_of(program):
    """The demo is only looked at: one for all cases."""
    if 'project' not in DEMO:
        DEMO['project'] = program.demo(os.path.join(program.env['TMPDIR'], 'demo'))
    return DEMO['project']


def pages_of(path):
    need_tool('pdftotext')
    text = subprocess.run(['pdftotext', '-layout', path, '-'], capture_output=True, check=True).stdout.decode()
    return [' '.join(page.split()) for page in text.split('\f')[:-1]]


def read_rows(path):
    with open(path, encoding='utf-8', newline='') as file:
        rows = list(csv.reader(file))
    equal(','.join(rows[0]), COLUMNS, 'columns')
    return [dict(zip(rows[0], row)) for row in rows[1:]]


def rig_of(project, station):
    """Codes and labels of the units that stand at @station, by the project file itself."""
    return query(project, 'SELECT u.unit, coalesce(u.label, u.unit) FROM fittings f JOIN units u ON u.id = f.unit_id'
                          ' JOIN deployments d ON d.id = f.deployment_id JOIN stations s ON s.id = d.station_id'
                          ' WHERE s.station = ? AND f.to_at IS NULL AND d.end_at IS NULL', station)


def due_stations(program, project):
    return [row['station'] for row in program.json('due', project)['stations'] if row['state'] in ('soon', 'now', 'down')]


def sheet_of_what_is_due(program, folder):
    """A page for each station that is due, in the order of the due list, with its units, blanks and cautions."""
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    document = program.json('sheet', project, 'visit', '-o', path)
    due, pages = due_stations(program, project), pages_of(path)
    names = dict(query(project, 'SELECT station, coalesce(name, station) FROM stations'))

    assert due, 'the demo has something due'
    equal(document['stations'], due, 'stations')
    equal((document['pages'], document['sheet'], document['csv'], document['exact']),
          (len(pages), path, os.path.join(folder, 'v.csv'), False), 'JSON')
    starts = [number for number, page in enumerate(pages) if not re.match(r'.{1,60}, continued', page)]
    equal(len(starts), len(due), 'chapters')
    for number, station in zip(starts, due):
        end = starts[starts.index(number) + 1] if number != starts[-1] else len(pages)
        text = ' '.join(pages[number:end])
        assert text.startswith(names[station]), text[:200]
        for piece in ('Way in', 'Last visit', 'What is due, and why', 'Bring', 'Take care', 'On arrival', 'Arrived (date, time)', 'Who',
                      'Found', 'Working', 'Dead', 'Card full', 'Disturbed', 'Gone', 'Camera’s clock', 'True time', 'Frames on card',
                      'Volts', '%', 'Swapped', 'Cleaned', 'Repaired', 'Removed', 'Replaced', 'Left as', 'Notes', station,
                      'Tell somebody your round and the hour you are due back', 'snakes', 'dead branches', 'Do not mix cells',
                      'licensed practice'):
            assert piece in text, '%s: %r is not in: %s' % (station, piece, text)
        for code, label in rig_of(project, station):
            assert code in text and label in text, '%s: %s' % (station, code)
    for number, page in enumerate(pages, 1):
        assert 'page %d of %d' % (number, len(pages)) in page, page[-200:]


def table_beside(program, folder):
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    program.run('sheet', project, 'visit', '-o', path)
    rows = read_rows(os.path.join(folder, 'v.csv'))

    equal(list(dict.fromkeys(row['station'] for row in rows)), due_stations(program, project), 'stations')
    for station in {row['station'] for row in rows}:
        equal(sorted(row['unit'] for row in rows if row['station'] == station), sorted(code for code, _ in rig_of(project, station)), station)
    for row in rows:
        equal([value for column, value in row.items() if column not in GIVEN and value], [], 'filled in')
    assert sorted(os.listdir(folder)) == ['v.csv', 'v.pdf'], os.listdir(folder)


def cautions_fit_the_rig(program, folder):
    """The capacitor's only where a flash stands, heat only where lithium cells are, acid only with lead-acid."""
    project = demo_of(program)
    seen = set()
    for station, in query(project, "SELECT s.station FROM stations s JOIN deployments d ON d.station_id = s.id WHERE d.end_at IS NULL"):
        path = os.path.join(folder, station + '.pdf')
        program.run('sheet', project, 'visit', '-o', path, '--station', station)
        text = ' '.join(pages_of(path))
        codes = tuple(code for code, _ in rig_of(project, station))
        units = query(project, 'SELECT kind, chemistry FROM units WHERE unit IN (%s)' % ','.join('?' * len(codes)), *codes)
        for words, there in (('charge that can kill', any(kind == 'flash' for kind, _ in units)),
                             ('Keep lithium cells', any(chemistry in ('lithium', 'li-ion') for _, chemistry in units)),
                             ('acid and give off gas', any(chemistry == 'lead-acid' for _, chemistry in units))):
            equal(words in text, there, '%s: %s' % (station, words))
            seen.add((words, there))
    assert ('charge that can kill', True) in seen and ('acid and give off gas', True) in seen, seen


def fonts_and_paper(program, folder):
    need_tool('pdffonts')
    need_tool('pdfinfo')
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    # in points: ISO 216 and ANSI/ASME Y14.1, from memory
    for options, size in (((), '595.276 x 841.89'), (('--size', 'letter'), '612 x 792'), (('--size', 'A4'), '595.276 x 841.89')):
        program.run('sheet', project, 'visit', '-o', path, *options)
        info = subprocess.run(['pdfinfo', path], capture_output=True, check=True).stdout.decode()
        assert size in info and 'CreationDate' not in info, info
        fonts = subprocess.run(['pdffonts', path], capture_output=True, check=True).stdout.decode().splitlines()[2:]
        assert fonts, 'the text is text'
        for font in fonts:
            equal(re.search(r' (yes|no) (yes|no) (yes|no) +\d', font).group(1), 'yes', 'embedded: ' + font)


def same_bytes(program, folder):
    made = []
    for number, env in enumerate(({}, {'TZ': 'Pacific/Auckland', 'HOME': folder})):
        path = os.path.join(folder, str(number), 'v.pdf')
        os.mkdir(os.path.dirname(path))
        program.run('sheet', demo_of(program), 'visit', '-o', path, env=env)
        made.append((read_bytes(path), read_bytes(path[:-3] + 'csv')))
    equal(made[0], made[1], 'the sheet and its table')


def tells_no_place(program, folder):
    """No coordinates but with --exact, and then every page says so."""
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    station = due_stations(program, project)[0]
    mark = 'Exact locations, not for handing out'
    secrets = [format(degrees, '.%df' % digits) for degrees in place_of(project, station) for digits in (3, 4, 5)]

    program.run('sheet', project, 'visit', '-o', path, '--station', station)
    plain = ' '.join(pages_of(path)) + read_bytes(path[:-3] + 'csv').decode()
    for secret in secrets + [mark]:
        assert secret not in plain, secret
    program.run('sheet', project, 'visit', '-o', path, '--station', station, '--exact')
    pages = pages_of(path)
    assert all(mark in page for page in pages), pages
    assert secrets[2] in pages[0] and secrets[5] in pages[0], (secrets, pages[0])


def place_of(project, station):
    """By the GeoPackage's own geometry: header of 8 bytes plus envelope, then WKB of a point (OGC 12-128r17, 2.1.3)."""
    geometry, = query(project, 'SELECT geom FROM stations WHERE station = ?', station)[0]
    header = 8 + (0, 32, 48, 48, 64)[(geometry[3] >> 1) & 7]
    longitude, latitude = struct.unpack(('<' if geometry[header] == 1 else '>') + 'dd', geometry[header + 5:header + 21])
    return latitude, longitude


def filled_in_and_home(program, folder):
    """Filled in, the table is a visit; empty, it changes nothing."""
    project = program.demo(os.path.join(folder, 'demo'))
    path = os.path.join(folder, 'v.pdf')
    station = due_stations(program, project)[0]
    program.run('sheet', project, 'visit', '-o', path, '--station', station)
    before = without_history(dump(project))
    program.run('import', project, path[:-3] + 'csv')
    equal(without_history(dump(project)), before, 'an empty sheet')

    rows = read_rows(path[:-3] + 'csv')
    rows[0].update(at='2026-06-12T09:30', found='working', people='A. Guide', visit_notes='all dry')
    for row in rows:
        row['at'] = '2026-06-12T09:30'
        if row['kind'] not in ('card', 'housing'):
            row.update(state='working', percent='80')
    program.run('import', project, write_csv(path[:-3] + 'csv', COLUMNS, [list(row.values()) for row in rows]))
    equal(query(project, "SELECT v.people, v.found, v.notes FROM visits v JOIN stations s ON s.id = v.station_id"
                         " WHERE s.station = ? ORDER BY v.at DESC LIMIT 1", station), [('A. Guide', 'working', 'all dry')], 'the visit')
    seen = query(project, 'SELECT count(*) FROM readings WHERE visit_id = (SELECT id FROM visits ORDER BY at DESC LIMIT 1) AND percent = 80')
    equal(seen[0][0], sum(row['percent'] == '80' for row in rows), 'readings')

    # what somebody filled in is never written over
    kept = read_bytes(path[:-3] + 'csv'), read_bytes(path)
    refused = program.run('sheet', project, 'visit', '-o', path, '--station', station, status=1)
    assert 'v.csv' in refused.err, refused
    equal((read_bytes(path[:-3] + 'csv'), read_bytes(path)), kept, 'files')


def replaced_when_empty(program, folder):
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    first, second = due_stations(program, project)[:2]
    program.run('sheet', project, 'visit', '-o', path, '--station', first)
    program.run('sheet', project, 'visit', '-o', path, '--station', second)
    equal({row['station'] for row in read_rows(path[:-3] + 'csv')}, {second}, 'stations')

    for content in (b'', b'a,b\n1,2\n', b'\x89PNG'):
        write_bytes(os.path.join(folder, 'other.csv'), content)
        program.run('sheet', project, 'visit', '-o', os.path.join(folder, 'other.pdf'), status=1)
        equal(read_bytes(os.path.join(folder, 'other.csv')), content, 'a table of somebody else')
        assert not os.path.exists(os.path.join(folder, 'other.pdf'))


LONG = 'A very long name of a place where the old logging road meets the second ford and nobody remembers why'


def odd_stations(program, folder):
    """Long names, twelve units and more, nothing known, no rig, no way in: all of it is on the paper."""
    project = program.new(os.path.join(folder, 'p.gpkg'))
    path = os.path.join(folder, 'v.pdf')
    units = [['U%02d' % n, kind, '%s number %d of this rig' % (kind, n)] + [''] * 20
             for n, kind in enumerate(['camera', 'trigger'] + ['flash'] * 12 + ['pack'] * 12 + ['card', 'housing', 'other'], 1)]
    blank = [''] * 20
    for name, columns, rows in (
            ('s', STATIONS, [['LONG', LONG] + [''] * 7 + [('leave the road at the bent pole; ' * 60).strip(), ''],
                             ['BARE'] + [''] * 10, ['TWELVE', 'Twelve', *blank[:9]]]),
            ('u', UNITS, units + [['T%02d' % n, 'flash', 'flash %d' % n] + blank for n in range(12)]),
            ('d', DEPLOYMENTS, [['D1', 'LONG', '2026-01-01T10:00'] + [''] * 11, ['D2', 'TWELVE', '2026-01-01T10:00'] + [''] * 11]),
            ('f', FITTINGS, [['D1', unit[0], '2026-01-01T10:00', ''] for unit in units]
             + [['D2', 'T%02d' % n, '2026-01-01T10:00', ''] for n in range(12)])):
        program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))

    nothing = program.run('sheet', project, 'visit', '-o', path, '--on', '2026-02-01', status=1)
    assert 'Nothing is due' in nothing.err and not os.path.exists(path), nothing
    document = program.json('sheet', project, 'visit', '-o', path, '--on', '2026-02-01', '--station', 'LONG', '--station', 'BARE',
                            '--station', 'TWELVE')
    text = ' '.join(pages_of(path))
    equal(sorted(document['stations']), ['BARE', 'LONG', 'TWELVE'], 'stations')
    for piece in ('No rig stands here', 'No way in is noted', 'No visit is on record yet', 'cannot say', ', continued'):
        assert piece in text, piece
    assert 'A very long name of a place' in text
    equal(text.count('leave the road at the bent pole'), 60, 'the way in')
    for unit in units:
        assert unit[0] in text, unit[0]
    for n in range(12):
        assert 'T%02d' % n in text, n
    rows = read_rows(path[:-3] + 'csv')
    equal(len(rows), len(units) + 12 + 1, 'rows')
    equal([row['unit'] for row in rows if row['station'] == 'BARE'], [''], 'a station without a rig')


def unknown_is_said(program, folder):
    """A station of which nothing can be said is not due, and not passed over in silence."""
    project = program.demo(os.path.join(folder, 'demo'))
    known = due_stations(program, project)
    program.run('import', project, write_csv(os.path.join(folder, 's.csv'), 'station', [['DARK']]),
                write_csv(os.path.join(folder, 'u.csv'), 'unit,kind', [['X-1', 'camera']]),
                write_csv(os.path.join(folder, 'd.csv'), 'deployment,station,start', [['DARK-1', 'DARK', '2026-06-01T10:00']]),
                write_csv(os.path.join(folder, 'f.csv'), 'deployment,unit,from,to', [['DARK-1', 'X-1', '2026-06-01T10:00', '']]))
    result = program.run('sheet', project, 'visit', '-o', os.path.join(folder, 'v.pdf'))
    assert '1 station is left out' in result.err, result
    equal(list(dict.fromkeys(row['station'] for row in read_rows(os.path.join(folder, 'v.csv')))), known, 'stations')


def moment_of_asking(program, folder):
    """What came after --on is unknown to the sheet."""
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    station, = query(project, 'SELECT s.station FROM visits v JOIN stations s ON s.id = v.station_id ORDER BY v.at DESC LIMIT 1')[0]
    last = [row[0] for row in query(project, 'SELECT v.at FROM visits v JOIN stations s ON s.id = v.station_id WHERE s.station = ?'
                                             ' ORDER BY v.at', station)]
    program.run('sheet', project, 'visit', '-o', path, '--station', station, '--on', last[-2], '--until', '2026-12-24')
    text = ' '.join(pages_of(path))
    said = re.search(r'Last visit .*?(\d+) (\w+) (\d{4}) \d\d:\d\d', text)
    months = 'January February March April May June July August September October November December'.split()
    wanted = datetime.datetime.fromisoformat(last[-2].rstrip('Z')) + datetime.timedelta(hours=8)  # the demo's zone
    equal((int(said.group(3)), months.index(said.group(2)) + 1, int(said.group(1))), (wanted.year, wanted.month, wanted.day), 'last visit')
    assert 'next round on 24 December 2026' in text


def refusals(program, folder):
    project, path = demo_of(program), os.path.join(folder, 'v.pdf')
    for words, status in (
            ((project, 'visit'), 2),                                              # no -o
            ((project, 'menu', '-o', path), 2),                                   # no such kind
            ((project, 'visit', '-o', os.path.join(folder, 'v.png')), 2),         # no PDF
            ((project, 'visit', '-o', path, '--size', 'a0'), 2),
            ((project, 'visit', '-o', path, '--on', 'someday'), 2),
            ((project, 'visit', '-o', path, '--species', 'Sus barbatus'), 2),     # not an option of this command
            ((project, 'visit', '-o', path, '--station', 'NOPE'), 1),
            ((os.path.join(folder, 'none.gpkg'), 'visit', '-o', path), 3),
            ((project, 'visit', '-o', os.path.join(folder, 'no', 'v.pdf')), 1)):
        result = program.run('sheet', *words, status=status)
        assert result.err and not result.out, result
        equal(os.listdir(folder), [], 'nothing is written')


def help_is_there(program, folder):
    text = program.run('help', 'sheet').out
    for piece in ('sheet FILE visit', '--station', '--until', '--size', '--exact', 'OUT.csv'):
        assert piece in text, piece


def main():
    return run_cases([
        ('what is due', sheet_of_what_is_due), ('the table beside it', table_beside), ('cautions', cautions_fit_the_rig),
        ('fonts and paper', fonts_and_paper), ('same bytes', same_bytes), ('no place told', tells_no_place),
        ('filled in and home', filled_in_and_home), ('replaced only when empty', replaced_when_empty), ('odd stations', odd_stations),
        ('nothing can be said', unknown_is_said), ('moment of asking', moment_of_asking), ('refusals', refusals), ('help', help_is_there),
    ])


if __name__ == '__main__':
    sys.exit(main())
