"""How long units last, and how often triggers fire at nothing, end to end."""

import csv
import datetime
import json
import math
import os
import random
import statistics
import sys

from terminal import close, equal, query, read_bytes, run_cases, write_csv

EPOCH = datetime.date(2025, 1, 1)
Z = statistics.NormalDist().inv_cdf(0.975)

# Freireich et al. 1963, Blood 21:699-716, weeks in remission; as in R, MASS::gehan. 0: censored.
TREATED = ((10, 1), (7, 1), (32, 0), (23, 1), (22, 1), (6, 1), (16, 1), (34, 0), (32, 0), (25, 0), (11, 0), (20, 0), (19, 0), (6, 1),
           (17, 0), (35, 0), (6, 1), (13, 1), (9, 0), (6, 0), (10, 0))
PLACEBO = tuple((time, 1) for time in (1, 22, 3, 12, 8, 17, 2, 11, 8, 12, 2, 5, 4, 15, 8, 23, 5, 11, 4, 1, 8))


def day(number):
    return (EPOCH + datetime.timedelta(days=number)).isoformat()


def write_units(path, groups, column='model'):
    """@groups: {name: ((days, failed), ...)}; each life ends in a retirement, with a cause when it failed."""
    rows = [['%s-%d' % (name, number), 'camera', name, day(0), day(days), 'age' if failed else '']
            for name, lives in groups.items() for number, (days, failed) in enumerate(lives)]
    return write_csv(path, 'unit,kind,%s,acquired,retired,retire_cause' % column, rows)


def make_units(program, folder, groups, column='model', zone='Asia/Kuching'):
    project = program.new(os.path.join(folder, 'a-%d.gpkg' % len(os.listdir(folder))), zone)
    program.run('import', project, write_units(os.path.join(folder, 'units.csv'), groups, column))
    return project


def published(program, folder):
    """The medians, limits, steps and log-rank test of Freireich's trial, from R survfit and survdiff, survival 3.5-3."""
    document = program.json('lives', make_units(program, folder, {'6-MP': TREATED, 'placebo': PLACEBO}), '--by', 'model')
    treated, placebo = document['groups']

    equal([group['group'] for group in document['groups']], ['6-MP', 'placebo'], 'groups')
    equal([(group['n'], group['failures']) for group in document['groups']], [(21, 9), (21, 21)], 'n and failures')
    equal([(group['median_days'], group['median_ci95']) for group in document['groups']], [(23, [16, None]), (8, [4, 12])], 'medians')
    close(treated['mean_days'], 23.287394957983196, 1e-9, 'mean')
    close(treated['mean_se'], 2.8274676233714393, 1e-6, 'its error')
    equal([step['days'] for step in treated['curve']], [6, 7, 10, 13, 16, 22, 23], 'ages')
    for step, (survival, low, high) in zip(treated['curve'], (
            (0.8571429, 0.7198171, 1), (0.8067227, 0.6531242, 0.9964437), (0.7529412, 0.5859190, 0.9675748), (0.6901961, 0.5096131, 0.9347692),
            (0.6274510, 0.4393939, 0.8959949), (0.5378151, 0.3370366, 0.8582008), (0.4481793, 0.2487882, 0.8073720))):
        for key, wanted in (('survival', survival), ('low', low), ('high', high)):
            assert abs(step[key] - wanted) < 1e-7, (step, key, wanted)
    equal((placebo['curve'][-1]['survival'], placebo['curve'][-1]['low']), (0, None), 'nothing left')
    close(document['logrank_chi2'], 16.792940989216536, 1e-9, 'chi-square')
    close(document['logrank_p'], 4.1688091093345355e-05, 1e-6, 'p')
    equal((document['logrank_df'], document['left_out']), (1, 0), 'degrees of freedom')


def kaplan_meier(lives):
    """Written apart from the program: [(age, at risk, failures, S, low, high)]."""
    steps, survival, variance = [], 1.0, 0.0
    for age in sorted({days for days, failed in lives if failed}):
        at_risk = sum(days >= age for days, _ in lives)
        failures = sum(days == age and failed for days, failed in lives)
        survival *= 1 - failures / at_risk
        low = high = None
        if failures < at_risk:
            variance += failures / (at_risk * (at_risk - failures))
            reach = math.exp(Z * math.sqrt(variance))
            low, high = survival / reach, min(1, survival * reach)
        steps.append((age, at_risk, failures, survival, low, high))
    return steps


def log_rank(first, second):
    """Chi-square and p of two groups."""
    observed = expected = variance = 0.0
    for age in {days for days, failed in first + second if failed}:
        n1, n2 = (sum(days >= age for days, _ in lives) for lives in (first, second))
        d1, d2 = (sum(days == age and failed for days, failed in lives) for lives in (first, second))
        n, d = n1 + n2, d1 + d2
        observed += d1
        expected += d * n1 / n
        if n > 1:
            variance += d * (n1 / n) * (n2 / n) * (n - d) / (n - 1)
    chi2 = (observed - expected) ** 2 / variance
    return chi2, math.erfc(math.sqrt(chi2 / 2))  # the law of one degree of freedom


def drawn(program, folder):
    """Invented fleets against the formulas above."""
    rng = random.Random(1958)
    for column in ('model', 'housing'):
        fleet = {name: tuple((rng.randrange(1, 400), rng.random() < chance) for _ in range(n))
                 for name, n, chance in (('bag', 30, 0.8), ('box', 45, 0.3))}
        document = program.json('lives', make_units(program, folder, fleet, column), '--by', column)

        equal([group['group'] for group in document['groups']], sorted(fleet), 'groups')
        for group in document['groups']:
            wanted = kaplan_meier(fleet[group['group']])
            equal([(step['days'], step['at_risk'], step['failures']) for step in group['curve']], [row[:3] for row in wanted], 'steps')
            for step, row in zip(group['curve'], wanted):
                for key, value in zip(('survival', 'low', 'high'), row[3:]):
                    assert step[key] == value or abs(step[key] - value) < 1e-9, (step, row)
            close(group['unit_days'], sum(days for days, _ in fleet[group['group']]), 1e-12, 'days at work')
        chi2, p = log_rank(fleet['bag'], fleet['box'])
        close(document['logrank_chi2'], chi2, 1e-9, 'chi-square')
        close(document['logrank_p'], p, 1e-9, 'p')


CAUSES = ('moisture', 'insects', 'animal', 'fall', 'flood', 'theft', 'age', 'unknown')


def by_cause(program, folder):
    """Each unit in every curve, other causes counted as at work until then; nothing to test."""
    rng = random.Random(1972)
    project = program.new(os.path.join(folder, 'a.gpkg'))
    lives = [(rng.randrange(1, 300), rng.choice(CAUSES + ('',) * 8)) for _ in range(60)]
    units = [['U%d' % number, 'flash', day(0)] for number in range(len(lives))]
    log = [['E%d' % number, 'U%d' % number, day(days) + 'T00:00', 'failure', cause] for number, (days, cause) in enumerate(lives) if cause]
    retired = [['U%d' % number, day(days)] for number, (days, cause) in enumerate(lives) if not cause]
    program.run('import', project, write_csv(os.path.join(folder, 'units.csv'), 'unit,kind,acquired', units))
    program.run('import', project, write_csv(os.path.join(folder, 'retired.csv'), 'unit,kind,retired', [[code, 'flash', at] for code, at in retired]))
    program.run('import', project, write_csv(os.path.join(folder, 'log.csv'), 'entry,unit,at,what,cause', log))
    document = program.json('lives', project, '--by', 'cause')

    seen = [cause for cause in CAUSES if any(cause == own for _, own in lives)]
    equal([group['group'] for group in document['groups']], seen, 'causes')
    for group in document['groups']:
        wanted = kaplan_meier([(days, cause == group['group']) for days, cause in lives])
        equal((group['n'], group['failures']), (60, sum(cause == group['group'] for _, cause in lives)), group['group'])
        if group['reason'] is None:
            equal([(step['days'], step['failures']) for step in group['curve']], [(row[0], row[2]) for row in wanted], group['group'])
            close(group['curve'][-1]['survival'], wanted[-1][3], 1e-9, group['group'])
    equal((document['failures'], document['logrank_p']), (len(log), None), 'failures, and no test')
    assert 'not groups' in document['logrank_words'], document['logrank_words']


def reasons(program, folder):
    """A handful gets a reason, in the table, in JSON and in the figure."""
    project = make_units(program, folder, {'few': ((9, 1), (12, 1)), 'sound': tuple((90, 0) for _ in range(6)), 'plenty': PLACEBO})
    document = program.json('lives', project, '--by', 'model')
    groups = {group['group']: group for group in document['groups']}
    table = program.run('lives', project, '--by', 'model').out
    program.run('figure', project, 'lives', '--by', 'model', '-o', os.path.join(folder, 'a.svg'))

    equal((groups['few']['curve'], groups['few']['median_days'], groups['sound']['curve']), ([], None, []), 'no curve')
    equal(groups['plenty']['reason'], None, 'reason')
    for text in (table, read_bytes(os.path.join(folder, 'a.csv')).decode()):
        assert 'too few for a curve' in text and 'none has failed' in text, text


def figure_has_the_numbers(program, folder):
    """The CSV beside the figure holds the curve of the command; the same bytes twice; the project is only read."""
    project = make_units(program, folder, {'6-MP': TREATED, 'placebo': PLACEBO})
    before = read_bytes(project)
    document = program.json('lives', project, '--by', 'model')
    for ending in ('svg', 'png', 'pdf'):
        paths = [os.path.join(folder, '%s.%s' % (name, ending)) for name in 'ab']
        for path in paths:
            program.run('figure', project, 'lives', '--by', 'model', '-o', path, '--size', '700x500')
        equal(*[read_bytes(path) for path in paths], ending)
    with open(os.path.join(folder, 'a.csv'), encoding='utf-8', newline='') as file:
        rows = list(csv.DictReader(file))
    for group in document['groups']:
        own = [row for row in rows if row['group'] == group['group']]
        equal(sum(int(row['failures']) + int(row['censored']) for row in own), group['n'], 'every unit ends once')
        for step in group['curve']:
            row = next(row for row in own if float(row['days']) == step['days'])
            close(float(row['survival']), step['survival'], 1e-12, 'survival')
            equal((int(row['at_risk']), int(row['failures'])), (step['at_risk'], step['failures']), 'at risk')
    equal(read_bytes(project), before, 'the project')


def demo_says_something(program, folder):
    project = program.demo(os.path.join(folder, 'demo'))
    for by in ('kind', 'housing', 'cause', 'model'):
        document = program.json('lives', project, '--by', by)
        equal(document['by'], by, 'by')
        assert any(group['curve'] for group in document['groups']), by
    equal(program.json('lives', project), program.json('lives', project, '--by', 'kind'), 'kind unless asked')
    assert program.json('lives', project)['logrank_p'] < 0.05


def usage(program, folder):
    project = make_units(program, folder, {'6-MP': TREATED})
    out = os.path.join(folder, 'x.svg')
    for words in (['lives', project, '--by', 'colour'], ['lives', project, '--station', 'S1'], ['lives'],
                  ['figure', project, 'lives', '-o', out, '--by', 'colour'], ['figure', project, 'strip', '-o', out, '--by', 'kind'],
                  ['figure', project, 'lives', '-o', out, '--from', '2024-01-01'], ['figure', project, 'lives', '-o', out, '--species', 'Sus'],
                  ['rates', project, '--blanks', '--by', 'month'], ['rates', project, '--blanks', '--species', 'Sus barbatus'],
                  ['rates', project, '--blanks', '--independence', '30'], ['rates', project, '--blanks', '--gap-from', 'last'],
                  ['effort', project, '--blanks']):
        result = program.run(*words, status=2)
        assert result.err and not result.out, (words, result)
        assert not os.path.exists(out), words
    program.run('lives', os.path.join(folder, 'none.gpkg'), status=3)
    program.run('rates', project, '--blanks', '--station', 'NONE', status=1)


def wilson(x, n):
    share, zz = x / n, Z * Z / n
    half = Z * math.sqrt(share * (1 - share) / n + zz / (4 * n)) / (1 + zz)
    return (share + zz / 2) / (1 + zz) - half, (share + zz / 2) / (1 + zz) + half


def make_blanks(program, folder):
    """Three stations: a passive camera, a beam, a beam put in half way. Frames every ten minutes, most of them decided."""
    rng = random.Random(1927)
    project = program.new(os.path.join(folder, 'a.gpkg'), 'UTC')
    sensors = {'S1': lambda number: 'passive-infrared', 'S2': lambda number: 'active-beam',
               'S3': lambda number: 'passive-infrared' if number < 60 else 'active-beam'}
    chances = {'S1': 0.5, 'S2': 0.15, 'S3': 0.3}
    start = datetime.datetime(2025, 3, 1)
    frames, observations, truth = [], [], []
    for station in sensors:
        for number in range(120):
            at = (start + datetime.timedelta(minutes=10 * number)).isoformat()
            kind = rng.choice(('animal', 'human', 'unknown')) if rng.random() > chances[station] else 'blank'
            frames.append(['F%s%d' % (station, number), 'D' + station, '%s/%d.jpg' % (station, number), at])
            if rng.random() < 0.9:
                observations.append(['O%s%d' % (station, number), 'D' + station, at, kind])
                truth.append((station, sensors[station](number), kind == 'blank', number))
    half = (start + datetime.timedelta(minutes=595)).isoformat()
    tables = (
        ('stations', 'station,name', [[station, station] for station in sensors]),
        ('units', 'unit,kind,sensor', [['K1', 'camera', 'passive-infrared'], ['K2', 'camera', ''], ['T2', 'trigger', 'active-beam'],
                                       ['K3', 'camera', 'passive-infrared'], ['T3', 'trigger', 'active-beam']]),
        ('deployments', 'deployment,station,start', [['D' + station, station, start.isoformat()] for station in sensors]),
        ('fittings', 'deployment,unit,from', [['DS1', 'K1', start.isoformat()], ['DS2', 'K2', start.isoformat()],
                                              ['DS2', 'T2', start.isoformat()], ['DS3', 'K3', start.isoformat()], ['DS3', 'T3', half]]),
        ('frames', 'frame,deployment,file,camera_time', frames),
        ('observations', 'observation,deployment,start,type', observations))
    for name, columns, rows in tables:
        program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))
    equal(query(project, 'SELECT count(*) FROM triggers'), [(360,)], 'triggers')
    return project, truth


def compare_share(row, flags, what):
    n, x = len(flags), sum(flags)
    low, high = wilson(x, n)

    equal((row['triggers'], row['blank']), (n, x), what)
    close(row['share'], x / n, 1e-12, what)
    assert abs(row['ci95'][0] - low) < 1e-9 and abs(row['ci95'][1] - high) < 1e-9, (what, row, low, high)


def blanks(program, folder):
    project, truth = make_blanks(program, folder)
    for options, kept in (([], lambda row: True), (['--station', 'S3'], lambda row: row[0] == 'S3'),
                          (['--from', '2025-03-01T05:00', '--to', '2025-03-01T12:00'], lambda row: 30 <= row[3] < 72)):
        document = program.json('rates', project, '--blanks', *options)
        rows = [row for row in truth if kept(row)]

        compare_share(document, [row[2] for row in rows], 'all')
        equal([row['sensor'] for row in document['sensors']], ['active-beam', 'passive-infrared'], 'sensors')
        equal([row['station'] for row in document['stations']], sorted({row[0] for row in rows}), 'stations')
        for key, column in (('sensor', 1), ('station', 0)):
            for row in document[key + 's']:
                compare_share(row, [own[2] for own in rows if own[column] == row[key]], row[key])
        if not options:
            equal(document['undecided'], 360 - len(truth), 'undecided')
        shares = {row['sensor']: row for row in document['sensors']}
        passive, active = shares['passive-infrared'], shares['active-beam']
        difference = passive['share'] - active['share']
        reach = [math.hypot(passive['share'] - passive['ci95'][0], active['ci95'][1] - active['share']),
                 math.hypot(passive['ci95'][1] - passive['share'], active['share'] - active['ci95'][0])]
        close(document['difference']['share'], difference, 1e-12, 'difference')
        for got, wanted in zip(document['difference']['ci95'], (difference - reach[0], difference + reach[1])):
            assert abs(got - wanted) < 1e-9, document['difference']


def blanks_in_words(program, folder):
    """A station whose lower limit is above the share of all is pointed out; what is not decided is said."""
    project, truth = make_blanks(program, folder)
    text = program.run('rates', project, '--blanks').out
    lines = {line.split()[0]: line for line in text.splitlines() if line.strip()}

    assert 'more than elsewhere' in lines['S1'] and 'more than' not in lines['S2'] + lines['S3'], text
    assert '%d triggers are not decided yet' % (360 - len(truth)) in text, text
    assert text.startswith('%d of %d decided triggers were blank' % (sum(row[2] for row in truth), len(truth))), text


def blanks_of_nothing(program, folder):
    project = program.new(os.path.join(folder, 'a.gpkg'))
    document = program.json('rates', project, '--blanks')

    equal(document, {'triggers': 0, 'blank': 0, 'share': None, 'ci95': [None, None], 'undecided': 0, 'sensors': [], 'stations': [],
                     'difference': None}, 'nothing')
    assert program.run('rates', project, '--blanks').out.startswith('No trigger has been decided yet.')
    equal(json.loads(program.run('lives', project, '--json').out)['groups'], [], 'lives')
    program.run('figure', project, 'lives', '-o', os.path.join(folder, 'a.png'))


def main():
    return run_cases([
        ('published curve and test', published),
        ('drawn fleets against the formulas', drawn),
        ('by cause', by_cause),
        ('too few for a curve', reasons),
        ('the figure and its numbers', figure_has_the_numbers),
        ('the demo', demo_says_something),
        ('wrong command lines', usage),
        ('false triggers against a count of their own', blanks),
        ('false triggers in words', blanks_in_words),
        ('an empty project', blanks_of_nothing),
    ])


if __name__ == '__main__':
    sys.exit(main())
