"""The same answers whatever the machine's zone, language and decimal sign."""

import os
import subprocess
import sys
import xml.etree.ElementTree

import samples
from terminal import Skip, dump, equal, need_tool, read_bytes, run_cases

COMMANDS = ('due {p} --on 2024-04-10', 'due {p} --on 2024-04-10T12:00+08:00 --until 2024-05-01', 'effort {p} --to 2024-07-01',
            'rates {p} --to 2024-07-01', 'rates {p} --to 2024-07-01 --by month', 'rates {p} --to 2024-07-01 --hours 20:00-04:00', 'check {p}')


def comma_locale(folder):
    """A locale with a decimal comma and grouping dots, made here and now."""
    need_tool('localedef')
    subprocess.run(['localedef', '-i', 'de_DE', '-f', 'UTF-8', os.path.join(folder, 'de_DE.UTF-8')], capture_output=True)
    env = {'LOCPATH': folder, 'LC_ALL': 'de_DE.UTF-8', 'LANG': 'de_DE.UTF-8'}
    sign = subprocess.run(['locale', 'decimal_point'], env={**os.environ, **env}, capture_output=True, text=True).stdout.strip()
    if sign != ',':
        raise Skip('the sources of other locales are not installed')
    return env


# Name and environment; what has to be made first is a function of the case's folder.
WORLDS = (
    ('another zone', lambda folder: {'TZ': 'America/St_Johns'}),
    ('a zone beyond the date line', lambda folder: {'TZ': 'Pacific/Apia'}),
    ('a zone that does not exist', lambda folder: {'TZ': ':nonsense'}),
    ('no UTF-8', lambda folder: {'LC_ALL': 'C'}),
    ('decimal comma', comma_locale),
)


def make_ground(program, folder, env=None):
    project = program.new(os.path.join(folder, 'p.gpkg'))
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'tables')).values(), env=env)
    return project


def in_world(make_env, check):
    def case(program, folder):
        check(program, folder, make_env(folder))
    return case


def json_is_the_same(program, folder, env):
    project = make_ground(program, folder)
    for line in COMMANDS:
        words = line.format(p=project).split() + ['--json']
        equal(program.run(*words, env=env).out, program.run(*words).out, line)


def figures_are_the_same(program, folder, env):
    project = make_ground(program, folder)
    for kind in ('strip', 'map'):
        for ending in ('svg', 'pdf', 'png'):
            made = []
            for number, world in enumerate(({}, env)):
                path = os.path.join(folder, 'f%d' % number, 'a.' + ending)
                os.makedirs(os.path.dirname(path), exist_ok=True)
                program.run('figure', project, kind, '-o', path, '--to', '2024-07-01', env=world)
                made.append((read_bytes(path), read_bytes(path[:-3] + 'csv')))
            assert made[0][1] == made[1][1], 'the table of %s' % kind
            assert made[0][0] == made[1][0], '%s.%s' % (kind, ending)


def comma_in_figures(program, folder):
    """With a decimal comma the words say 2,4; the numbers beside and the drawing itself keep the point."""
    env = comma_locale(folder)
    project = make_ground(program, folder)
    path = os.path.join(folder, 'a.svg')
    for kind in ('strip', 'map'):
        program.run('figure', project, kind, '-o', path, '--to', '2024-07-01')
        plain = read_bytes(os.path.join(folder, 'a.csv'))
        program.run('figure', project, kind, '-o', path, '--to', '2024-07-01', env=env)
        equal(read_bytes(os.path.join(folder, 'a.csv')), plain, 'the table of ' + kind)
        for element in xml.etree.ElementTree.parse(path).iter():
            for name in ('d', 'x', 'y', 'width', 'height', 'viewBox'):
                assert ',' not in element.get(name, ''), '%s="%s"' % (name, element.get(name)[:80])


def comma_in_words(program, folder):
    """No number on the screen can be taken for another: what parts thousands is not the decimal sign."""
    env = comma_locale(folder)
    project = program.new(os.path.join(folder, 'p.gpkg'))
    tables = {
        'stations': ('station,name', [['S%d' % number, ''] for number in range(40)]),
        'species': ('scientific_name', [['Sus barbatus']]),
        'deployments': ('deployment,station,start,end', [['D%d' % number, 'S%d' % number, '2024-01-01', '2025-01-01'] for number in range(40)]),
        'observations': ('observation,deployment,start,type,scientific_name', [
            ['O%d' % number, 'D%d' % (number % 40), '2024-03-%02dT%02d:00' % (1 + number // 40 % 28, number // 1120), 'animal', 'Sus barbatus']
            for number in range(1240)]),
    }
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'tables'), tables).values())
    assert '1,240 detections in 14,640 trap nights: 8.47 per 100' in program.run('rates', project).out
    said = program.run('rates', project, env=env).out
    assert '1\u202f240 detections in 14\u202f640 trap nights: 8,47 per 100' in said, said


def tables_are_read_the_same(program, folder, env):
    plain, other = os.path.join(folder, 'plain'), os.path.join(folder, 'other')
    os.mkdir(plain)
    os.mkdir(other)
    equal(dump(make_ground(program, other, env)), dump(make_ground(program, plain)), 'content')


def main():
    checks = (('JSON', json_is_the_same, WORLDS), ('figures', figures_are_the_same, WORLDS[:-1]),
              ('tables read', tables_are_read_the_same, WORLDS))
    cases = [('%s: %s' % (what, name), in_world(make_env, check)) for what, check, some in checks for name, make_env in some]
    cases += [('figures: decimal comma', comma_in_figures), ('words: decimal comma', comma_in_words)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
