"""Figures: formats, the numbers beside them, and what they must not give away."""

import csv
import os
import re
import struct
import subprocess
import sys
import xml.etree.ElementTree
import zlib

from terminal import close, equal, need_tool, query, read_bytes, run_cases, write_csv

DEMO = {}

# Kinds that are of no station at all, however exact.
PLACELESS = ('hours', 'months', 'accumulation')


def demo_of(program):
    """The demo is only looked at: one for all cases."""
    if 'project' not in DEMO:
        DEMO['project'] = program.demo(os.path.join(program.env['TMPDIR'], 'demo'))
    return DEMO['project']


def read_table(path):
    with open(path, encoding='utf-8', newline='') as file:
        return list(csv.DictReader(file))


def png_size(content):
    assert content[:8] == b'\x89PNG\r\n\x1a\n' and content[12:16] == b'IHDR', 'no PNG'
    return struct.unpack('>II', content[16:24])


def png_chunks(content):
    at = 8
    while at < len(content):
        length, kind = struct.unpack('>I4s', content[at:at + 8])
        body = content[at + 8:at + 8 + length]
        equal(struct.unpack('>I', content[at + 8 + length:at + 12 + length])[0], zlib.crc32(kind + body), 'check sum of a chunk')
        yield kind
        at += 12 + length


def png_is_right(kind):
    def case(program, folder):
        for size, wanted in (('800x600', (800, 600)), ('1234x700', (1234, 700))):
            path = os.path.join(folder, 'a.png')
            document = program.json('figure', demo_of(program), kind, '-o', path, '--size', size)
            content = read_bytes(path)
            equal(png_size(content), wanted, size)
            kinds = list(png_chunks(content))
            assert kinds[-1] == b'IEND' and b'tIME' not in kinds, kinds
            equal((document['figure'], document['csv'], document['generalised']), (path, os.path.join(folder, 'a.csv'), True), 'JSON')
            assert sorted(os.listdir(folder)) == ['a.csv', 'a.png'], os.listdir(folder)
    return case


def svg_is_right(kind):
    def case(program, folder):
        path = os.path.join(folder, 'a.svg')
        program.run('figure', demo_of(program), kind, '-o', path, '--size', '800x600')
        root = xml.etree.ElementTree.parse(path).getroot()
        equal(root.tag, '{http://www.w3.org/2000/svg}svg', 'root')
        equal(root.get('viewBox'), '0 0 800 600', 'size')
        texts = [child.text for child in root if child.tag.endswith(('}title', '}desc'))]
        assert len(texts) == 2 and all(texts), 'a figure says in words what it shows'
    return case


def pdf_is_right(kind):
    def case(program, folder):
        path = os.path.join(folder, 'a.pdf')
        program.run('figure', demo_of(program), kind, '-o', path, '--size', '170x120mm')
        content = read_bytes(path)
        assert content.startswith(b'%PDF-1.') and content.rstrip().endswith(b'%%EOF'), content[:20]
        need_tool('pdftotext')
        text = ' '.join(subprocess.run(['pdftotext', '-layout', path, '-'], capture_output=True, check=True).stdout.decode().split())
        rates = program.json('rates', demo_of(program))['species']
        pieces = {'due': ('14 stations', 'Run-out forecast', 'Stations by number'),
                  # whether a species was seen does not hang on how far records are apart
                  'accumulation': ('All species', 'trap nights', 'all ways to choose')}
        for piece in pieces.get(kind, ('All species', 'trap nights', '30 minutes')):
            assert piece in text, '%r is not in: %s' % (piece, text[:1500])
        if kind == 'strip':
            assert '{:,}'.format(sum(row['detections'] for row in rates)) in text, 'the number of detections'
    return case


def strip_has_the_rates(options):
    """The CSV beside the strip holds the detections and nights that rates counts."""
    def case(program, folder):
        words = [word.replace('_', ' ') for word in options.split()]
        program.run('figure', demo_of(program), 'strip', '-o', os.path.join(folder, 'a.svg'), '--exact', *words)
        rows = read_table(os.path.join(folder, 'a.csv'))
        rates = [row for row in program.json('rates', demo_of(program), *words)['species'] if row['detections']]
        titles = dict(query(demo_of(program), "SELECT p.scientific_name, c.name FROM species p JOIN common_names c"
                                              " ON c.species_id = p.id WHERE c.language = 'en'"))
        for rate in rates:
            own = [row for row in rows if row['item'] == 'detection' and row['what'] == titles[rate['species']]]
            equal((len(own), sum(int(row['count']) for row in own), len({row['station'] for row in own})),
                  (rate['detections'], rate['individuals'], rate['stations']), rate['species'])
        equal(sum(row['item'] == 'detection' for row in rows), sum(rate['detections'] for rate in rates), 'detections')
        nights = program.json('rates', demo_of(program), *words)['species'][0]['nights']
        for item in ('row', 'effort'):
            close(sum(float(row['trap_nights']) for row in rows if row['item'] == item), nights, 1e-9, 'nights of ' + item)
    return case


def map_has_the_rates(program, folder):
    """Exact: every station's count, nights and place. Not exact: their sums by cell."""
    project = demo_of(program)
    places = {name: (code, latitude, longitude) for name, code, latitude, longitude in station_places(project)}
    groups = {group['group']: group['species'] for group in program.json('rates', project, '--by', 'station')['groups']}
    program.run('figure', project, 'map', '-o', os.path.join(folder, 'exact.svg'), '--exact')
    rows = read_table(os.path.join(folder, 'exact.csv'))

    equal({row['station'] for row in rows}, set(places), 'stations')
    for row in rows:
        code, latitude, longitude = places[row['station']]
        equal(int(row['detections']), sum(one['detections'] for one in groups[code]), code)
        close(float(row['trap_nights']), groups[code][0]['nights'], 1e-9, code)
        assert abs(float(row['latitude']) - latitude) < 1e-9 and abs(float(row['longitude']) - longitude) < 1e-9, row


def station_places(project):
    """Name, code and place, read from the GeoPackage geometry: header of 8 bytes, then WKB of a point (OGC 12-128r17, 2.1.3)."""
    rows = query(project, 'SELECT coalesce(name, station), station, geom FROM stations')
    for name, code, geometry in rows:
        header = 8 + (0, 32, 48, 48, 64)[(geometry[3] >> 1) & 7]
        order = '<' if geometry[header] == 1 else '>'
        longitude, latitude = struct.unpack(order + 'dd', geometry[header + 5:header + 21])
        yield name, code, latitude, longitude


def texts_of(path):
    """What a figure says in words and numbers, drawn or not."""
    content = read_bytes(path)
    if path.endswith('.pdf'):
        content += subprocess.run(['pdftotext', path, '-'], capture_output=True, check=True).stdout
    return content.decode('utf-8', errors='replace')


def tells_no_place(kind, ending):
    def case(program, folder):
        project = demo_of(program)
        if ending == 'pdf':
            need_tool('pdftotext')
        path = os.path.join(folder, 'a.' + ending)
        program.run('figure', project, kind, '-o', path)
        said = texts_of(path) + texts_of(os.path.join(folder, 'a.csv'))
        for name, code, latitude, longitude in station_places(project):
            for secret in (name, '%s-1' % code):
                assert secret not in said, '%s of %s is given away' % (secret, name)
            # a table of hundreds of rates holds any three digits, but not by chance a whole degree and four decimals
            for degrees in ('%.4f',) if kind in PLACELESS else ('%.3f', '%.4f'):
                for number in (degrees % latitude, degrees % longitude):
                    assert not re.search(r'(?<![\d.])' + re.escape(number), said), '%s of %s is given away' % (number, name)
            assert not re.search(r'\b%s\b' % code, said), '%s is given away' % code

        program.run('figure', project, kind, '-o', path, '--exact')
        named = any(name in texts_of(os.path.join(folder, 'a.csv')) for name, _, _, _ in station_places(project))
        equal(named, kind not in PLACELESS, 'with --exact the names should be there, or this looks for the wrong thing')
    return case


def most_sensitive_left_out(program, folder):
    """A species of extreme sensitivity is not in the map of everything; asked for, it is drawn on a grid of a whole degree."""
    project = demo_of(program)
    rates = program.json('rates', project)['species']
    extreme = [name for name, in query(project, "SELECT scientific_name FROM species WHERE sensitivity = 'extreme'")]
    path = os.path.join(folder, 'a.svg')

    program.run('figure', project, 'map', '-o', path)
    total = sum(int(row['detections']) for row in read_table(os.path.join(folder, 'a.csv')))
    equal(total, sum(row['detections'] for row in rates if row['species'] not in extreme), 'detections on the map')
    program.run('figure', project, 'map', '-o', path, '--species', extreme[0])
    cells = read_table(os.path.join(folder, 'a.csv'))
    assert all(float(cell['cell_degrees']) >= 1 for cell in cells), cells


def no_trace_of_the_spot(program, folder):
    """Strongest of all: two projects whose stations differ only within a cell give the very same bytes."""
    figures = []
    # the second set lies up to 400 m beside the first, in the same cells of 0.01 degree, counted from their south-west corner
    for number, (north, east) in enumerate(((0.0, 0.0), (0.0031, -0.0027))):
        project = program.new(os.path.join(folder, '%d.gpkg' % number))
        stations = [['A', '%.5f' % (2.4112 + north), '%.5f' % (113.0533 + east)],
                    ['B', '%.5f' % (2.4615 + north), '%.5f' % (113.0952 + east)]]
        for name, columns, rows in (
                ('s', 'station,latitude,longitude', stations), ('p', 'scientific_name', [['Sus barbatus']]),
                ('d', 'deployment,station,start,end', [['DA', 'A', '2024-01-01', '2024-03-01'], ['DB', 'B', '2024-01-01', '2024-03-01']]),
                ('o', 'observation,deployment,start,type,scientific_name', [['O1', 'DA', '2024-01-05T10:00', 'animal', 'Sus barbatus']])):
            program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))
        program.run('figure', project, 'map', '-o', os.path.join(folder, '%d.svg' % number))
        program.run('figure', project, 'map', '-o', os.path.join(folder, '%d.png' % number))
        figures.append([read_bytes(os.path.join(folder, '%d%s' % (number, ending))) for ending in ('.svg', '.png', '.csv')])
        program.run('figure', project, 'map', '-o', os.path.join(folder, 'exact.svg'), '--exact')
        figures[-1].append(read_bytes(os.path.join(folder, 'exact.svg')))

    for index, ending in enumerate(('SVG', 'PNG', 'CSV')):
        assert figures[0][index] == figures[1][index], 'the %s depends on where in the cell a station is' % ending
    assert figures[0][3] != figures[1][3], 'the exact maps should differ'


def same_bytes(kind, ending):
    def case(program, folder):
        project = demo_of(program)
        made = []
        for number, env in enumerate(({}, {'TZ': 'Pacific/Auckland', 'HOME': folder})):
            path = os.path.join(folder, str(number), 'a.' + ending)
            os.mkdir(os.path.dirname(path))
            program.run('figure', project, kind, '-o', path, env=env)
            made.append((read_bytes(path), read_bytes(os.path.join(folder, str(number), 'a.csv'))))
        assert made[0][0] == made[1][0], 'the figure differs'
        assert made[0][1] == made[1][1], 'the table differs'
    return case


def due_has_the_forecast(program, folder):
    """The CSV beside the figure of what is due holds what the command says."""
    project = demo_of(program)
    words = ('--on', '2026-05-01T12:00', '--until', '2026-05-20')
    program.run('figure', project, 'due', '-o', os.path.join(folder, 'a.svg'), '--exact', *words)
    rows = read_table(os.path.join(folder, 'a.csv'))
    stations = program.json('due', project, *words)['stations']
    names = dict(query(project, 'SELECT station, coalesce(name, station) FROM stations'))
    equal([row['station'] for row in rows], [names[one['station']] for one in stations], 'stations')
    for row, one in zip(rows, stations):
        equal((row['state'], row['out_p10'][:19], row['out_p50'][:19]), (one['state'], (one['p10'] or '')[:19], (one['p50'] or '')[:19]), row['station'])
        close(float(row['lost_nights']), one['lost_nights'], 1e-9, row['station'])
    program.run('figure', project, 'due', '-o', os.path.join(folder, 'b.svg'), '--species', 'Sus barbatus', status=2)
    program.run('figure', project, 'strip', '-o', os.path.join(folder, 'b.svg'), '--on', '2026-05-01', status=2)


def months_have_the_rates(options):
    """The CSV beside the months holds the nights and detections of rates --by month, and the exact limits."""
    def case(program, folder):
        words = [word.replace('_', ' ') for word in options.split()]
        program.run('figure', demo_of(program), 'months', '-o', os.path.join(folder, 'a.svg'), *words)
        rows = read_table(os.path.join(folder, 'a.csv'))
        groups = program.json('rates', demo_of(program), '--by', 'month', *words)['groups']
        equal([row['from'][:7] for row in rows], [group['group'] for group in groups], 'months')
        for row, group in zip(rows, groups):
            equal(int(row['detections']), sum(one['detections'] for one in group['species']), group['group'])
            if group['species']:
                close(float(row['trap_nights']), group['species'][0]['nights'], 1e-12, group['group'])
            if len(group['species']) == 1:
                close(float(row['low']), group['species'][0]['ci95'][0], 1e-12, group['group'])
                close(float(row['high']), group['species'][0]['ci95'][1], 1e-12, group['group'])
    return case


def hours_have_the_curve(clock):
    """The CSV beside the hours holds the curve and the band of the command, in percent, and all records."""
    def case(program, folder):
        words = ('--species', 'Sus barbatus', '--clock', clock)
        program.run('figure', demo_of(program), 'hours', '-o', os.path.join(folder, 'a.svg'), '--exact', *words)
        rows = read_table(os.path.join(folder, 'a.csv'))
        got = program.json('activity', demo_of(program), *words)
        equal(sum(int(row['records']) for row in rows if row['item'] == 'hour'), got['n'], 'records')
        curve = [row for row in rows if row['item'] == 'curve']
        equal(len(curve), len(got['hours']), 'points')
        for row, hour, density, low, high in zip(curve, got['hours'], got['density'], got['band_low'], got['band_high']):
            for cell, wanted in (('from_hour', hour), ('percent_per_hour', 100 * density), ('low', 100 * low), ('high', 100 * high)):
                assert abs(float(row[cell]) - wanted) <= 1e-9 * max(1, wanted), (row, cell, wanted)
    return case


def clocks_are_checked(program, folder):
    project, path = demo_of(program), os.path.join(folder, 'a.svg')
    program.run('figure', project, 'hours', '-o', path, '--clock', 'moon', status=2)
    program.run('figure', project, 'months', '-o', path, '--clock', 'sun', status=2)
    tables = []
    for words in ((), ('--clock', 'local'), ('--clock', 'sun')):
        program.run('figure', project, 'hours', '-o', path, '--species', 'Sus barbatus', *words)
        tables.append(read_bytes(os.path.join(folder, 'a.csv')))
    assert tables[0] == tables[1] != tables[2], 'the clock makes no difference, or the wrong one'


def matrix_has_the_rates(program, folder):
    project = demo_of(program)
    names = dict(query(project, 'SELECT station, coalesce(name, station) FROM stations'))
    titles = dict(query(project, "SELECT p.scientific_name, c.name FROM species p JOIN common_names c"
                                 " ON c.species_id = p.id WHERE c.language = 'en'"))
    program.run('figure', project, 'matrix', '-o', os.path.join(folder, 'a.svg'), '--exact')
    got = {(row['species'], row['station']): int(row['detections']) for row in read_table(os.path.join(folder, 'a.csv')) if row['detections']}
    want = {(titles[row['species']], names[group['group']]): row['detections']
            for group in program.json('rates', project, '--by', 'station')['groups'] for row in group['species']}
    equal({cell: n for cell, n in got.items() if n}, want, 'cells')


def accumulation_has_the_curve(program, folder):
    program.run('figure', demo_of(program), 'accumulation', '-o', os.path.join(folder, 'a.svg'), '--from', '2026-04-01')
    rows = read_table(os.path.join(folder, 'a.csv'))
    got = program.json('richness', demo_of(program), '--from', '2026-04-01')
    curve = [row for row in rows if row['stations']]
    equal([int(row['stations']) for row in curve], [point['n'] for point in got['curve']], 'stations')
    for row, point in zip(curve, got['curve']):
        close(float(row['species']), point['mean'], 1e-12, 'mean')
        # the band ends at nothing seen, and holds 95 %
        assert abs(float(row['high']) - point['mean'] - 1.96 * point['sd']) < 1e-3 * point['sd'] + 1e-12, (row, point)
    equal([float(rows[-1]['low']), float(rows[-1]['high'])], got['chao2_ci95'], 'Chao2')


def matrix_without_the_most_sensitive(program, folder):
    project = demo_of(program)
    (extreme, title), = query(project, "SELECT scientific_name, c.name FROM species p JOIN common_names c ON c.species_id = p.id"
                                       " WHERE sensitivity = 'extreme' AND c.language = 'en'")
    path = os.path.join(folder, 'a.svg')
    program.run('figure', project, 'matrix', '-o', path)
    assert title not in texts_of(path) + texts_of(os.path.join(folder, 'a.csv')), 'it is there'
    program.run('figure', project, 'matrix', '-o', path, '--exact')
    assert title in texts_of(os.path.join(folder, 'a.csv')), 'with --exact it should be there, or this looks for the wrong thing'
    os.remove(path)
    assert 'exact' in program.run('figure', project, 'matrix', '-o', path, '--species', extreme, status=2).err
    assert not os.path.exists(path), 'a figure without a row'


def language_of_names(program, folder):
    """A figure's language is chosen apart from the program's."""
    project = demo_of(program)
    for language, name in query(project, "SELECT language, name FROM common_names c JOIN species p ON p.id = c.species_id"
                                         " WHERE p.scientific_name = 'Sus barbatus'"):
        program.run('figure', project, 'strip', '-o', os.path.join(folder, 'a.svg'), '--species', 'Sus barbatus', '--language', language)
        assert name in read_bytes(os.path.join(folder, 'a.csv')).decode(), '%s: %s' % (language, name)


def replaced_whole(program, folder):
    """Made again, a figure replaces the old one, and nothing else lies beside it."""
    project = demo_of(program)
    path = os.path.join(folder, 'a.png')
    for species in ('Sus barbatus', 'Rusa unicolor'):
        program.run('figure', project, 'strip', '-o', path, '--species', species)
    again = os.path.join(folder, 'b.png')
    program.run('figure', project, 'strip', '-o', again, '--species', 'Rusa unicolor')
    assert read_bytes(path) == read_bytes(again)
    equal(sorted(os.listdir(folder)), ['a.csv', 'a.png', 'b.csv', 'b.png'], 'files')


def main():
    kinds, endings = ('strip', 'map', 'due', 'hours', 'months', 'matrix', 'accumulation'), ('png', 'svg', 'pdf')
    cases = [('PNG: ' + kind, png_is_right(kind)) for kind in kinds]
    cases += [('SVG: ' + kind, svg_is_right(kind)) for kind in kinds]
    cases += [('PDF: ' + kind, pdf_is_right(kind)) for kind in kinds]
    cases += [('strip and rates: ' + options, strip_has_the_rates(options))
              for options in ('', '--species Sus_barbatus', '--hours 18:00-06:00 --from 2025-01-01', '--gap-from first --station OTTE')]
    cases += [('map and rates', map_has_the_rates)]
    cases += [('no place told: %s.%s' % (kind, ending), tells_no_place(kind, ending)) for kind in kinds for ending in endings]
    cases += [('the most sensitive species', most_sensitive_left_out), ('no trace of the spot', no_trace_of_the_spot)]
    cases += [('same bytes: %s.%s' % (kind, ending), same_bytes(kind, ending)) for kind in kinds for ending in endings]
    cases += [('months and rates: ' + options, months_have_the_rates(options))
              for options in ('', '--species Helarctos_malayanus', '--hours 18:00-06:00 --from 2025-01-11 --species Sus_barbatus')]
    cases += [('hours and activity: ' + clock, hours_have_the_curve(clock)) for clock in ('local', 'sun')]
    cases += [('clocks of hours', clocks_are_checked), ('matrix and rates', matrix_has_the_rates),
              ('accumulation and richness', accumulation_has_the_curve),
              ('the most sensitive species in a matrix', matrix_without_the_most_sensitive)]
    cases += [('language of names', language_of_names), ('replaced whole', replaced_whole),
              ('what is due', due_has_the_forecast)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
