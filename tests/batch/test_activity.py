"""When in the day, and how much two days overlap: against sums over the records, and what must not matter."""

import cmath
import datetime
import math
import os
import random
import sys

import samples
from terminal import close, equal, run_cases

ZONE_HOURS = 8  # Asia/Kuching, all year
EPOCH = datetime.datetime(2024, 1, 1, tzinfo=datetime.timezone.utc)
TURN = 2 * math.pi
BEAR, DEER, CAT, CIVET = 'Helarctos malayanus', 'Rusa unicolor', 'Pardofelis marmorata', 'Viverra tangalunga'


def stamp(days, hour):
    """A time by the clock of the project, to the second."""
    return (EPOCH + datetime.timedelta(days=days, seconds=round((hour - ZONE_HOURS) * 3600))).strftime('%Y-%m-%dT%H:%M:%SZ')


def invent(chance):
    """{species: hours}; two days from one to the next, so that every record counts."""
    return {
        BEAR: [chance.gauss(6.5, 1.2) % 24 for _ in range(30)] + [chance.gauss(18, 1.5) % 24 for _ in range(40)],
        DEER: [chance.vonmisesvariate(0.3, 2) * 24 / TURN % 24 for _ in range(55)],
        CAT: [chance.random() * 24 for _ in range(14)],
        CIVET: [23.6 + chance.random() * 0.8 - (24 if chance.random() < 0.5 else 0) for _ in range(20)],
    }


def make_ground(program, folder, order=None):
    hours = {name: [round(hour % 24 * 3600) / 3600 % 24 for hour in values] for name, values in invent(random.Random(7)).items()}
    rows = []
    for number, (name, values) in enumerate(hours.items()):
        rows += [['O%d-%d' % (number, day), 'D1' if number % 2 == 0 else 'D2', stamp(2 * day + 1, hour), 'animal', name]
                 for day, hour in enumerate(values)]
    if order is not None:
        order.shuffle(rows)
    tables = {
        'stations': ('station,latitude,longitude', [['S1', '2.5', '113.0'], ['S2', '2.6', '113.1']]),
        'species': ('scientific_name,common_en', [[BEAR, 'Sun bear'], [DEER, 'Sambar'], [CAT, 'Marbled cat'], [CIVET, 'Civet']]),
        'deployments': ('deployment,station,start,end', [['D1', 'S1', '2024-01-01T00:00:00Z', '2024-06-01T00:00:00Z'],
                                                         ['D2', 'S2', '2024-01-01T00:00:00Z', '2024-06-01T00:00:00Z']]),
        'observations': ('observation,deployment,start,type,scientific_name', rows),
    }
    paths = samples.write_tables(os.path.join(folder, 'tables'), tables)
    project = program.new(os.path.join(folder, 'project.gpkg'))
    program.run('import', project, *paths.values())
    return project, hours


def bessel_0(x):
    """exp (-x) I_0 (x), by the mean over a turn."""
    return sum(math.exp(x * (math.cos(TURN * i / 512) - 1)) for i in range(512)) / 512


def density(hours, kappa, at):
    top = 1 / (24 * bessel_0(kappa) * len(hours))
    return top * sum(math.exp(kappa * (math.cos(TURN / 24 * (at - hour)) - 1)) for hour in hours)


def test_curve(program, folder):
    project, hours = make_ground(program, folder)
    got = program.json('activity', project, '--species', 'Sun bear', '--points', '96')
    wanted = hours[BEAR]
    mean = sum(cmath.exp(1j * TURN / 24 * hour) for hour in wanted) / len(wanted)
    equal(got['n'], len(wanted), 'n')
    close(got['r'], abs(mean), 1e-9, 'r')
    close(got['mean_hour'], cmath.phase(mean) % TURN * 24 / TURN, 1e-9, 'mean hour')
    length = len(wanted) * abs(mean)
    zar = math.exp(math.sqrt(1 + 4 * len(wanted) + 4 * (len(wanted) ** 2 - length ** 2)) - (1 + 2 * len(wanted)))
    close(got['rayleigh_p'], zar, 1e-6, 'Zar’s p')
    equal(got['hours'], [i / 4 for i in range(96)], 'hours')
    for hour, value, low, high in zip(got['hours'], got['density'], got['band_low'], got['band_high']):
        assert abs(value - density(wanted, got['kappa'], hour)) < 1e-11, 'density at %g' % hour
        assert 0 <= low < high, (hour, low, high)
    close(sum(got['density']) * 24 / 96, 1, 1e-9, 'the whole')
    inside = sum(low <= value <= high for value, low, high in zip(got['density'], got['band_low'], got['band_high']))
    assert inside > 90, 'the curve lies in its band at %d of 96 hours only' % inside
    equal((got['band'], got['boot'], got['clock'], got['seed'], got['why']), ('resampled', 1000, 'local', 1, None))
    equal(sum(got['by_hour']), len(wanted), 'by hour')
    equal(got['by_hour'][6], sum(6 <= hour < 7 for hour in wanted), 'at six')
    close(got['activity_level'], 1 / (24 * density(wanted, got['kappa'], got['peak_hour'])), 1e-6, 'level')
    close(sum(got['shares'].values()), 1, 1e-12, 'shares')
    equal(got['n_light'], len(wanted), 'light known')


def test_keys(program, folder):
    """What the contract names is there, whatever could be said."""
    project, _ = make_ground(program, folder)
    for species in ('Sun bear', 'Marbled cat', 'Civet'):
        got = program.json('activity', project, '--species', species)
        missing = {'n', 'kappa', 'mean_hour', 'r', 'rayleigh_p', 'hours', 'density', 'band_low', 'band_high', 'shares'} - set(got)
        equal(missing, set(), species)
        equal(set(got['shares']), {'day', 'twilight', 'night'}, species)
    for other in ('Sambar', 'Marbled cat'):
        got = program.json('overlap', project, '--species', 'Sun bear', '--species', other)
        equal({'n', 'estimator', 'value', 'ci95', 'watson_u2', 'watson_p', 'mean_hours'} - set(got), set(), other)
        equal(len(got['n']), 2, other)


def test_sun(program, folder):
    """At 2.5 north the sun rises there within a quarter of an hour of 06:30 and sets about 18:30: half an hour later than by
    its own clock. Common knowledge of the almanac, to the half hour."""
    project, hours = make_ground(program, folder)
    local = program.json('activity', project, '--species', 'Sambar')
    sun = program.json('activity', project, '--species', 'Sambar', '--clock', 'sun')
    shift = (local['mean_hour'] - sun['mean_hour'] + 12) % 24 - 12
    assert 0.2 < shift < 0.9, shift
    equal((sun['n'], sun['n_without'], sun['clock']), (len(hours[DEER]), 0, 'sun'))
    equal(sun['shares'], local['shares'], 'the light is the same by any clock')


def test_overlap(program, folder):
    project, hours = make_ground(program, folder)
    for names, estimator in (((BEAR, DEER), 'd4'), ((DEER, CIVET), None)):
        got = program.json('overlap', project, '--species', names[0], '--species', names[1], '--boot', '200')
        a, b = hours[names[0]], hours[names[1]]
        equal(got['n'], [len(a), len(b)], 'n')
        if estimator is None:
            equal(got['value'], None, 'no curve of a civet')
            continue
        f = [lambda at, h=h, k=k: density(h, k, at) for h, k in zip((a, b), got['kappa'])]
        wanted = (sum(min(1, f[1](x) / f[0](x)) for x in a) / len(a) + sum(min(1, f[0](y) / f[1](y)) for y in b) / len(b)) / 2
        equal(got['estimator'], estimator)
        close(got['value'], wanted, 1e-5, 'Delta 4')
        assert got['ci95'][0] < got['value'] < got['ci95'][1], got
        pool, total = sorted(a + b), len(a) + len(b)
        gaps = [sum(x <= hour for x in a) / len(a) - sum(y <= hour for y in b) / len(b) for hour in pool]
        u2 = len(a) * len(b) / total ** 2 * (sum(d * d for d in gaps) - sum(gaps) ** 2 / total)
        close(got['watson_u2'], u2, 1e-9, 'U2')
        close(got['watson_p'], 2 * sum((-1) ** (m - 1) * math.exp(-2 * (m * math.pi) ** 2 * u2) for m in range(1, 50)), 1e-6, 'p')
    swapped = program.json('overlap', project, '--species', DEER, '--species', BEAR, '--boot', '0')
    straight = program.json('overlap', project, '--species', BEAR, '--species', DEER, '--boot', '0')
    equal((swapped['n'], swapped['mean_hours']), (straight['n'][::-1], straight['mean_hours'][::-1]), 'the order said')
    close(swapped['value'], straight['value'], 1e-9, 'either way round')
    equal((straight['interval'], straight['boot']), ('standard-error', 0))


def test_periods(program, folder):
    project, hours = make_ground(program, folder)
    cut = ('--from', '2024-01-01', '--to', '2024-03-01', '--against-from', '2024-03-01', '--against-to', '2024-06-01')
    got = program.json('overlap', project, '--species', 'Sun bear', *cut)
    equal(sum(got['n']), len(hours[BEAR]), 'both')
    assert got['watson_p'] < 0.001 and got['value'] < 0.5, 'mornings first, then evenings: %r' % got
    assert got['labels'][0] != got['labels'][1], got['labels']
    got = program.json('overlap', project, '--species', 'Sun bear', '--against-from', '2024-03-01')
    equal((got['watson_p'], got['ci95']), (None, [None, None]), 'records in both')
    assert 'in both' in got['why'], got['why']


def test_too_few(program, folder):
    project, hours = make_ground(program, folder)
    for species, reason in (('Marbled cat', 'at least 15 detections'), ('Civet', 'more than an hour apart')):
        got = program.json('activity', project, '--species', species)
        equal([got[key] for key in ('kappa', 'density', 'band_low', 'band_high', 'activity_level', 'band')], [None] * 6, species)
        equal(got['hours'], [], species)
        assert reason in got['why'], got['why']
        assert reason in program.run('activity', project, '--species', species).out, species
    assert got['mean_hour'] is not None, 'what can be said is'
    nobody = program.json('activity', project, '--species', 'Sun bear', '--to', '2024-01-01')
    equal((nobody['n'], nobody['r'], nobody['mean_hour'], nobody['shares']['day']), (0, None, None, None), 'nothing')


def test_boot(program, folder):
    project, _ = make_ground(program, folder)
    run = lambda *words: program.json('activity', project, '--species', 'Sun bear', '--points', '24', *words)
    none, few, again, other = run('--boot', '0'), run('--boot', '50'), run('--boot', '50'), run('--boot', '50', '--seed', '2')
    equal((none['boot'], none['band'], few['boot']), (0, 'standard-error', 50))
    equal(few, again, 'the same seed')
    equal(few['density'], other['density'], 'the curve is no matter of chance')
    assert few['band_low'] != other['band_low'], 'another seed'
    assert all(0 <= low < high for low, high in zip(none['band_low'], none['band_high']))


def test_same_everywhere(program, folder):
    """Neither the machine's zone nor its language nor the order of the records changes a digit."""
    project, _ = make_ground(program, folder)
    shuffled, _ = make_ground(program, os.path.join(folder, 'shuffled'), random.Random(3))
    words = ('--species', 'Sun bear', '--species', 'Sambar', '--boot', '100', '--json')
    for command in ('activity', 'overlap'):
        wanted = program.run(command, project, *words).out
        for env in ({'TZ': 'America/New_York'}, {'TZ': 'UTC', 'LC_ALL': 'de_DE.UTF-8'}, {'LC_ALL': 'C'}):
            equal(program.run(command, project, *words, env=env).out, wanted, '%s %r' % (command, env))
        equal(program.run(command, shuffled, *words).out, wanted, command + ' shuffled')


def test_readable(program, folder):
    project, _ = make_ground(program, folder)
    text = program.run('activity', project, '--species', 'Sun bear').out
    assert text.startswith('Sun bear: 70 detections, most about '), text
    for words in ('mean hour', '06:00', '23:00', 'von Mises kernel', '1,000 resamples', 'Asia/Kuching'):
        assert words in text, words
    text = program.run('overlap', project, '--species', 'Sun bear', '--species', 'Sambar').out
    for words in ('Δ4', 'Watson', 'Their curves overlap by', '(p < 0.001)'):
        assert words in text, words


def test_refused(program, folder):
    project, _ = make_ground(program, folder)
    for words, status in (
            (('activity', project), 2),
            (('activity', project, '--species', 'Sun bear', '--points', '7'), 2),
            (('activity', project, '--species', 'Sun bear', '--boot', 'many'), 2),
            (('activity', project, '--species', 'Sun bear', '--seed', '-1'), 2),
            (('activity', project, '--species', 'Sun bear', '--clock', 'moon'), 2),
            (('activity', project, '--species', 'Unicorn'), 1),
            (('overlap', project, '--species', 'Sun bear'), 2),
            (('overlap', project), 2),
            (('overlap', project, '--species', 'Sun bear', '--species', 'Sambar', '--species', 'Civet'), 2),
            (('overlap', project, '--species', 'Sun bear', '--species', 'Sambar', '--against-from', '2024-02-01'), 2),
            (('overlap', project, '--species', 'Sun bear', '--against-from', 'soon'), 2),
            (('activity', os.path.join(folder, 'missing.gpkg'), '--species', 'Sun bear'), 3)):
        result = program.run(*words, status=status)
        assert result.out == '' and result.err.strip() != '', words


# What is no whole number, or none within the limits.
ODD_NUMBERS = ('', ' ', '-1', '1e9', '1.5', 'nan', 'inf', '-inf', '0x10', '1,000', '%s%n', '٣', '9223372036854775808', '9' * 5000)


def test_odd_options(program, folder):
    """Refused as a command line, in words, with nothing on standard output."""
    project, hours = make_ground(program, folder)
    bear, both = ('--species', BEAR), ('--species', BEAR, '--species', DEER)
    backwards = ('2024-03-01', '2024-02-01')
    refused = [(*both, option, value) for option in ('--points', '--boot', '--seed') for value in ODD_NUMBERS]
    refused += [(*both, '--points', value) for value in ('0', '7', '4097')]
    refused += [(*both, '--boot', '100001'), (*both, '--clock', ''), (*both, '--clock', 'Sun')]
    refused += [(*both, '--hours', value) for value in ('', '6', '06:00', '24:00-06:00', '06:60-07:00', '06:00-24:01', '-1:00-05:00',
                                                        '06:00-18:00-19:00', 'night')]
    refused += [(*both, '--from', backwards[0], '--to', backwards[1])]
    for words in refused:
        result = program.run('overlap', project, *words, '--json', status=2)
        assert result.out == '' and result.err.strip() != '' and 'CRITICAL' not in result.err, words
    result = program.run('overlap', project, *bear, '--against-from', backwards[0], '--against-to', backwards[1], status=2)
    assert result.out == '' and all(word in result.err for word in backwards), result.err

    for option, value in (('--points', '8'), ('--points', '4096'), ('--seed', '9223372036854775807')):
        got = program.json('activity', project, *bear, '--boot', '10', option, value)
        equal((got['n'], got['seed']), (len(hours[BEAR]), int(value) if option == '--seed' else 1), option)
        equal(len(got['density']), int(value) if option == '--points' else 288, option)
    empty = program.json('activity', project, *bear, '--from', '2024-03-01', '--to', '2024-03-01')
    equal((empty['n'], empty['density'], empty['mean_hour']), (0, None, None), 'an empty period')
    rare = program.json('activity', project, *bear, '--independence', '1000000')
    equal((rare['n'], rare['kappa']), (1, None), 'a million minutes are longer than the ground was watched')


def make_place(program, folder, latitude, longitude, name='Reindeer', code='S1', n=30, zone='Etc/UTC'):
    """@n records in June, at seven hours on; one species, one other never seen."""
    number = len(os.listdir(folder))
    rows = [['O%d' % i, 'D1', '2024-06-%02dT%02d:30:00Z' % (1 + i % 28, 7 * i % 24), 'animal', name] for i in range(n)]
    tables = {
        'stations': ('station,latitude,longitude', [[code, latitude, longitude]]),
        'species': ('scientific_name', [[name], ['Vulpes lagopus']]),
        'deployments': ('deployment,station,start,end', [['D1', code, '2024-06-01T00:00:00Z', '2024-07-01T00:00:00Z']]),
        'observations': ('observation,deployment,start,type,scientific_name', rows),
    }
    paths = samples.write_tables(os.path.join(folder, 'tables-%d' % number),
                                 {key: table for key, table in tables.items() if table[1]})
    project = program.new(os.path.join(folder, 'place-%d.gpkg' % number), zone)
    program.run('import', project, *paths.values())
    return project


def test_ends_of_the_earth(program, folder):
    """In June the sun does not set at 68 north and at the north pole, and does not rise at the south pole. Common knowledge of
    the almanac."""
    for what, latitude, longitude, light in (('no position', '', '', None), ('68 north', '68', '20', 'day'), ('north pole', '90', '0', 'day'),
                                             ('south pole', '-90', '180', 'night')):
        project = make_place(program, folder, latitude, longitude)
        sun = program.json('activity', project, '--species', 'Reindeer', '--clock', 'sun')
        equal((sun['n'], sun['n_without'], sun['density'], sun['mean_hour'], sun['r']), (0, 30, None, None, None), what)
        local = program.json('activity', project, '--species', 'Reindeer')
        equal((local['n'], local['n_without'], local['n_light']), (30, 0, 0 if light is None else 30), what)
        equal(local['shares'], {key: None if light is None else float(key == light) for key in ('day', 'twilight', 'night')}, what)
        assert local['density'] is not None, 'the clock needs no sun: ' + what
        for clock in ('local', 'sun'):
            text = program.run('activity', project, '--species', 'Reindeer', '--clock', clock)
            assert 'nan' not in text.out.lower() and text.err == '', text
            got = program.json('overlap', project, '--species', 'Reindeer', '--against-from', '2024-06-15', '--clock', clock)
            assert got['value'] is None or 0 <= got['value'] <= 1, got

    east, west = (make_place(program, folder, '-16.5', longitude, zone='Pacific/Fiji') for longitude in ('180', '-180'))
    for clock in ('local', 'sun'):  # 180 degrees east is 180 west, but for rounding
        got, other = (program.json('activity', one, '--species', 'Reindeer', '--boot', '0', '--clock', clock) for one in (east, west))
        equal((got['n'], got['shares'], got['by_hour']), (30, other['shares'], other['by_hour']), clock)
        close(got['mean_hour'], other['mean_hour'], 1e-9, clock)
        close(max(got['density']), max(other['density']), 1e-9, clock)


def test_hardly_anything(program, folder):
    """An empty project has no species to ask about; one record makes no curve, and no mean of anything but itself."""
    nothing = program.new(os.path.join(folder, 'nothing.gpkg'))
    for command in (('activity', '--species', 'Reindeer'), ('overlap', '--species', 'Reindeer', '--species', 'Vulpes lagopus')):
        result = program.run(command[0], nothing, *command[1:], '--json', status=1)
        assert result.out == '' and 'Reindeer' in result.err, result
    for n in (0, 1):
        project = make_place(program, folder, '2.5', '113', n=n)
        got = program.json('activity', project, '--species', 'Reindeer')
        equal((got['n'], got['density'], got['kappa'], got['hours']), (n, None, None, []), n)
        assert 'at least 15 detections' in got['why'], got['why']
        got = program.json('overlap', project, '--species', 'Reindeer', '--species', 'Vulpes lagopus')
        equal((got['n'], got['value'], got['ci95'], got['watson_p']), ([n, 0], None, [None, None], None), n)
        assert got['why'], 'and it is said why'


ODD_NAME = 'Na\u0301mëe <b>&"\' %s %n \u202e; DROP \U0001F43B, x'


def test_odd_names(program, folder):
    project = make_place(program, folder, '2.5', '113', name=ODD_NAME, code='%s%n')
    got = program.json('activity', project, '--species', ODD_NAME, '--station', '%s%n', '--boot', '10')
    equal((got['n'], got['label']), (30, ODD_NAME))
    assert program.run('activity', project, '--species', ODD_NAME).out.startswith(ODD_NAME + ': 30 detections'), 'as it is'
    got = program.json('overlap', project, '--species', ODD_NAME, '--species', 'Vulpes lagopus')
    equal(got['labels'], [ODD_NAME, 'Vulpes lagopus'])
    for words, status in ((('--species', '%s%n'), 1), (('--species', ''), 1), (('--species', ODD_NAME, '--station', '%d%n'), 1),
                          (('--species', os.fsdecode(b'\xff\xfe')), 2)):
        result = program.run('activity', project, *words, status=status)
        assert result.out == '' and result.err.strip() != '', words


if __name__ == '__main__':
    sys.exit(run_cases([
        ('the curve is the sum of its kernels', test_curve),
        ('keys of the contract', test_keys),
        ('hours by the sun', test_sun),
        ('overlap of two species', test_overlap),
        ('overlap of two periods', test_periods),
        ('too few records are said to be', test_too_few),
        ('resamples and seeds', test_boot),
        ('zone, language and order do not matter', test_same_everywhere),
        ('a readable answer', test_readable),
        ('a wrong command line is refused', test_refused),
        ('odd options', test_odd_options),
        ('where the sun does not rise or set', test_ends_of_the_earth),
        ('hardly anything on record', test_hardly_anything),
        ('odd names', test_odd_names),
    ]))
