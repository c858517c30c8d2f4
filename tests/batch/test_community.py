"""Occupancy and richness: estimates of CHECKS E and F brought in as tables, occasions by hand, and what must not matter."""

import itertools
import math
import os
import random
import sys

import samples
from terminal import close, equal, run_cases

BEAR = 'Helarctos malayanus'
OTHERS = ('Sus barbatus', 'Rusa unicolor', 'Hystrix brachyura', 'Neofelis diardi')


def make(program, folder, deployments, observations, zone='Asia/Kuching', stations=None, visits=()):
    """@deployments: (station, start, end); @observations: (number of the deployment, start, end, species or '' for a blank)."""
    names = stations or sorted({row[0] for row in deployments}, key=lambda name: int(name[1:]))
    species = sorted({BEAR, *OTHERS} | {row[3] for row in observations if row[3]})
    tables = {
        'stations': ('station,name', [[name, 'Place ' + name] for name in names]),
        'species': ('scientific_name,common_en', [[name, 'Common ' + name.split()[0]] for name in species]),
        'deployments': ('deployment,station,start,end', [['D%d' % i, *row] for i, row in enumerate(deployments)]),
        'visits': ('visit,station,at,found', [['V%d' % i, *row] for i, row in enumerate(visits)]),
        'observations': ('observation,deployment,start,end,type,scientific_name', [
            ['O%d' % i, 'D%d' % number, start, end, 'animal' if name else 'blank', name]
            for i, (number, start, end, name) in enumerate(observations)]),
    }
    number = len(os.listdir(folder))
    paths = samples.write_tables(os.path.join(folder, 'tables-%d' % number), {name: table for name, table in tables.items() if table[1]})
    project = program.new(os.path.join(folder, 'project-%d.gpkg' % number), zone)
    program.run('import', project, *paths.values())
    return project


def day(number, time='00:00'):
    return '2024-03-%02dT%s' % (1 + number, time)


def occupancy(program, project, *options, **keywords):
    return program.json('occupancy', project, '--species', BEAR, *options, **keywords)


# CHECKS E, with the histories of tests/science/test-occupancy.c; limits within 1e-4, estimates 1e-5, errors 1e-4.
SALAMANDERS = '''00001 00100 01000 00100 00010 10000 01000 01000 00010 00100 01010 10001 00101 01100 01010 11100 11100 01111
00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000 00000'''
WITH_MISSING = '''0.00.0 .00000 .00000 000000 0110.0 10.0.0 00.000 010..0 10.010 000000 000101 000000 110000 000010 00..01
00.0.0 011110 000000 0.00.0 000011 100000 00000. 000..0 000000 .00100 000000 010000 1100.0 10.100 ......'''
ALL_ONCE = '100 010 001 100 010 000 001 100'
PUBLISHED = (
    # histories, sites, occasions, visits, detected, detections, psi, se, limits, p, se, limits, lnL, AIC
    (SALAMANDERS, 39, 5, 195, 18, 30, 0.594622561693916, 0.12259854232753434, (0.38542036998392476, 0.90214790437685),
     0.2587290907513083, 0.05770193725960575, (0.15520477400462404, 0.3769648981690472), -80.87929473005366, 165.75858946010732),
    (WITH_MISSING, 29, 6, 151, 15, 25, 0.6813540746945435, 0.1481478740275882, (0.4286474383112414, 1.0),
     0.24303062199586406, 0.05982217285390866, (0.13737849442640548, 0.36683351822124527), -66.3052631206681, 136.6105262413362),
)


def write_history(program, folder, text):
    """A station for each history; it works on the days with a letter, and for five hours on those without."""
    deployments, observations = [], []
    for number, history in enumerate(text.split(), 1):
        for occasion, letter in enumerate(history):
            deployments.append(('S%d' % number, day(occasion), day(occasion, '05:00') if letter == '.' else day(occasion + 1)))
            if letter == '1':
                observations.append((len(deployments) - 1, day(occasion, '13:30'), '', BEAR))
    return make(program, folder, deployments, observations)


def is_near(got, wanted, tolerance, what):
    assert abs(got - wanted) <= tolerance, '%s: got %.17g, wanted %.17g' % (what, got, wanted)


def published(program, folder):
    for text, sites, occasions, visits, detected, detections, psi, psi_se, psi_ci, p, p_se, p_ci, loglik, aic in PUBLISHED:
        got = occupancy(program, write_history(program, folder, text), '--occasion-days', 1)
        equal((got['sites'], got['occasions'], got['visits'], got['sites_detected'], got['detections']),
              (sites, occasions, visits, detected, detections))
        close(got['naive'], detected / sites, 1e-12, 'naive')
        is_near(got['psi'], psi, 1e-5, 'psi')
        is_near(got['p'], p, 1e-5, 'p')
        is_near(got['psi_se'], psi_se, 1e-4, 'psi_se')
        is_near(got['p_se'], p_se, 1e-4, 'p_se')
        for pair, wanted, what in ((got['psi_ci95'], psi_ci, 'psi'), (got['p_ci95'], p_ci, 'p')):
            is_near(pair[0], wanted[0], 1e-4, what + ', lower')
            is_near(pair[1], wanted[1], 1e-4, what + ', upper')
        is_near(got['loglik'], loglik, 1e-6, 'loglik')
        is_near(got['aic'], aic, 2e-6, 'aic')
        equal(got['boundary'], False)
        read = {row['station']: row['history'] for row in got['histories']}
        equal(read, {'S%d' % n: history for n, history in enumerate(text.split(), 1) if set(history) != {'.'}})


def boundary(program, folder):
    got = occupancy(program, write_history(program, folder, ALL_ONCE), '--occasion-days', 1)
    equal((got['boundary'], got['psi'], got['psi_se'], got['p_se'], got['psi_ci95'][1]), (True, 1, None, None, 1))
    is_near(got['p'], 7 / 24, 1e-9, 'p')
    is_near(got['loglik'], -14.487294036007828, 1e-6, 'loglik')
    assert 'no standard error' in got['reason'], got['reason']


# What a station of one day's occasions did on 1 March 2024 and after; nine others make up the rest.
def history_of(program, folder, deployments, observations, *options, zone='Asia/Kuching'):
    spans = [('S1', *span) for span in deployments]
    ends = [end for _, end in deployments]
    others = [('S%d' % n, deployments[0][0][:10] + 'T00:00', max(ends)) for n in range(2, 10)]
    seen = [(len(spans) + n, others[n][1], '', BEAR) for n in (0, 1, 2)]
    project = make(program, folder, spans + others, [(0, start, end, BEAR) for start, end in observations] + seen, zone)
    got = occupancy(program, project, '--occasion-days', *(options or ('1',)))
    return next((row['history'] for row in got['histories'] if row['station'] == 'S1'), ''), got


def by_hand(program, folder):
    cases = (
        # what, zone, deployments of S1, records, options, its history, records left out
        ('whole days', 'Asia/Kuching', [(day(0), day(4))], [(day(1, '05:00'), '')], ['1'], '0100', 0),
        ('two records in one occasion', 'Asia/Kuching', [(day(0), day(4))], [(day(1, '05:00'), ''), (day(1, '15:00'), '')], ['1'],
         '0100', 0),
        ('three days each; the last of half its length', 'Asia/Kuching', [(day(0), day(10, '12:00'))], [], ['3'], '0000', 0),
        ('three days each; the last too short', 'Asia/Kuching', [(day(0), day(10, '11:59:59'))], [(day(10), '')], ['3'], '000', 1),
        ('half an occasion is enough', 'Asia/Kuching', [(day(0, '12:00'), day(3))], [], ['1'], '000', 0),
        ('a second less is not', 'Asia/Kuching', [(day(0, '12:00:01'), day(3))], [(day(0, '20:00'), '')], ['1'], '.00', 1),
        ('a gap between deployments', 'Asia/Kuching', [(day(0), day(1)), (day(2), day(3))], [], ['1'], '0.0', 0),
        ('two halves of the day', 'Asia/Kuching', [(day(0), day(1, '06:00')), (day(1, '18:00'), day(3))], [], ['1'], '000', 0),
        ('two cameras at once count once', 'Asia/Kuching', [(day(0), day(1, '05:59')), (day(0), day(1, '06:00')), (day(2), day(3))], [],
         ['1'], '0.0', 0),
        ('over midnight: where it starts', 'Asia/Kuching', [(day(0), day(3))], [(day(0, '23:50'), day(1, '00:20'))], ['1'], '100', 0),
        ('minutes apart on both sides of midnight', 'Asia/Kuching', [(day(0), day(3))],
         [(day(0, '23:59'), ''), (day(1, '00:01'), '')], ['1'], '110', 0),
        ('from noon', 'Asia/Kuching', [(day(0), day(3))], [(day(1, '11:59'), ''), (day(2, '12:00'), '')],
         ['1', '--from', day(0, '12:00')], '101', 0),
        ('from a later day', 'Asia/Kuching', [(day(0), day(5))], [(day(0, '11:59'), ''), (day(4), '')], ['2', '--from', day(1)], '01', 0),
        ('from before: missing', 'Asia/Kuching', [(day(2), day(4))], [], ['2', '--from', day(0)], '.0', 0),
        ('up to', 'Asia/Kuching', [(day(0), day(5))], [(day(3), '')], ['1', '--to', day(3)], '000', 0),
        ('by hours', 'Asia/Kuching', [(day(0), day(3))], [(day(0, '05:00'), ''), (day(1, '19:00'), '')], ['1', '--hours', '18:00-06:30'],
         '110', 0),
        ('not in these hours', 'Asia/Kuching', [(day(0), day(3))], [(day(0, '05:00'), ''), (day(1, '19:00'), '')],
         ['1', '--hours', '18:00-04:00'], '010', 0),
        # 31 March 2024 has 23 hours in Madrid, 27 October 25: half of them are 11:30 and 12:30
        ('a short day', 'Europe/Madrid', [('2024-03-30T00:00', '2024-03-31T12:30'), ('2024-04-01T00:00', '2024-04-03T00:00')],
         [], ['1'], '0000', 0),
        ('a short day, a second less', 'Europe/Madrid',
         [('2024-03-30T00:00', '2024-03-31T12:29:59'), ('2024-04-01T00:00', '2024-04-03T00:00')],
         [('2024-03-31T23:59', ''), ('2024-04-01T00:00', '')], ['1'], '0.10', 1),
        ('a long day', 'Europe/Madrid', [('2024-10-26T00:00', '2024-10-27T11:30'), ('2024-10-28T00:00', '2024-10-29T00:00')], [], ['1'],
         '000', 0),
        ('a long day, a second less', 'Europe/Madrid', [('2024-10-26T00:00', '2024-10-27T11:29:59'), ('2024-10-28T00:00', '2024-10-29T00:00')],
         [], ['1'], '0.0', 0),
    )
    for what, zone, deployments, observations, options, wanted, left_out in cases:
        got, document = history_of(program, folder, deployments, observations, *options, zone=zone)
        equal(got, wanted, what)
        equal(document['left_out'], left_out, what + ': left out')
        equal(document['occasions'], len(wanted), what + ': occasions')


def no_matter(program, folder):
    """Neither row order, a deployment cut at a visit, blanks, what the machine speaks nor where it stands changes a number."""
    chance = random.Random(5)
    deployments = [('S%d' % n, day(chance.randrange(3), '%02d:00' % chance.randrange(24)), '2024-05-%02dT09:00' % chance.randrange(1, 28))
                   for n in range(1, 9)]
    observations = [(chance.randrange(8), '2024-0%d-%02dT%02d:15' % (chance.choice((3, 4)), chance.randrange(5, 29), chance.randrange(24)),
                     '', chance.choice((BEAR, *OTHERS))) for _ in range(60)]
    project = make(program, folder, deployments, observations)
    cut, moved = [], []
    for number, (station, start, end) in enumerate(deployments):
        cut += [(station, start, '2024-04-10T14:00'), (station, '2024-04-10T14:00', end)]
    for number, start, end, name in observations:
        moved.append((2 * number + (start >= '2024-04-10T14:00'), start, end, name))
    shuffled = observations[:]
    chance.shuffle(shuffled)
    others = (
        ('another order', make(program, folder, deployments, shuffled), {}),
        ('cut at a visit', make(program, folder, cut, moved, visits=[(row[0], '2024-04-10T14:00', 'working') for row in deployments]), {}),
        ('blanks', make(program, folder, deployments, observations + [(n % 8, day(20, '%02d:00' % (n % 24)), '', '') for n in range(50)]), {}),
        ('another zone', project, {'env': {'TZ': 'America/Lima'}}),
        ('another locale', project, {'env': {'LC_ALL': 'de_DE.UTF-8', 'LANGUAGE': 'es'}}),
    )
    for days in (1, 5, 7):
        wanted = occupancy(program, project, '--occasion-days', days)
        assert wanted['psi'] is not None and wanted['sites_detected'] > 1, wanted
        for what, other, keywords in others:
            got = occupancy(program, other, '--occasion-days', days, **keywords)
            equal({**got, 'reason': None}, {**wanted, 'reason': None}, what)
    wanted = program.json('richness', project)
    assert wanted['observed'] == 5 and wanted['stations'] == 8, wanted
    for what, other, keywords in others:
        got = program.json('richness', other, **keywords)
        close(got['nights'], wanted['nights'], 1e-14, what)  # a sum of one more number
        equal({**got, 'reason': None, 'nights': None}, {**wanted, 'reason': None, 'nights': None}, what)


def too_little(program, folder):
    def ground(sites, length, seen):
        deployments = [('S%d' % n, day(0), day(length)) for n in range(1, sites + 1)]
        return make(program, folder, deployments, [(n, day(at, '08:00'), '', BEAR) for n, at in seen])

    cases = (
        # what, project, options, word of the reason
        ('nothing seen', ground(8, 5, []), [], 'never detected'),
        ('few stations', ground(4, 5, [(0, 1), (1, 2)]), [], 'at least 5'),
        ('one of them saw it', ground(8, 5, [(2, 1), (2, 3)]), [], 'one station only'),
        ('one occasion', ground(8, 5, [(1, 1), (2, 3)]), ['--occasion-days', 5], 'second occasion'),
        ('none worked for half of one', ground(8, 5, [(1, 1), (2, 3)]), ['--occasion-days', 14], 'No station worked'),
        ('no effort', ground(8, 5, [(1, 1), (2, 3)]), ['--to', '2020-01-01'], 'No station worked'),
    )
    for what, project, options, word in cases:
        got = occupancy(program, project, *(options or ['--occasion-days', 1]))
        equal([got[key] for key in ('psi', 'psi_se', 'p', 'p_se', 'loglik', 'aic')], [None] * 6, what)
        equal((got['psi_ci95'], got['p_ci95'], got['boundary']), ([None, None], [None, None], False), what)
        assert word in got['reason'], '%s: %s' % (what, got['reason'])
        text = program.run('occupancy', project, '--species', BEAR, *(options or ['--occasion-days', 1])).out
        assert word in text and 'nan' not in text.lower(), text

    project = cases[0][1]
    for options, status in ((['--species', BEAR, '--species', OTHERS[0]], 2), ([], 2), (['--species', 'Nobody'], 1),
                            (['--species', BEAR, '--occasion-days', 'x'], 2), (['--species', BEAR, '--occasion-days', '0'], 2),
                            (['--species', BEAR, '--station', 'S99'], 1), (['--species', BEAR, '--independence', '5'], 2),
                            (['--species', BEAR, '--occasion-days', '1', '--from', '1800-01-01'], 2)):
        result = program.run('occupancy', project, *options, status=status)
        assert result.out == '' and result.err != '', options
    equal(occupancy(program, project)['occasion_days'], 14)


def readable(program, folder):
    project = write_history(program, folder, SALAMANDERS)
    text = program.run('occupancy', project, '--species', 'common helarctos', '--occasion-days', 1).out
    for piece in ('detected at 18 of 39 stations (46 %)', 'it is at 59 % of them (95 % interval 39 to 90 %)', 'seen in 26 % of the occasions (16 to 38 %)',
                  '5 occasions of one day', '5 March 2024', 'takes 11 occasions', '0.595', '-80.8793', 'S11', '01010'):
        assert piece in text, (piece, text)


OCCUPANCY_KEYS = ('sites', 'occasions', 'sites_detected', 'naive', 'psi', 'psi_se', 'psi_ci95', 'p', 'p_se', 'p_ci95', 'loglik', 'aic',
                  'boundary')


RICHNESS_KEYS = ('observed', 'curve', 'chao2', 'chao2_se', 'jack1', 'jack1_se', 'boot', 'hill', 'coverage')


def write_presence(program, folder, rows, **keywords):
    """A station for each row, a species for each column."""
    deployments = [('S%d' % number, day(0), day(5)) for number in range(1, len(rows) + 1)]
    seen = [(number, day(1, '%02d:30' % column), '', 'Species %02d' % column) for number, row in enumerate(rows)
            for column, letter in enumerate(row) if letter == '1']
    return make(program, folder, deployments, seen, **keywords)


def richness_published(program, folder):
    """CHECKS F1, the set without duplicates; jack1_se is that of leaving out one station at a time."""
    got = program.json('richness', write_presence(program, folder, ('11100', '11010', '11001')))
    equal((got['stations'], got['observed'], got['incidences'], got['uniques'], got['duplicates']), (3, 5, 9, 3, 0))
    for key, wanted in (('chao2', 7), ('chao2_se', 3.0079260375911914), ('jack1', 7), ('jack2', 8), ('boot', 5.888888888888889),
                        ('boot_se', 0.5665577237325313), ('coverage', 0.6666666666666667)):
        close(got[key], wanted, 1e-9, key)
    is_near(got['jack1_se'], 0, 1e-9, 'jack1_se')
    for value, wanted in zip(got['hill'], (5, 4.326748710922226, 3.857142857142857)):
        close(value, wanted, 1e-9, 'hill')
    for point, wanted in zip(got['curve'], (3, 4, 5)):
        is_near(point['mean'], wanted, 1e-9, 'mean')
        is_near(point['sd'], 0, 1e-5, 'sd')


def richness_by_subsets(program, folder):
    """Mean and standard deviation over all subsets of the stations, one by one; two stations saw nothing."""
    chance = random.Random(9)
    rows = [''.join(str(int(chance.random() < 0.1 + 0.8 * (column % 5) / 5)) for column in range(14)) for _ in range(7)] + ['0' * 14] * 2
    project = write_presence(program, folder, rows, stations=['S%d' % n for n in range(1, 12)])  # the last two never worked
    got = program.json('richness', project)
    found = {column for row in rows for column in range(14) if row[column] == '1'}
    equal((got['stations'], got['observed'], len(got['curve'])), (9, len(found), 9))
    for point in got['curve']:
        sizes = [sum(any(row[column] == '1' for row in some) for column in found) for some in itertools.combinations(rows, point['n'])]
        mean = math.fsum(sizes) / len(sizes)
        close(point['mean'], mean, 1e-12, 'mean')
        is_near(point['sd'] ** 2, math.fsum((size - mean) ** 2 for size in sizes) / len(sizes), 1e-9, 'variance')
    share = [sum(row[column] == '1' for row in rows) for column in found]
    once, twice, n = share.count(1), share.count(2), 9
    equal((got['uniques'], got['duplicates']), (once, twice))
    assert once and twice, share
    close(got['chao2'], len(found) + (n - 1) / n * once * once / (2 * twice), 1e-12, 'chao2')
    close(got['jack1'], len(found) + once * (n - 1) / n, 1e-12, 'jack1')
    close(got['boot'], len(found) + math.fsum((1 - f / n) ** n for f in share), 1e-12, 'boot')
    assert len(found) <= got['chao2_ci95'][0] <= got['chao2'] <= got['chao2_ci95'][1], got

    only = program.json('richness', project, '--species', 'Species 03', '--species', 'Species 04')
    equal((only['observed'], only['stations']), (2, 9), 'of two species')
    part = program.json('richness', project, '--station', 'S1', '--station', 'S2', '--station', 'S8')
    equal((part['stations'], part['observed']), (3, sum('1' in pair for pair in zip(rows[0], rows[1]))), 'of three stations')
    night = program.json('richness', project, '--hours', '00:00-03:00')
    equal(night['observed'], len(found & {0, 1, 2}), 'by hours')


def richness_too_little(program, folder):
    cases = (
        # what, rows, options, stations, observed, word of the reason
        ('one station', ('101',), [], 1, 2, 'at least 2'),
        ('nothing seen', ('000', '000'), [], 2, 0, 'No species was seen'),
        ('no effort', ('110', '011'), ['--to', '2020-01-01'], 0, 0, 'At least 2 stations'),
    )
    for what, rows, options, stations, observed, word in cases:
        project = write_presence(program, folder, rows)
        got = program.json('richness', project, *options)
        equal((got['stations'], got['observed'], len(got['curve'])), (stations, observed, stations), what)
        equal([got[key] for key in ('chao2', 'chao2_se', 'jack1', 'jack1_se', 'boot', 'coverage')], [None] * 6, what)
        assert word in got['reason'], '%s: %s' % (what, got['reason'])
        text = program.run('richness', project, *options).out
        assert word in text and 'nan' not in text.lower(), text
    weak = write_presence(program, folder, ('10000', '01000', '00100', '00010', '00011'))
    got = program.json('richness', weak)
    assert got['coverage'] < 0.9 and 'lower limits' in got['reason'] and got['more_stations'] > 0, got
    assert program.run('richness', weak, '--species', 'Nobody', status=1).out == ''


def contract(program, folder):
    project = program.demo(os.path.join(folder, 'demo'))
    got = program.json('occupancy', project, '--species', BEAR, '--occasion-days', 14)
    assert set(OCCUPANCY_KEYS) <= set(got), got.keys()
    equal((got['sites'], got['sites_detected']), (15, 13))
    rich = program.json('richness', project)
    assert set(RICHNESS_KEYS) <= set(rich) and set(rich['curve'][0]) == {'n', 'mean', 'sd'}, rich.keys()
    equal((len(rich['curve']), len(rich['hill'])), (15, 3))
    assert got['psi_ci95'][0] < got['psi'] <= got['psi_ci95'][1] and got['p_ci95'][0] < got['p'] < got['p_ci95'][1], got


def odd_options(program, folder):
    """Refused as a command line, in words, with nothing on standard output; the limits themselves are taken."""
    project = make(program, folder, [('S%d' % n, day(0), day(20)) for n in range(1, 7)],
                   [(n, day(3 * at + 1, '08:00'), '', BEAR) for n in range(4) for at in range(n + 1)])
    days = ('', ' ', '0', '-5', '3661', '99999', '14.0', '1e1', 'nan', 'inf', '0x10', '%s%n', '٣', '9223372036854775808', '9' * 5000)
    both = [('--hours', value) for value in ('', '6', '06:00', '24:00-06:00', '06:60-07:00', '06:00-24:01', '-1:00-05:00', 'night')]
    both += [('--from', 'nan'), ('--to', ''), ('--from', '2024-02-30'), ('--from', day(9), '--to', day(2))]
    for words in [('occupancy', '--occasion-days', value) for value in days] + [
            (command, *words) for command in ('occupancy', 'richness') for words in both]:
        result = program.run(words[0], project, '--species', BEAR, *words[1:], '--json', status=2)
        assert result.out == '' and result.err.strip() != '' and 'CRITICAL' not in result.err, words
    early = program.run('occupancy', project, '--species', BEAR, '--occasion-days', 1, '--from', '0001-01-01', status=2)
    assert 'too many' in early.err and early.out == '', early

    got = occupancy(program, project, '--occasion-days', 1)
    equal((got['sites'], got['sites_detected'], got['occasions']), (6, 4, 20), 'days')
    assert got['psi'] is not None and got['psi'] >= got['naive'], got
    for options in (('--occasion-days', 3660), ('--occasion-days', 3660, '--from', '0001-01-01'), ('--from', day(9), '--to', day(9))):
        got = occupancy(program, project, *options)
        equal([got[key] for key in ('sites', 'psi', 'p', 'naive', 'aic')], [0] + [None] * 4, options)
        assert 'No station worked' in got['reason'], got['reason']


def hardly_anything(program, folder):
    nothing = program.new(os.path.join(folder, 'nothing.gpkg'))
    result = program.run('occupancy', nothing, '--species', BEAR, '--json', status=1)
    assert result.out == '' and BEAR in result.err, result
    got = program.json('richness', nothing)
    equal((got['stations'], got['observed'], got['curve'], got['nights'], got['hill'], got['chao2']), (0, 0, [], 0, [None] * 3, None))
    assert got['reason'], 'and it is said why'

    one = make(program, folder, [('S1', day(0), day(20))], [(0, day(3, '08:00'), '', BEAR)])
    got = occupancy(program, one, '--occasion-days', 5)
    equal((got['sites'], got['sites_detected'], got['naive'], got['psi'], got['p_ci95']), (1, 1, 1, None, [None, None]))
    assert 'at least 5' in got['reason'], got['reason']
    got = program.json('richness', one)
    equal((got['stations'], got['observed'], got['curve'], got['boot']), (1, 1, [{'n': 1, 'mean': 1, 'sd': 0}], None))
    for command in (('occupancy', '--species', BEAR), ('richness',)):
        for project in (nothing, one)[command[0] == 'occupancy':]:
            text = program.run(command[0], project, *command[1:])
            assert 'nan' not in text.out.lower() and text.err == '', text


def odd_names(program, folder):
    odd, places = 'Na\u0301mëe <b>&"\' %s %n \u202e; DROP \U0001F43B, x', ['%s%n', "S'1 <&>"] + ['S%d' % n for n in range(3, 9)]
    project = make(program, folder, [(place, day(0), day(20)) for place in places],
                   [(n, day(3 * at + 1, '08:00'), '', odd) for n in range(4) for at in range(n + 1)], stations=places)
    got = program.json('occupancy', project, '--species', odd, '--occasion-days', 2)
    equal((got['species'], got['sites'], got['sites_detected']), (odd, 8, 4))
    equal({row['station'] for row in got['histories']}, set(places))
    text = program.run('occupancy', project, '--species', odd, '--occasion-days', 2).out
    assert text.startswith('Common Na\u0301mëe') and '%s%n' in text, text
    equal(program.json('richness', project, '--station', places[0], '--station', places[1])['stations'], 2)
    for words in (('--species', odd[:-1]), ('--species', ''), ('--species', odd, '--station', '%d')):
        result = program.run('occupancy', project, *words, status=1)
        assert result.out == '' and result.err.strip() != '', words


if __name__ == '__main__':
    sys.exit(run_cases([('published estimates', published), ('psi at one', boundary), ('occasions by hand', by_hand),
                        ('what does not matter', no_matter), ('too little', too_little), ('readable', readable),
                        ('richness published', richness_published), ('richness over subsets', richness_by_subsets),
                        ('richness of too little', richness_too_little), ('odd options', odd_options),
                        ('hardly anything on record', hardly_anything), ('odd names', odd_names), ('the contract', contract)]))
