"""What findings must not depend on: the order of rows, the machine's zone and language, where a deployment is cut in two,
and blank pictures."""

import csv
import os
import random
import sys

import samples
import test_rates
from terminal import equal, run_cases
from test_locale import comma_locale

# Each is put before --json; S stands for a species that was seen often enough for all of them.
COMMANDS = (
    'rates', 'rates --by month', 'rates --by station', 'rates --hours 18:00-06:00 --gap-from first', 'rates --from 2024-02-10 --by month',
    'effort', 'activity --species S', 'activity --species S --clock sun', 'overlap --species S --species T', 'occupancy --species S', 'richness',
)
FIGURES = ('months', 'matrix', 'hours', 'accumulation')
# Part of what this project or its commands are called, and of no meaning here.
NAMES = {'deployment', 'deployments'}


def make_tables():
    """Six stations with places, deployments, visits, observations in bursts; see test_rates."""
    chance = random.Random(20240301)
    deployments = test_rates.invent_deployments(chance)
    return {
        'stations': ('station,name,latitude,longitude',
                     [['S%d' % n, 'Place %d' % n, '%.4f' % (2.4 + n / 31), '%.4f' % (113 + n / 47)] for n in range(1, 7)]),
        'species': ('scientific_name,common_en', [[name, 'Common ' + name.split()[0]] for name in test_rates.SPECIES]),
        'deployments': ('deployment,station,start,end', [[code, station, test_rates.utc(start), test_rates.utc(end)]
                                                         for code, station, start, end in deployments]),
        'visits': ('visit,station,at,found', test_rates.invent_visits(chance, deployments)),
        'observations': ('observation,deployment,start,end,type,scientific_name,count', test_rates.invent_observations(chance, deployments)),
    }


def make(program, folder, tables, env=None):
    project = program.new(os.path.join(folder, 'p%d.gpkg' % len(os.listdir(folder))))
    paths = samples.write_tables(os.path.join(folder, 'tables%d' % len(os.listdir(folder))), tables)
    program.run('import', project, *paths.values(), env=env)
    return project


def ask(program, project, env=None):
    """{what was asked: the answer}"""
    answers = {}
    for line in COMMANDS:
        words = [{'S': test_rates.SPECIES[0], 'T': test_rates.SPECIES[1]}.get(word, word) for word in line.split()]
        answers[line] = program.json(words[0], project, *words[1:], env=env)
    for kind in FIGURES:
        answers['figure ' + kind] = draw(program, project, kind, env)
    return answers


def draw(program, project, kind, env):
    path = project + '.svg'
    program.run('figure', project, kind, '-o', path, '--exact', env=env)
    with open(project + '.csv', encoding='utf-8', newline='') as file:
        return list(csv.reader(file))


def same(got, wanted, what):
    equal(set(got), set(wanted), what)
    for line in wanted:
        equal(got[line], wanted[line], '%s: %s' % (what, line))


def near(got, wanted, where):
    """Equal but for the last digits of numbers, which depend on the order of sums; and for what names deployments."""
    if isinstance(wanted, dict):
        equal(set(got), set(wanted), where)
        for key in set(wanted) - NAMES:
            near(got[key], wanted[key], '%s: %s' % (where, key))
    elif isinstance(wanted, list):
        equal(len(got), len(wanted), where)
        for number, (one, other) in enumerate(zip(got, wanted)):
            near(one, other, '%s %d' % (where, number))
    elif is_number(got) and is_number(wanted):
        assert abs(float(got) - float(wanted)) <= 1e-9 * max(1, abs(float(wanted))), '%s: %s, %s' % (where, got, wanted)
    else:
        equal(got, wanted, where)


def is_number(cell):
    try:
        float(cell)
    except (TypeError, ValueError):
        return False
    return not isinstance(cell, bool)


def row_order(program, folder):
    tables = make_tables()
    wanted = ask(program, make(program, folder, tables))
    for seed in range(3):
        chance = random.Random(seed)
        mixed = {name: (header, chance.sample(rows, len(rows))) for name, (header, rows) in tables.items()}
        same(ask(program, make(program, folder, mixed)), wanted, 'order %d' % seed)


def in_world(make_env):
    """Imported and asked with other variables; the labels of a figure are words, its numbers are not."""
    def case(program, folder):
        os.makedirs(os.path.join(folder, 'world'))
        env = make_env(os.path.join(folder, 'world'))
        tables = make_tables()
        same(ask(program, make(program, folder, tables, env), env), ask(program, make(program, folder, tables)), str(env))
    return case


def cut_in_two(program, folder):
    """At a visit that found it working, a deployment ends and another begins: nothing but the list of deployments changes."""
    tables = make_tables()
    wanted = ask(program, make(program, folder, tables))
    cut, moved = cut_deployments(tables)
    assert len(cut['deployments'][1]) >= len(tables['deployments'][1]) + 3 and moved > 20, 'too little was cut to say anything'
    got = ask(program, make(program, folder, cut))
    for line in wanted:
        near(got[line], wanted[line], line)


def cut_deployments(tables):
    cut = {name: (header, [list(row) for row in rows]) for name, (header, rows) in tables.items()}
    moved = 0
    for row in list(cut['deployments'][1]):
        code, station, start, end = row
        visits = [visit[2] for visit in tables['visits'][1] if visit[1] == station and visit[3] == 'working' and start < visit[2] < end]
        if not visits:
            continue
        at = visits[len(visits) // 2]
        row[3] = at
        cut['deployments'][1].append([code + 'b', station, at, end])
        for observation in cut['observations'][1]:
            if observation[1] == code and observation[2] >= at:
                observation[1] = code + 'b'
                moved += 1
    return cut, moved


def blanks(program, folder):
    """Blank pictures where the camera is known to have worked: at the times of other records, and between them."""
    tables = make_tables()
    wanted = ask(program, make(program, folder, tables))
    header, rows = tables['observations']
    more = [['B%d' % number, row[1], row[2], '', 'blank', '', ''] for number, row in enumerate(rows)]
    tables['observations'] = (header, rows + more)
    same(ask(program, make(program, folder, tables)), wanted, 'with %d blanks' % len(more))


def questions_are_answered(program, folder):
    """Or all of the above would say nothing."""
    answers = ask(program, make(program, folder, make_tables()))
    assert len(answers['rates --by month']['groups']) > 5 and len(answers['figure months']) > 5, answers
    assert len(answers['figure matrix']) > len(test_rates.SPECIES) * 5, answers['figure matrix']
    assert sum(row['detections'] for row in answers['rates']['species']) > 200, answers['rates']


def main():
    worlds = (('a zone beyond the date line', lambda folder: {'TZ': 'Pacific/Apia'}), ('no UTF-8', lambda folder: {'LC_ALL': 'C', 'TZ': ':nonsense'}),
              ('decimal comma', comma_locale))
    cases = [('questions are answered', questions_are_answered), ('the order of rows', row_order)]
    cases += [('in a world with ' + name, in_world(make_env)) for name, make_env in worlds]
    cases += [('cut in two', cut_in_two), ('blanks', blanks)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
