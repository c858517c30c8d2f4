"""Export of what is on record as tables."""

import csv
import math
import os
import sys

from samples import TABLES
from terminal import equal, list_tree, query, read_bytes, run_cases, write_bytes, write_csv

DONE, IN_PART, USAGE = 0, 1, 2
ORDER = ('stations', 'units', 'deployments', 'fittings', 'visits', 'readings', 'species', 'frames', 'observations', 'unit_log', 'stock')


def read_table(folder, name):
    with open(os.path.join(folder, name + '.csv'), encoding='utf-8', newline='') as file:
        return list(csv.DictReader(file))


def take_over(program, project, folder):
    program.run('import', project, *(os.path.join(folder, name + '.csv') for name in ORDER))
    return project


def samples(program, folder):
    """A small project with a value in most columns."""
    project = program.new(os.path.join(folder, 'samples.gpkg'))
    for name in ORDER:
        columns, rows = TABLES[name]
        program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))
    return project


def round_trip(program, folder):
    """What was exported exactly reads back, and exports to the same bytes; no picture of a person is among it."""
    project = samples(program, folder)
    program.run('export', project, 'csv', '-o', folder + '/one', '--exact')
    other = take_over(program, program.new(folder + '/other.gpkg'), folder + '/one')
    program.run('export', other, 'csv', '-o', folder + '/two', '--exact')
    equal(list_tree(folder + '/two'), list_tree(folder + '/one'), 'tables')
    equal(sorted(os.listdir(folder + '/one')), sorted(name + '.csv' for name in ORDER), 'files')
    again = program.json('import', project, *(os.path.join(folder, 'one', name + '.csv') for name in ORDER))
    equal((again['added'], again['updated'], again['refused']), (0, 0, []), 'the same once more')


def counts(program, folder):
    project = program.demo(folder + '/demo')
    report = program.json('export', project, 'csv', '-o', folder + '/out')
    lengths = {name + '.csv': len(read_table(folder + '/out', name)) for name in ORDER}
    equal({entry['file']: entry['rows'] for entry in report['files']}, lengths, 'rows of each')
    equal(report['rows'], sum(lengths.values()), 'rows')
    equal(report['exact'], False, 'exact')
    equal(report['generalised'], query(project, 'SELECT count(*) FROM stations WHERE geom IS NOT NULL')[0][0], 'generalised')
    program.run('export', project, 'csv', '-o', folder + '/again')
    equal(list_tree(folder + '/again'), list_tree(folder + '/out'), 'the same bytes twice')


def metres(latitude, longitude, other):
    """On a sphere; good to half a percent, and the circles are given with more to spare."""
    a, b = math.radians(latitude), math.radians(other[0])
    h = math.sin((b - a) / 2) ** 2 + math.cos(a) * math.cos(b) * math.sin(math.radians(other[1] - longitude) / 2) ** 2
    return 2 * 6371008.8 * math.asin(math.sqrt(h))


def on_grid(value, decimals):
    cells = float(value) * 10 ** decimals - 0.5
    return abs(cells - round(cells)) < 1e-6


def places_stay_hidden(program, folder):
    """Cells of Chapman 2020: low 0.001, medium 0.01, high 0.1 degree, extreme withheld; the project's floor is 0.01."""
    project = program.demo(folder + '/demo')
    program.run('export', project, 'csv', '-o', folder + '/exact', '--exact')
    program.run('export', project, 'csv', '-o', folder + '/out')
    truth = {row['station']: row for row in read_table(folder + '/exact', 'stations')}
    category = {row['scientific_name']: row['sensitivity'] for row in read_table(folder + '/exact', 'species')}
    stands = {row['deployment']: row['station'] for row in read_table(folder + '/exact', 'deployments')}
    seen = {code: {truth[code]['sensitivity']} for code in truth}
    for row in read_table(folder + '/exact', 'observations'):
        seen[stands[row['deployment']]].add(category.get(row['scientific_name'], ''))
    cells = set()
    for row in read_table(folder + '/out', 'stations'):
        code = row['station']
        decimals = min({'low': 3, 'medium': 2, 'high': 1, 'extreme': 0}.get(word, 2) for word in seen[code] | {''})
        cells.add(decimals)
        if decimals == 0:
            equal((row['latitude'], row['longitude'], row['uncertainty_m']), ('', '', ''), code)
            continue
        assert on_grid(row['latitude'], decimals) and on_grid(row['longitude'], decimals), row
        away = metres(float(row['latitude']), float(row['longitude']),
                      (float(truth[code]['latitude']), float(truth[code]['longitude'])))
        assert away <= float(row['uncertainty_m']), '%s lies %g m away' % (code, away)
    assert len(cells) > 1 and 0 in cells, 'the demo has stations of several categories: %r' % cells
    everything = b'\n'.join(read_bytes(os.path.join(folder, 'out', name + '.csv')) for name in ORDER).decode()
    for code, row in truth.items():
        for secret in (row['latitude'], row['longitude'], row['name'], row['access']):
            assert secret == '' or ',%s,' % secret not in everything and '"%s"' % secret not in everything, '%s: %s' % (code, secret)
    for table, column in (('stations', 'elevation_m'), ('stations', 'notes'), ('units', 'serial'), ('visits', 'people'),
                          ('visits', 'notes'), ('unit_log', 'by'), ('stock', 'place'), ('observations', 'notes'), ('observations', 'identified_by')):
        assert any(row[column] for row in read_table(folder + '/exact', table)) or column == 'notes', (table, column)
        equal({row[column] for row in read_table(folder + '/out', table)}, {''}, table + '.' + column)


def people_stay_home(program, folder):
    """Said of one frame, or by a second person only: the whole burst stays."""
    project = program.new(folder + '/p.gpkg')
    frames = [['F%d' % i, 'D1', 'pictures/%d.jpg' % i, '2024-03-05T10:%02d:%02d' % divmod(i // 3 * 60 + i % 3, 60), '%064x' % i, '100']
              for i in range(9)]
    for name, (columns, rows) in {
            'stations': ('station,latitude,longitude', [['S1', '2.5', '113.0']]),
            'deployments': ('deployment,station,start,frames_per_trigger', [['D1', 'S1', '2024-03-01', '3']]),
            'frames': ('frame,deployment,file,camera_time,sha256,bytes', frames),
            'observations': ('observation,deployment,start,end,type,identified_by,opinion', [
                ['O1', 'D1', '2024-03-05T10:00:00', '2024-03-05T10:00:02', 'blank', 'Ana', ''],
                ['O2', 'D1', '2024-03-05T10:00:00', '2024-03-05T10:00:02', 'human', 'Ben', '2'],
                ['O3', 'D1', '2024-03-05T10:02:00', '2024-03-05T10:02:02', 'blank', 'Ana', '']])}.items():
        program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))
    report = program.json('export', project, 'csv', '-o', folder + '/out', '--exact')
    equal([row['frame'] for row in read_table(folder + '/out', 'frames')], ['F%d' % i for i in range(3, 9)], 'frames')
    equal([row['observation'] for row in read_table(folder + '/out', 'observations')], ['O1', 'O3'], 'observations')
    equal(report['people_left_out'], 4, 'left out')


def refusals(program, folder):
    project = program.new(folder + '/p.gpkg')
    write_bytes(folder + '/full/mine.txt', b'mine')
    write_bytes(folder + '/file', b'mine')
    os.makedirs(folder + '/empty')
    before = list_tree(folder)
    for line, status, piece in (
            ('csv', USAGE, '-o FOLDER'),
            ('shapes -o %s/out' % folder, USAGE, 'export FILE csv'),
            ('csv -o %s/full' % folder, IN_PART, 'no empty folder'),
            ('csv -o %s/file' % folder, IN_PART, 'no empty folder'),
            ('csv -o %s/nowhere/out' % folder, IN_PART, 'nowhere'),
            ('csv -o %s/out --station S1' % folder, USAGE, '--station')):
        result = program.run('export', project, *line.split(), status=status)
        assert piece in result.err, '%s: %s' % (line, result)
        equal(list_tree(folder), before, line)
    program.run('export', project, 'csv', '-o', folder + '/empty')
    equal(len(os.listdir(folder + '/empty')), len(ORDER), 'an empty folder is filled')


def faults(program, folder):
    """Each writing step fails once: no folder, nothing beside it, the project untouched."""
    project = samples(program, folder)
    inside = folder + '/inside'
    os.makedirs(inside)
    before = read_bytes(project)
    for n in range(1, 500):
        result = program.run('export', project, 'csv', '-o', inside + '/out', '--exact', status=None, env={'TAPETUM_FAULT': str(n)})
        if result.status == DONE:
            break
        equal(os.listdir(inside), [], 'left behind after step %d: %s' % (n, result))
        equal(read_bytes(project), before, 'the project after step %d' % n)
    assert 2 * len(ORDER) < n < 499, 'it took %d steps' % n
    equal(sorted(os.listdir(inside + '/out')), sorted(name + '.csv' for name in ORDER), 'files')


def main():
    return run_cases([
        ('round trip', round_trip),
        ('counts', counts),
        ('places stay hidden', places_stay_hidden),
        ('people stay home', people_stay_home),
        ('refusals', refusals),
        ('faults', faults),
    ])


if __name__ == '__main__':
    sys.exit(main())
