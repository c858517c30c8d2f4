"""Effort and rates against numbers worked out from the same tables by reckon.py, by hand, and published."""

import datetime
import os
import random
import sys

import samples
from reckon import Reckoning, garwood
from terminal import close, equal, query, run_cases

SPECIES = ('Sus barbatus', 'Muntiacus muntjak', 'Hystrix brachyura', 'Rusa unicolor', 'Neofelis diardi')
HOUR, DAY = 3600, 86400
EPOCH = 1704067200  # 2024-01-01T00:00Z


def utc(seconds):
    return datetime.datetime.fromtimestamp(seconds, datetime.timezone.utc).strftime('%Y-%m-%dT%H:%M:%SZ')


def invent_deployments(chance):
    rows, number = [], 0
    for station in range(1, 7):
        start = EPOCH + chance.randrange(0, 40 * DAY)
        for _ in range(1 + (station % 3 == 0)):
            number += 1
            end = start + chance.randrange(60 * DAY, 150 * DAY)
            rows.append(('D%d' % number, 'S%d' % station, start, end))
            start = end + chance.randrange(0, 20 * DAY)
    return rows


def invent_visits(chance, deployments):
    rows = []
    for deployment, station, start, end in deployments:
        at = start
        while at < end:
            at += chance.randrange(10 * DAY, 40 * DAY)
            found = chance.choice(('working', 'working', '', 'dead', 'card-full', 'gone', 'disturbed'))
            rows.append(['V%d' % len(rows), station, utc(at), found])
    return rows


def invent_observations(chance, deployments):
    """Bursts of records, so that gaps about the interval are common, exact ones among them; the order is shuffled."""
    rows = []
    for deployment, station, start, end in deployments:
        for _ in range(60):
            at = chance.randrange(start, end)
            name = chance.choice(SPECIES)
            for _ in range(chance.randrange(1, 5)):
                length = chance.choice((0, 0, 5, 300, 4000))
                kind = chance.choice(('animal',) * 8 + ('blank', 'human'))
                rows.append([deployment, utc(at), utc(at + length) if length else '', kind, name if kind == 'animal' else '',
                             chance.choice(('', '1', '2', '5'))])
                at += chance.choice((60, 900, 1800, 1800, 1801, 1799, 3600, 7200))
    chance.shuffle(rows)
    return [['O%d' % number] + row for number, row in enumerate(rows)]


def make_ground(program, folder, zone):
    chance = random.Random(20240229)
    deployments = invent_deployments(chance)
    tables = {
        'stations': ('station,name', [['S%d' % number, 'Place %d' % number] for number in range(1, 7)]),
        'species': ('scientific_name,common_en', [[name, 'Common ' + name.split()[0]] for name in SPECIES]),
        'deployments': ('deployment,station,start,end', [[code, station, utc(start), utc(end)] for code, station, start, end in deployments]),
        'visits': ('visit,station,at,found', invent_visits(chance, deployments)),
        'frames': ('frame,deployment,file,camera_time', [
            ['F%d' % number, deployment, 'pictures/%d.jpg' % number, utc(chance.randrange(start, end))]
            for number, (deployment, _, start, end) in enumerate(deployments)]),
        'observations': ('observation,deployment,start,end,type,scientific_name,count', invent_observations(chance, deployments)),
    }
    paths = samples.write_tables(os.path.join(folder, 'tables'), tables)
    project = program.new(os.path.join(folder, 'project.gpkg'), zone)
    program.run('import', project, *paths.values())
    return project, Reckoning(os.path.join(folder, 'tables'), zone)


def compare_rates(document, wanted, what):
    equal({row['species'] for row in document}, set(wanted), what + ': species')
    for row in document:
        want = wanted[row['species']]
        where = '%s: %s' % (what, row['species'])
        equal((row['detections'], row['individuals'], row['stations']), want[:3], where)
        if want[4] is None:
            equal((row['nights'], row['per_100'], row['ci95']), (0, None, [None, None]), where)
            continue
        close(row['nights'], want[3], 1e-12, where + ': nights')
        close(row['per_100'], want[4], 1e-12, where + ': rate')
        # the limits here are found by bisection, to about 1e-12; 1e-9 leaves room for that only
        close(row['ci95'][0], want[5], 1e-9, where + ': lower')
        close(row['ci95'][1], want[6], 1e-9, where + ': upper')


FILTERS = (
    # options, the same for the reckoning
    ('', {}),
    ('--independence 0', {'minutes': 0}),
    ('--independence 60', {'minutes': 60}),
    ('--gap-from first', {'gap_from': 'first'}),
    ('--gap-from last --independence 30', {'gap_from': 'last'}),
    ('--gap-from first --independence 120', {'gap_from': 'first', 'minutes': 120}),
    ('--station S3', {'stations': ['S3']}),
    ('--station S3 --station S5', {'stations': ['S3', 'S5']}),
    ('--species Rusa_unicolor', {'species': ['Rusa unicolor']}),
    ('--species common_rusa', {'species': ['Rusa unicolor']}),
    ('--species Common_Sus --species Neofelis_diardi', {'species': ['Sus barbatus', 'Neofelis diardi']}),
    ('--from 2024-02-10', {'begin': '2024-02-10T00:00'}),
    ('--to 2024-04-01T06:30', {'end': '2024-04-01T06:30'}),
    ('--from 2024-03-25 --to 2024-04-05', {'begin': '2024-03-25T00:00', 'end': '2024-04-05T00:00'}),
    ('--from 2030-01-01 --species Rusa_unicolor', {'begin': '2030-01-01T00:00', 'species': ['Rusa unicolor']}),
    ('--hours 06:00-18:00', {'hours': '06:00-18:00'}),
    ('--hours 18:00-06:00', {'hours': '18:00-06:00'}),
    ('--hours 23:30-00:30', {'hours': '23:30-00:30'}),
    ('--hours 22:00-24:00', {'hours': '22:00-24:00'}),
    ('--hours 20:15-05:45 --station S6 --from 2024-02-01 --gap-from first',
     {'hours': '20:15-05:45', 'stations': ['S6'], 'begin': '2024-02-01T00:00', 'gap_from': 'first'}),
)


def reckon_period(reckoning, arguments):
    return {key: reckoning.at(value) if key in ('begin', 'end') else value for key, value in arguments.items()}


def all_filters(zone):
    def case(program, folder):
        project, reckoning = make_ground(program, folder, zone)
        for options, arguments in FILTERS:
            words = [word.replace('_', ' ') for word in options.split()]
            wanted = reckoning.rates(**reckon_period(reckoning, arguments))
            compare_rates(program.json('rates', project, *words)['species'], wanted, options)
            assert options == '' or wanted != reckoning.rates() or options.startswith('--gap-from last'), options + ' makes no difference'
    return case


def by_station(program, folder):
    project, reckoning = make_ground(program, folder, 'Asia/Kuching')
    groups = {group['group']: group['species'] for group in program.json('rates', project, '--by', 'station')['groups']}

    equal(sorted(groups), ['S%d' % number for number in range(1, 7)], 'groups')
    for station, rows in groups.items():
        compare_rates(rows, reckoning.rates(stations=[station]), station)


def months_of(reckoning, groups):
    for group in groups:
        year, month = map(int, group['group'].split('-'))
        after = '%04d-%02d-01T00:00' % (year + month // 12, month % 12 + 1)
        yield group, (reckoning.at(group['group'] + '-01T00:00'), reckoning.at(after))


def by_month(zone):
    """Months begin at local midnight, also where daylight saving begins within one. A detection counts in the month it starts in."""
    def case(program, folder):
        project, reckoning = make_ground(program, folder, zone)
        for options, arguments in FILTERS:
            words = [word.replace('_', ' ') for word in options.split()]
            period = reckon_period(reckoning, arguments)
            groups = program.json('rates', project, '--by', 'month', *words)['groups']
            for group, within in months_of(reckoning, groups):
                compare_rates(group['species'], reckoning.rates(within=within, **period), options + ' ' + group['group'])
            if options == '':
                assert len(groups) >= 6, 'too few months to say anything'
    return case


def groups_add_up(zone):
    """Months, and stations, sum to the whole."""
    def case(program, folder):
        project, _ = make_ground(program, folder, zone)
        for options, _ in FILTERS:
            words = [word.replace('_', ' ') for word in options.split()]
            whole = {row['species']: row for row in program.json('rates', project, *words)['species']}
            for by in ('month', 'station'):
                sums, nights = {}, 0
                groups = program.json('rates', project, '--by', by, *words)['groups']
                for group in groups:
                    nights += group['species'][0]['nights'] if group['species'] else 0
                    for row in group['species']:
                        have = sums.setdefault(row['species'], [0, 0, 0])
                        for index, key in enumerate(('detections', 'individuals', 'stations')):
                            have[index] += row[key]
                equal(set(sums) - set(whole), set(), options + ' ' + by)
                for name, row in whole.items():
                    have = sums.get(name, [0, 0, 0])
                    equal(have[:2], [row['detections'], row['individuals']], '%s by %s: %s' % (options, by, name))
                    # a station may see a species in several months
                    assert have[2] == row['stations'] if by == 'station' else have[2] >= row['stations'], (options, by, name)
                if '--species' in options and groups:
                    close(nights, list(whole.values())[0]['nights'], 1e-12, '%s by %s: nights' % (options, by))
    return case


def unlike_records(program, folder):
    """One record goes over the end of a month: one detection, in the first"""
    project = make_one(program, folder, '2024-03-10T00:00', '2024-05-01T00:00',
                       [('2024-03-31T23:50', 'animal'), ('2024-04-01T00:10', 'animal'), ('2024-04-01T00:39', 'animal')])
    groups = program.json('rates', project, '--by', 'month', '--species', 'Sus barbatus')['groups']
    equal([(group['group'], group['species'][0]['detections'], group['species'][0]['nights']) for group in groups],
          [('2024-03', 1, 22), ('2024-04', 0, 30)], 'over the end of a month')
    equal([group['group'] for group in program.json('rates', project, '--by', 'month', '--from', '2024-04-02', '--to', '2024-04-20')['groups']],
          ['2024-04'], 'months of a period')


def effort_agrees(zone):
    def case(program, folder):
        project, reckoning = make_ground(program, folder, zone)
        for options, arguments in (('', {}), ('--from 2024-02-10 --to 2024-04-15',
                                              {'begin': '2024-02-10T00:00', 'end': '2024-04-15T00:00'}),
                                   ('--station S2', {'stations': ['S2']})):
            period = reckon_period(reckoning, arguments)
            document = program.json('effort', project, *options.split())
            worked = reckoning.worked(**period)
            close(document['trap_nights'], reckoning.nights(**period), 1e-12, options)
            equal({row['deployment'] for row in document['deployments']}, set(worked), options)
            for row in document['deployments']:
                want = sum(to - since for since, to in worked[row['deployment']]) / DAY
                assert abs(row['nights'] - want) < 1e-9, (row, want)
    return case


def gaps_agree(program, folder):
    project, reckoning = make_ground(program, folder, 'Asia/Kuching')
    gaps = 0
    for row in program.json('effort', project)['deployments']:
        source = next(one for one in reckoning.deployments if one['deployment'] == row['deployment'])
        got = [(reckoning.at(gap['from']), reckoning.at(gap['to']), gap['why']) for gap in row['gaps']]
        equal(got, reckoning.outages(source), row['deployment'])
        assert all(gap['from'].endswith('+08:00') for gap in row['gaps'])
        gaps += len(got)
    assert gaps > 5, 'too few gaps to say anything'


# Worked out by hand; elapsed time in days of 24 h. Zone UTC.
EFFORT = (
    # start, end, found (at, what), last sign, nights
    ('2024-03-01T10:00', '2024-03-31T10:00', None, None, 30.0),
    ('2024-03-01T10:00', '2024-03-31T16:00', ('2024-03-08T09:00', 'dead'), '2024-03-05T12:00', 27.375),
    ('2024-02-28T18:30', '2024-03-01T06:00', None, None, 1.479166667),  # over the leap day
    ('2024-06-01T08:00', '2024-06-01T20:00', None, None, 0.5),
    # found full with no sign at all: nothing counts before the visit
    ('2024-03-01T00:00', '2024-03-11T00:00', ('2024-03-05T00:00', 'card-full'), None, 6.0),
    # disturbed is not out of order
    ('2024-03-01T00:00', '2024-03-11T00:00', ('2024-03-05T00:00', 'disturbed'), None, 10.0),
    # a visit after the end says nothing of this deployment
    ('2024-03-01T00:00', '2024-03-11T00:00', ('2024-03-12T00:00', 'dead'), None, 10.0),
)


def make_one(program, folder, start, end, observations, visit=None, zone='UTC'):
    project = program.new(os.path.join(folder, 'one-%d.gpkg' % len(os.listdir(folder))), zone)
    tables = {
        'stations': ('station,name', [['S1', 'One']]),
        'species': ('scientific_name', [['Sus barbatus']]),
        'deployments': ('deployment,station,start,end', [['D1', 'S1', start, end]]),
        'visits': ('visit,station,at,found', [['V1', 'S1', *visit]] if visit else []),
        'observations': ('observation,deployment,start,type,scientific_name',
                         [['O%d' % number, 'D1', at, kind, 'Sus barbatus' if kind == 'animal' else '']
                          for number, (at, kind) in enumerate(observations)]),
    }
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'one'), tables).values())
    return project


def effort_by_hand(program, folder):
    for start, end, visit, sign, nights in EFFORT:
        project = make_one(program, folder, start, end, [(sign, 'blank')] if sign else [], visit)
        close(program.json('effort', project)['trap_nights'], nights, 1e-9, '%s to %s' % (start, end))


def half_hour_rule(program, folder):
    """The hand example for the half-hour rule; the convention is that of O'Brien, Kinnaird & Wibisono 2003, Anim. Conserv.
    6:131-139 (from memory). A gap of exactly 30:00 separates."""
    times = ('06:00:00', '06:20:00', '06:40:00', '07:00:00', '07:30:00', '07:59:59', '08:29:59')
    project = make_one(program, folder, '2024-03-01T00:00', '2024-03-31T00:00', [('2024-03-09T' + at, 'animal') for at in times])

    for options, wanted in ((('--gap-from', 'last'), 3), (('--gap-from', 'first'), 4), (('--independence', '0'), 7),
                            (('--independence', '31'), 1), ((), 3)):
        equal(program.json('rates', project, *options)['species'][0]['detections'], wanted, ' '.join(options))


# Garwood 1936, Biometrika 28:437-442; values from R's poisson.test (n, t), level 0.95, per 100 nights.
GARWOOD = (
    # n, trap nights, rate, lower, upper
    (1, 100, 1, 0.025317808, 5.5716434),
    (2, 350, 0.57142857, 0.069202651, 2.0641965),
    (5, 1240, 0.40322581, 0.13092632, 0.94099452),
    (10, 612.5, 1.6326531, 0.7829206, 3.0025071),
    (100, 8035, 1.2445551, 1.0126197, 1.5137124),
    (0, 100, 0, 0, 3.6888795),
)


def published_limits(program, folder):
    for n, nights, rate, lower, upper in GARWOOD:
        start = EPOCH - round(nights * DAY)  # what lies ahead would not count
        times = [utc(start + HOUR * (1 + 2 * number)) for number in range(n)]
        project = make_one(program, folder, utc(start), utc(EPOCH), [(at, 'animal') for at in times])
        row = program.json('rates', project, '--species', 'Sus barbatus')['species'][0]
        own = [100 * limit / nights for limit in garwood(n)]

        equal((row['detections'], row['nights']), (n, nights), 'n and nights')
        for got, wanted, what in ((row['per_100'], rate, 'rate'), (row['ci95'][0], lower, 'lower'), (row['ci95'][1], upper, 'upper'),
                                  (own[0], lower, 'own lower'), (own[1], upper, 'own upper')):
            close(got, wanted, 1e-7, 'n = %d, %s' % (n, what))  # printed with eight digits


def open_deployment(program, folder):
    """A deployment without an end runs on; with a period it is cut there."""
    project = make_one(program, folder, '2024-03-01T00:00', '', [('2024-03-09T06:00', 'animal')])
    document = program.json('effort', project, '--to', '2024-03-11')
    close(document['trap_nights'], 10.0, 1e-12, 'nights')


def views_agree(program, folder):
    """The detections any GIS reads from the file are those of the command."""
    project, reckoning = make_ground(program, folder, 'Asia/Kuching')
    rows = dict(query(project, 'SELECT scientific_name, count(*) FROM detections GROUP BY 1'))
    equal(rows, {name: rate[0] for name, rate in reckoning.rates().items()}, 'view')


def odd_options(program, folder):
    """Refused as a command line, in words, with nothing on standard output; the limits themselves are taken."""
    project, reckoning = make_ground(program, folder, 'Asia/Kuching')
    refused = [('--by', word) for word in ('', ' ', 'Month', 'month ', 'mon', 'year', 'species', 'kind', 'station\n', '%s%n', 'månad')]
    refused += [('--independence', word) for word in ('', '-1', 'nan', 'inf', '-inf', '1000001', '1e300', '30 min', '1,5', '٣', '9' * 5000)]
    refused += [('--gap-from', word) for word in ('', 'First', 'end')]
    refused += [('--hours', word) for word in ('', '6-18', '06:00', '24:00-06:00', '06:60-07:00', '06:00-24:01', '-1:00-05:00', 'night')]
    refused += [('--from', word) for word in ('', 'nan', '2024', '2024-02-30', '99999-01-01', '2024-02-01T00:00:00+99:00')]
    refused += [(*by, '--from', '2024-04-01', '--to', '2024-03-01') for by in ((), ('--by', 'month'), ('--by', 'station'), ('--blanks',))]
    for words in refused:
        result = program.run('rates', project, *words, '--json', status=2)
        assert result.out == '' and result.err.strip() != '' and 'CRITICAL' not in result.err, words

    compare_rates(program.json('rates', project, '--independence', '1e6')['species'], reckoning.rates(minutes=1e6), 'a million minutes')
    compare_rates(program.json('rates', project, '--from', '0001-01-01', '--to', '9999-12-31')['species'], reckoning.rates(), 'all times')
    equal(program.json('rates', project, '--from', '2024-04-01', '--to', '2024-04-01'), {'species': []}, 'an empty period')
    for by in ('month', 'station'):
        groups = program.json('rates', project, '--by', by, '--from', '2024-04-01', '--to', '2024-04-01')['groups']
        equal([row for group in groups for row in group['species']], [], 'an empty period by ' + by)


def hardly_anything(program, folder):
    nothing = program.new(os.path.join(folder, 'nothing.gpkg'))
    equal(program.json('rates', nothing), {'species': []}, 'an empty project')
    for by in ('month', 'station'):
        equal(program.json('rates', nothing, '--by', by)['groups'], [], 'an empty project by ' + by)
    never = make_one(program, folder, '2024-03-01T00:00', '2024-03-11T00:00', [])
    row = program.json('rates', never, '--species', 'Sus barbatus')['species'][0]
    equal((row['detections'], row['per_100'], row['nights'], row['ci95'][0]), (0, 0, 10, 0), 'never seen')
    unwatched = program.json('rates', never, '--species', 'Sus barbatus', '--to', '2024-01-01')['species'][0]
    equal((unwatched['nights'], unwatched['per_100'], unwatched['ci95']), (0, None, [None, None]), 'never watched')
    for project in (nothing, never):
        for options in ((), ('--by', 'month'), ('--by', 'station'), ('--blanks',)):
            text = program.run('rates', project, *options)
            assert 'nan' not in text.out.lower() and text.err == '', text


def main():
    zones = ('Asia/Kuching', 'Europe/Bucharest')
    cases = [('rates with filters, %s' % zone, all_filters(zone)) for zone in zones]
    cases += [('rates by month, %s' % zone, by_month(zone)) for zone in zones]
    cases += [('effort, %s' % zone, effort_agrees(zone)) for zone in zones]
    cases += [('groups add up, %s' % zone, groups_add_up(zone)) for zone in zones]
    cases += [('a record over the end of a month', unlike_records)]
    cases += [('rates by station', by_station), ('gaps', gaps_agree), ('effort by hand', effort_by_hand),
              ('the half-hour rule', half_hour_rule), ('published limits', published_limits),
              ('a deployment that runs on', open_deployment), ('the view of detections', views_agree),
              ('odd options', odd_options), ('hardly anything on record', hardly_anything)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
