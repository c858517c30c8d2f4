"""Import of tables and tracks: twice, dry, lenient, and what is refused."""

import os
import sys

import samples
from terminal import dump, equal, query, read_bytes, run_cases, without_history, write_bytes, write_csv


def import_one(program, project, path, *options, status=0):
    return program.json('import', project, path, *options, status=status)


def check_counts(document, added, updated, unchanged, what):
    equal((document['added'], document['updated'], document['unchanged'], document['refused']), (added, updated, unchanged, []), what)


def prepare(program, folder, upto=None):
    """A project holding the tables before @upto (all of them without)."""
    paths = samples.write_tables(os.path.join(folder, 'tables'))
    project = program.new(os.path.join(folder, 'project.gpkg'))
    for name, path in paths.items():
        if name == upto:
            break
        program.run('import', project, path)
    return project, paths


def table_twice(name):
    def case(program, folder):
        project, paths = prepare(program, folder, name)
        n = len(samples.TABLES[name][1])

        check_counts(import_one(program, project, paths[name]), n, 0, 0, 'first time')
        before = dump(project)
        check_counts(import_one(program, project, paths[name]), 0, 0, n, 'second time')
        equal(without_history(dump(project)), without_history(before), 'content after the second time')
        equal(program.problems(project), [], 'check')
    return case


def table_dry(name):
    def case(program, folder):
        project, paths = prepare(program, folder, name)
        before = read_bytes(project)

        check_counts(import_one(program, project, paths[name], '--dry-run'), len(samples.TABLES[name][1]), 0, 0, 'dry run')
        assert read_bytes(project) == before, 'a dry run wrote'
    return case


def table_lenient(name):
    def case(program, folder):
        project, _ = prepare(program, folder, name)
        columns, rows = samples.TABLES[name]
        path = write_csv(os.path.join(folder, 'wider.csv'), 'mood,' + columns, [['calm'] + row for row in rows])

        refused = import_one(program, project, path, status=1)['refused']
        equal([(row['file'], row['line'], row['column']) for row in refused], [('wider.csv', 1, 'mood')], 'refused')
        check_counts(import_one(program, project, path, '--lenient'), len(rows), 0, 0, 'lenient')
    return case


def any_order(program, folder):
    """Tables given in any order in one command find what they refer to; a dry run of the same, too."""
    paths = samples.write_tables(os.path.join(folder, 'tables'))
    project = program.new(os.path.join(folder, 'project.gpkg'))
    backwards = list(paths.values())[::-1]
    total = sum(len(rows) for _, rows in samples.TABLES.values())

    check_counts(program.json('import', project, *backwards, '--dry-run'), total, 0, 0, 'dry run')
    check_counts(program.json('import', project, *backwards), total, 0, 0, 'import')


def same_whatever_the_form(program, folder):
    """Byte-order mark, CRLF, another order of columns: the same rows."""
    project, paths = prepare(program, folder)
    columns, rows = samples.TABLES['units']
    names = columns.split(',')
    turned = write_csv(os.path.join(folder, 'turned.csv'), names[::-1], [row[::-1] for row in rows])
    marked = write_bytes(os.path.join(folder, 'marked.csv'), b'\xef\xbb\xbf' + read_bytes(paths['units']))

    assert b'\r\n' in read_bytes(paths['units'])
    bare = write_bytes(os.path.join(folder, 'bare.csv'), read_bytes(paths['units']).replace(b'\r\n', b'\n'))
    for path in (turned, marked, bare):
        check_counts(import_one(program, project, path), 0, 0, len(rows), path)


def changed_row(program, folder):
    project, _ = prepare(program, folder)
    path = write_csv(os.path.join(folder, 'some.csv'), 'station,elevation_m', [['S1', '311'], ['S2', '95.5']])

    check_counts(import_one(program, project, path), 0, 1, 1, 'one elevation changed')
    equal(query(project, "SELECT elevation_m, name, habitat FROM stations WHERE station = 'S1'"), [(311.0, 'North saddle', 'hill forest')],
          'columns not in the file stay')


def values_arrive(program, folder):
    project, _ = prepare(program, folder)
    wanted = (
        ('SELECT notes FROM stations WHERE station = ?', 'S2', 'two lines\nof notes'),
        ('SELECT access FROM stations WHERE station = ?', 'S1', '"Gate" on the left, ask'),
        # a time without offset is in the project's zone (+08:00), one with is not
        ('SELECT start_at FROM deployments WHERE deployment = ?', 'D1', '2024-03-01T02:00:00.000Z'),
        ('SELECT start_at FROM deployments WHERE deployment = ?', 'D2', '2024-03-02T01:30:00.000Z'),
        ('SELECT end_at FROM deployments WHERE deployment = ?', 'D2', '2024-09-01T00:00:00.000Z'),
        ('SELECT end_at FROM deployments WHERE deployment = ?', 'D1', None),
        # what the camera's clock said is kept as it was, the instant is put right by the deployment's -12.5 s
        ('SELECT camera_time FROM frames WHERE frame = ?', 'F2', '2024-03-05T22:10:02.25'),
        ('SELECT at FROM frames WHERE frame = ?', 'F2', '2024-03-05T14:09:49.750Z'),
        ('SELECT name FROM common_names WHERE language = ?', 'es', 'Cerdo barbudo'),
        ('SELECT at FROM unit_log WHERE entry = ?', 'E1', '2024-04-20T00:30:00.000Z'),
        ('SELECT by_whom FROM unit_log WHERE entry = ?', 'E1', 'A. Guide'),
        ('SELECT pieces FROM stock WHERE item = ?', 'G2', 0),
    )
    for sql, key, value in wanted:
        equal(query(project, sql, key), [(value,)], '%s %s' % (sql, key))


# Table, header, row, line, column, a piece of the reason.
REFUSED = (
    ('stations', 'station,latitude,longitude', ['S9', '95', '113'], 'latitude', '90'),
    ('stations', 'station,latitude,longitude', ['S9', 'nan', '113'], 'latitude', 'nan'),
    ('stations', 'station,latitude,longitude', ['S9', 'inf', '113'], 'latitude', 'inf'),
    ('stations', 'station,latitude,longitude', ['S9', '2,5', '113'], 'latitude', '2,5'),
    ('stations', 'station,latitude,longitude', ['S9', '2.5', ''], None, ''),
    ('stations', 'station,sensitivity', ['S9', 'secret'], 'sensitivity', 'secret'),
    ('stations', 'station,name', ['', 'Nameless'], 'station', ''),
    ('units', 'unit,kind', ['U9', 'teapot'], 'kind', 'teapot'),
    ('units', 'unit,kind,cells_series', ['U9', 'pack', '1.5'], 'cells_series', '1.5'),
    ('units', 'unit,kind,acquired', ['U9', 'pack', '2024-02-30'], 'acquired', '2024-02-30'),
    ('deployments', 'deployment,station,start', ['D9', 'NOSUCH', '2024-03-01'], 'station', 'NOSUCH'),
    ('deployments', 'deployment,station,start', ['D9', 'S1', 'spring'], 'start', 'spring'),
    ('deployments', 'deployment,station,start,end', ['D9', 'S1', '2024-03-02', '2024-03-01'], 'end', ''),
    ('fittings', 'deployment,unit,from', ['D1', 'NOSUCH', '2024-03-01'], 'unit', 'NOSUCH'),
    ('visits', 'visit,station,at,found', ['V9', 'S1', '2024-04-03T10:00', 'asleep'], 'found', 'asleep'),
    ('readings', 'visit,unit,percent', ['V1', 'C1', '130'], 'percent', '100'),
    ('readings', 'visit,unit,percent', ['NOSUCH', 'C1', '30'], 'visit', 'NOSUCH'),
    ('species', 'scientific_name,sensitivity', ['Sus novus', 'rare'], 'sensitivity', 'rare'),
    ('frames', 'frame,deployment,file', ['F9', 'NOSUCH', 'a.jpg'], 'deployment', ''),
    ('frames', 'frame,deployment,file,camera_time', ['F9', 'D1', 'a.jpg', '2024-03-05 25:00'], 'camera_time', '25:00'),
    ('frames', 'frame,deployment,file', ['F1', 'D1', 'other.jpg'], 'frame', ''),
    ('observations', 'observation,deployment,start,type', ['O9', 'D1', '2024-03-05T10:00', 'ghost'], 'type', 'ghost'),
    ('observations', 'observation,deployment,start,type,scientific_name', ['O9', 'D1', '2024-03-05T10:00', 'animal', 'Nemo'],
     'scientific_name', 'Nemo'),
    ('observations', 'observation,deployment,start,type,count', ['O9', 'D1', '2024-03-05T10:00', 'animal', '0'], 'count', '0'),
    ('observations', 'observation,deployment,start,type,certainty', ['O9', 'D1', '2024-03-05T10:00', 'animal', '1.2'], 'certainty', ''),
    ('unit_log', 'entry,unit,at,what', ['E9', 'NOSUCH', '2024-05-01', 'check'], 'unit', 'NOSUCH'),
    ('unit_log', 'entry,unit,at,what', ['E9', 'C1', '2024-05-01', 'teatime'], 'what', 'teatime'),
    ('unit_log', 'entry,unit,at,what,cause', ['E9', 'C1', '2024-05-01', 'repair', 'fall'], 'cause', ''),
    ('stock', 'item,what,pieces', ['G9', 'cells', '-1'], 'pieces', '0'),
    ('stock', 'item,what,pieces', ['G9', 'cells', ''], 'pieces', ''),
    ('stock', 'item,what,pieces,cell_size', ['G9', 'cells', '4', 'AAAAA'], 'cell_size', 'AAAAA'),
)


def refuses(name, columns, row, column, piece):
    def case(program, folder):
        project, _ = prepare(program, folder)
        before = read_bytes(project)
        path = write_csv(os.path.join(folder, 'given.csv'), columns, [row])
        result = program.run('import', project, path, '--json', status=1)
        refused = program.json('import', project, path, status=1)['refused']

        equal(len(refused), 1, 'refused rows')
        equal((refused[0]['file'], refused[0]['line']), ('given.csv', 2), 'where')
        assert column is None or refused[0]['column'] == column, refused
        assert piece in refused[0]['reason'], refused
        for part in ('given.csv', '2', refused[0]['reason']):
            assert part in result.err, 'not said on standard error: %r in %s' % (part, result)
        assert read_bytes(project) == before, 'something was written'
    return case


def all_or_nothing(program, folder):
    """One bad row: none of its source, all of the other; every bad row is named."""
    project = program.new(os.path.join(folder, 'project.gpkg'))
    mixed = write_csv(os.path.join(folder, 'mixed.csv'), 'station,latitude,longitude',
                      [['A', '1', '2'], ['B', '91', '2'], ['C', '1', '2'], ['D', '1', '-181'], ['A', '1', '2']])
    good = write_csv(os.path.join(folder, 'good.csv'), 'unit,kind', [['U1', 'camera']])
    document = program.json('import', project, mixed, good, status=1)

    equal([(row['line'], row['column']) for row in document['refused']], [(3, 'latitude'), (5, 'longitude'), (6, 'station')], 'refused')
    equal(document['added'], 1, 'added')
    equal(query(project, 'SELECT (SELECT count(*) FROM stations), (SELECT count(*) FROM units)'), [(0, 1)], 'on record')


def doubled_hour(program, folder):
    """In a zone with daylight saving: the hour that comes twice has to be told apart, the one that never comes is refused.
    Europe/Bucharest, 2024: 03:00 comes twice on 27 October, never on 31 March (IANA zone data)."""
    project = program.new(os.path.join(folder, 'project.gpkg'), 'Europe/Bucharest')
    program.run('import', project, write_csv(os.path.join(folder, 's.csv'), 'station,name', [['S1', 'One']]))
    for start, status, at in (('2024-10-27T03:30', 1, None), ('2024-10-27T03:30+03:00', 0, '2024-10-27T00:30:00.000Z'),
                              ('2024-10-27T03:30+02:00', 0, '2024-10-27T01:30:00.000Z'), ('2024-03-31T03:30', 1, None),
                              ('2024-03-31T04:30', 0, '2024-03-31T01:30:00.000Z')):
        path = write_csv(os.path.join(folder, 'd.csv'), 'deployment,station,start', [['D1', 'S1', start]])
        program.run('import', project, path, status=status)
        if at is not None:
            equal(query(project, 'SELECT start_at FROM deployments'), [(at,)], start)


def gpx_twice(program, folder):
    project = program.new(os.path.join(folder, 'project.gpkg'))
    path = write_bytes(os.path.join(folder, 'walk.gpx'), samples.GPX.encode())

    check_counts(import_one(program, project, path, '--dry-run'), 4, 0, 0, 'dry run')
    check_counts(import_one(program, project, path), 4, 0, 0, 'first time')
    before = without_history(dump(project))
    check_counts(import_one(program, project, path), 0, 0, 4, 'second time')
    equal(without_history(dump(project)), before, 'content')
    equal(query(project, 'SELECT station, elevation_m, notes FROM stations ORDER BY station'),
          [('W1', 122.0, 'by the fig'), ('W2', None, None)], 'stations')
    equal(query(project, 'SELECT name FROM tracks ORDER BY name'), [('Boat way',), ('Ridge trail',)], 'tracks')
    equal(program.problems(project), [], 'check')


def gpx_names_twice(program, folder):
    project = program.new(os.path.join(folder, 'project.gpkg'))
    path = write_bytes(os.path.join(folder, 'walk.gpx'), samples.GPX.replace('<name>W2<', '<name>W1<').encode())
    before = read_bytes(project)

    refused = import_one(program, project, path, status=1)['refused']
    equal((refused[0]['file'], refused[0]['line']), ('walk.gpx', 4), 'refused')
    assert read_bytes(project) == before, 'something was written'


def geojson_twice(program, folder):
    project = program.new(os.path.join(folder, 'project.gpkg'))
    path = write_bytes(os.path.join(folder, 'a.geojson'), b'''{"type": "FeatureCollection", "features": [
{"type": "Feature", "properties": {"name": "P1"}, "geometry": {"type": "Point", "coordinates": [113.05, 2.44]}},
{"type": "Feature", "properties": {"name": "Boundary"}, "geometry": {"type": "Polygon",
 "coordinates": [[[113, 2], [114, 2], [114, 3], [113, 2]]]}}]}''')

    check_counts(import_one(program, project, path), 2, 0, 0, 'first time')
    check_counts(import_one(program, project, path), 0, 0, 2, 'second time')


def main():
    cases = [('twice: ' + name, table_twice(name)) for name in samples.TABLES]
    cases += [('dry run: ' + name, table_dry(name)) for name in samples.TABLES]
    cases += [('lenient: ' + name, table_lenient(name)) for name in samples.TABLES]
    cases += [('refused: %s %s' % (row[0], ','.join(row[2])), refuses(*row)) for row in REFUSED]
    cases += [('tables in any order', any_order), ('byte-order mark, line ends, order of columns', same_whatever_the_form),
              ('a changed row', changed_row), ('values arrive', values_arrive), ('all or nothing', all_or_nothing),
              ('the doubled hour', doubled_hour), ('GPX twice', gpx_twice), ('GPX with a name twice', gpx_names_twice),
              ('GeoJSON twice', geojson_twice)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
