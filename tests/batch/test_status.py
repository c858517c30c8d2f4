"""Exit statuses, streams and the shape of the JSON documents."""

import os
import sys

import samples
from terminal import equal, read_bytes, run_cases, write_bytes

DONE, IN_PART, USAGE, PROJECT = 0, 1, 2, 3

# Words of the command line ({p}: a project, {f}: an empty folder), status, a piece of the message.
STATUSES = (
    ('help', DONE, None),
    ('help due', DONE, None),
    ('--help', DONE, None),
    ('--version', DONE, None),
    ('due --help', DONE, None),
    ('help nosuch', USAGE, 'nosuch'),
    ('nosuch', USAGE, 'nosuch'),
    ('nosuch {p} x', USAGE, 'nosuch'),
    ('new {f}/a.gpkg --name A --zone Asia/Kuching', DONE, None),
    ('new {f}/b.gpkg --name A', USAGE, '--zone'),
    ('new {f}/b.gpkg --zone UTC', USAGE, '--name'),
    ('new {f}/b.gpkg --name A --zone Asia/Nowhere', USAGE, 'Asia/Nowhere'),
    ('new {p} --name A --zone UTC', USAGE, 'project.gpkg'),
    ('new {f}/nosuch/b.gpkg --name A --zone UTC', None, 'b.gpkg'),
    ('new', USAGE, 'new FILE'),
    ('demo', USAGE, 'demo FOLDER'),
    ('demo {f}/..', USAGE, 'empty'),
    ('import {p}', USAGE, 'import FILE'),
    ('import {p} {f}/nosuch.csv', IN_PART, 'nosuch.csv'),
    ('import {p} {t}/stations.csv', DONE, None),
    ('import {p} {t}/bad.csv', IN_PART, 'bad.csv'),
    ('import {p} {t}/bad.csv --dry-run', IN_PART, 'bad.csv'),
    ('intake {p} {f}', USAGE, '--deployment'),
    ('intake {p} {f} --deployment NOSUCH', IN_PART, 'NOSUCH'),
    ('intake {p} {f}/nosuch --deployment D1', IN_PART, 'nosuch'),
    ('intake {p} {f} --deployment D1 --pictures ../outside', USAGE, '../outside'),
    ('intake {p} {f} --deployment D1 --pictures /tmp', USAGE, '/tmp'),
    ('intake {p} {f} --deployment D1 --clock-read 2024-01-01T00:00', USAGE, 'both'),
    ('intake {p} {f} --deployment D1 --clock-read soon --clock-true 2024-01-01', USAGE, 'soon'),
    ('intake {p} {f} --deployment D1 --clock-read 2024-01-01 --clock-true soon', USAGE, 'soon'),
    ('intake {p} {f} --deployment D1', DONE, None),
    ('check {p}', DONE, None),
    ('check {p} --pictures', IN_PART, None),  # the tables name pictures that are not there
    ('check {p} extra', USAGE, 'check FILE'),
    ('due {p}', DONE, None),
    ('due {p} --on yesterday', USAGE, 'yesterday'),
    ('due {p} --on 2024-02-30', USAGE, '2024-02-30'),
    ('due {p} --on 2024-05-02 --until 2024-05-01', USAGE, '--until'),
    ('due {p} --nosuch', USAGE, '--nosuch'),
    ('effort {p}', DONE, None),
    ('effort {p} --station NOSUCH', IN_PART, 'NOSUCH'),
    ('effort {p} --from 2024-13-01', USAGE, '2024-13-01'),
    ('effort {p} --species Sus', USAGE, '--species'),
    ('rates {p}', DONE, None),
    ('rates {p} --by month', DONE, None),
    ('rates {p} --by week', USAGE, 'week'),
    ('rates {p} --gap-from middle', USAGE, 'middle'),
    ('rates {p} --independence soon', USAGE, 'soon'),
    ('rates {p} --independence -5', USAGE, '-5'),
    ('rates {p} --independence nan', USAGE, 'nan'),
    ('rates {p} --hours 25:00-03:00', USAGE, '25:00'),
    ('rates {p} --hours 20:00-24:30', USAGE, '24:30'),
    ('rates {p} --hours 20:00', USAGE, '20:00'),
    ('rates {p} --hours 20:00-24:00', DONE, None),
    ('rates {p} --species Nosuch', IN_PART, 'Nosuch'),
    ('sun {p} 2024-03-01', DONE, None),
    ('sun {p} tomorrow', USAGE, 'tomorrow'),
    ('sun {p} 2024-03-01 --station NOSUCH', IN_PART, 'NOSUCH'),
    ('figure {p} strip', USAGE, 'figure FILE'),
    ('figure {p} nosuch -o {f}/a.png', USAGE, '“nosuch”'),
    ('figure {p} strip -o {f}/a.gif', USAGE, 'a.gif'),
    ('figure {p} strip -o {f}/a.png --size 3', USAGE, '3'),
    ('figure {p} strip -o {f}/nosuch/a.png', IN_PART, 'a.png'),
    ('figure {p} strip -o {f}/a.png', DONE, None),
)

# Commands that take a project: with a file that is none, all answer alike.
TAKING = ('import {p} {t}/stations.csv', 'intake {p} {f} --deployment D1', 'check {p}', 'due {p}', 'effort {p}', 'rates {p}',
          'sun {p} 2024-03-01', 'figure {p} map -o {f}/a.png')

# The keys the contract names, and those of the first element of each list.
KEYS = (
    ('import {p} {t}/stations.csv', {'added', 'updated', 'unchanged', 'refused'}, {}),
    ('import {p} {t}/bad.csv', {'added', 'updated', 'unchanged', 'refused'}, {'refused': {'file', 'line', 'column', 'reason'}}),
    ('intake {p} {c} --deployment D1', {'batch', 'frames', 'triggers', 'duplicates', 'unreadable', 'clock_offset_s', 'first', 'last',
                                        'bytes'}, {'unreadable': {'file', 'reason'}}),
    ('check {p}', {'problems'}, {}),
    ('due {p} --on 2024-04-10', {'on', 'until', 'stations'},
     {'stations': {'station', 'deployment', 'state', 'p_down', 'lost_nights', 'p10', 'p50', 'p90', 'limiting', 'units', 'card',
                   'triggers_per_day'}}),
    ('effort {p}', {'trap_nights', 'deployments'}, {'deployments': {'deployment', 'station', 'nights', 'gaps'}}),
    ('rates {p}', {'species'}, {'species': {'species', 'detections', 'individuals', 'stations', 'nights', 'per_100', 'ci95'}}),
    ('rates {p} --by station', {'groups'}, {'groups': {'species'}}),
    ('sun {p} 2024-03-01', {'rise', 'set', 'civil_dawn', 'civil_dusk', 'noon', 'moon_lit'}, {}),
    ('figure {p} map -o {f}/a.svg', {'figure', 'csv'}, {}),
)


def make_ground(program, folder):
    tables = samples.write_tables(os.path.join(folder, 'tables'))
    project = program.new(os.path.join(folder, 'project.gpkg'))
    program.run('import', project, *tables.values())
    write_bytes(os.path.join(folder, 'tables', 'bad.csv'), b'station,latitude,longitude\nS9,95,113\n')
    write_bytes(os.path.join(folder, 'card', 'IMG_1.JPG'), b'no picture at all')
    os.makedirs(os.path.join(folder, 'empty'))
    return {'p': project, 'f': os.path.join(folder, 'empty'), 't': os.path.join(folder, 'tables'),
            'c': os.path.join(folder, 'card')}


def words_of(line, ground):
    return [word.format(**ground) for word in line.split()]


def check_status(line, status, piece):
    def case(program, folder):
        result = program.run(*words_of(line, make_ground(program, folder)), status=status)

        assert status is not None or result.status > 0, str(result)
        assert piece is None or piece in result.err, str(result)
        if result.status in (USAGE, PROJECT):
            equal(result.out, '', 'standard output of a refusal')
        if result.status != DONE and piece is not None:
            assert 'assertion' not in result.err and 'CRITICAL' not in result.err, str(result)
    return case


def check_no_project(line, make, piece):
    def case(program, folder):
        ground = make_ground(program, folder)
        ground['p'] = make(os.path.join(folder, 'other.gpkg'))
        result = program.run(*words_of(line, ground), status=PROJECT)

        assert piece in result.err and 'other.gpkg' in result.err, str(result)
        equal(result.out, '', 'standard output')
    return case


def make_text(path):
    return write_bytes(path, b'These are only words, and quite a few of them. ' * 100)


def check_keys(line, keys, inner):
    def case(program, folder):
        document = program.json(*words_of(line, make_ground(program, folder)), status=None)

        assert keys <= set(document), 'missing: %s' % (keys - set(document))
        for name, wanted in inner.items():
            assert document[name], 'nothing in %s' % name
            assert wanted <= set(document[name][0]), 'missing in %s: %s' % (name, wanted - set(document[name][0]))
    return case


def only_reads(line):
    def case(program, folder):
        ground = make_ground(program, folder)
        before = read_bytes(ground['p'])

        program.run(*words_of(line, ground))
        assert read_bytes(ground['p']) == before, 'the project was changed by looking at it'
        equal(sorted(os.listdir(folder)), ['card', 'empty', 'project.gpkg', 'tables'], 'files beside the project')
    return case


def progress_is_quiet(program, folder):
    """Not on a terminal: no progress bar."""
    ground = make_ground(program, folder)
    result = program.run('intake', ground['p'], ground['c'], '--deployment', 'D1', status=None)
    assert '\r' not in result.err + result.out and '###' not in result.err + result.out, str(result)


def table_is_no_json(program, folder):
    ground = make_ground(program, folder)
    out = program.run('rates', ground['p']).out
    assert 'Bearded pig' in out and '{' not in out, out


def main():
    cases = [('status: ' + line, check_status(line, status, piece)) for line, status, piece in STATUSES]
    cases += [('missing: ' + line, check_no_project(line, str, 'There is no file')) for line in TAKING]
    cases += [('text file: ' + line, check_no_project(line, make_text, 'is not a Tapetum project')) for line in TAKING]
    cases += [('keys: ' + line, check_keys(line, keys, inner)) for line, keys, inner in KEYS]
    cases += [('only reads: ' + line, only_reads(line))
              for line in ('check {p}', 'due {p}', 'effort {p}', 'rates {p}', 'rates {p} --by month', 'sun {p} 2024-03-01',
                           'figure {p} map -o {f}/a.png', 'import {p} {t}/stations.csv --dry-run')]
    cases += [('progress only on a terminal', progress_is_quiet), ('a table without --json', table_is_no_json)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
