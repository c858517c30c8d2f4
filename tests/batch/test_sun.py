"""Sun and moon on a date: against published times, without giving places away, and on odd dates."""

import csv
import datetime
import os
import sys

from terminal import change, close, equal, query, run_cases, write_csv

DONE, IN_PART, USAGE = 0, 1, 2

# Zones whose clocks never change, by minutes east of UTC.
FIXED_ZONES = {-300: 'Etc/GMT+5', 60: 'Etc/GMT-1', 120: 'Etc/GMT-2', 345: 'Asia/Kathmandu', 480: 'Etc/GMT-8', 720: 'Etc/GMT-12'}

KEYS = {'nautical_dawn': 'nautical', 'civil_dawn': 'civil', 'sunrise': 'sun', 'transit': None, 'sunset': 'sun', 'civil_dusk': 'civil',
        'nautical_dusk': 'nautical', 'moonrise': 'moon', 'moonset': 'moon'}
NAMES = {'sunrise': 'rise', 'sunset': 'set', 'transit': 'noon'}


def instant(text):
    return datetime.datetime.fromisoformat(text.replace('Z', '+00:00'))


def make_project(program, folder, zone, *stations):
    """Each station: code, latitude, longitude, sensitivity."""
    project = program.new(os.path.join(folder, 'project-%d.gpkg' % len(os.listdir(folder))), zone)
    if stations:
        program.run('import', project, write_csv(os.path.join(folder, 'stations.csv'),
                                                 'station,latitude,longitude,sensitivity', stations))
    return project


def read_published(name):
    """{(latitude, longitude, minutes, date): [(event, expected)]}"""
    days = {}
    with open(os.path.join(os.environ['TEST_DATA'], 'science', name), encoding='utf-8') as file:
        for row in csv.DictReader(file):
            key = (row['lat'], row['lon'], int(row['utc_offset_min']), row['local_date'])
            days.setdefault(key, []).append((row['event'], row['expected_utc']))
    return days


def check_event(got, event, expected, tolerance_s):
    value, stays = got[NAMES.get(event, event)], got[KEYS[event] + '_stays'] if KEYS[event] else None
    if expected.startswith('ALWAYS'):
        equal((value, stays), (None, expected[len('ALWAYS_'):].lower()), event)
    elif expected == 'NONE_IN_DAY':
        equal((value, stays), (None, None), event)
    else:
        apart = abs((instant(value) - instant(expected)).total_seconds())
        assert stays is None and apart <= tolerance_s, '%s: %s, wanted %s' % (event, value, expected)


def against_published(name, tolerance_s, polar_tolerance_s):
    def case(program, folder):
        """By astropy 5.2.1, checked against ephem 4.1.4; see tests/data/science/README.md."""
        days, projects = read_published(name), {}
        assert len(days) >= 19
        for (latitude, longitude, minutes, date), events in days.items():
            place = (latitude, longitude, minutes)
            if place not in projects:
                projects[place] = make_project(program, folder, FIXED_ZONES[minutes], ['S1', latitude, longitude, ''])
            for options, extra in (('--exact',), 0), ((), 25):
                got = program.json('sun', projects[place], date, '--station', 'S1', *options)
                for event, expected in events:
                    # half a tenth of a degree of longitude is 12 s, of latitude about as much here
                    if extra == 0 or expected[0].isdigit():
                        check_event(got, event, expected,
                                    extra + (tolerance_s if abs(float(latitude)) < 60 else polar_tolerance_s))
    return case


def phases(program, folder):
    """astropy 5.2.1; ephem 4.1.4 within 11 s."""
    project = make_project(program, folder, 'UTC', ['S1', '10', '10', ''])
    expected = {'2026-01-01': ('2026-01-18T19:51:55Z', '2026-01-26T04:47:16Z', '2026-01-03T10:02:59Z', '2026-01-10T15:48:25Z'),
                '2022-05-10': ('2022-05-30T11:30:15Z', '2022-06-07T14:48:29Z', '2022-05-16T04:14:14Z', '2022-05-22T18:42:59Z')}
    for date, times in expected.items():
        got = program.json('sun', project, date)
        for key, time in zip(('next_new', 'next_first_quarter', 'next_full', 'next_last_quarter'), times):
            assert abs((instant(got[key]) - instant(time)).total_seconds()) <= 120, (key, got[key], time)


def faces(program, folder):
    """The dates of the phases above, and dates between them."""
    project = make_project(program, folder, 'UTC', ['S1', '10', '10', ''])
    for date, face, low, high in (('2026-01-03', 'full', 0.99, 1), ('2026-01-05', 'waning-gibbous', 0.8, 0.98),
                                  ('2026-01-10', 'last-quarter', 0.4, 0.6), ('2026-01-14', 'waning-crescent', 0.05, 0.3),
                                  ('2026-01-18', 'new', 0, 0.01), ('2026-01-22', 'waxing-crescent', 0.05, 0.3),
                                  ('2026-01-26', 'first-quarter', 0.4, 0.6), ('2026-01-30', 'waxing-gibbous', 0.7, 0.98)):
        got = program.json('sun', project, date)
        equal(got['moon_phase'], face, date)
        assert low <= got['moon_lit'] <= high, (date, got['moon_lit'])


def without_code(document):
    return {key: value for key, value in document.items() if key != 'station'}


def places_stay_hidden(program, folder):
    project = make_project(program, folder, 'Asia/Kuching', ['S1', '2.51234', '113.04567', ''], ['S2', '2.4871', '112.9612', ''])
    one, two = (program.json('sun', project, '2026-06-12', '--station', code) for code in ('S1', 'S2'))
    equal(without_code(one), without_code(two), 'two places in one cell')
    equal((one['station'], one['generalised'], one['cell_deg']), ('S1', True, 0.1), 'what was done')

    exact = program.json('sun', project, '2026-06-12', '--station', 'S1', '--exact')
    equal((exact['generalised'], exact['cell_deg']), (False, None), 'with leave')
    assert exact['noon'] != one['noon'], 'the exact place has its own noon'
    for options in ((), ('--json',)):
        out = program.run('sun', project, '2026-06-12', '--station', 'S1', *options).out
        assert '2.51' not in out and '113.0' not in out, out


def coarser_on_demand(program, folder):
    project = make_project(program, folder, 'Asia/Kuching', ['S1', '2.51234', '113.04567', 'extreme'], ['S2', '2.6', '113.3', 'low'])
    equal(program.json('sun', project, '2026-06-12', '--station', 'S1')['cell_deg'], 1, 'a station of extreme sensitivity')
    equal(program.json('sun', project, '2026-06-12', '--station', 'S2')['cell_deg'], 0.1, 'another one')
    equal(program.json('sun', project, '2026-06-12')['cell_deg'], 1, 'both')
    assert '1°' in program.run('sun', project, '2026-06-12').out
    change(project, "UPDATE settings SET value = '1' WHERE key = 'floor_deg'")
    equal(query(project, "SELECT value FROM settings WHERE key = 'floor_deg'"), [('1',)], 'the setting')
    equal(program.json('sun', project, '2026-06-12', '--station', 'S2')['cell_deg'], 1, "the project's floor")


def middle_of_stations(program, folder):
    """Two places either side of the antimeridian have their middle on it, not on the other side of the world."""
    project = make_project(program, folder, 'Pacific/Fiji', ['S1', '-16.8', '179.9', ''], ['S2', '-16.8', '-179.9', ''],
                           ['S3', '', '', ''], ['S4', '-16.8', '180', ''])
    both = program.json('sun', project, '2022-07-01', '--station', 'S1', '--station', 'S2', '--exact')
    on_it = program.json('sun', project, '2022-07-01', '--station', 'S4', '--exact')
    equal((both['station'], both['stations'], on_it['stations']), (None, 2, 1), 'how many')
    equal(both['noon'], on_it['noon'], 'noon')
    close(both['noon_altitude_deg'], on_it['noon_altitude_deg'], 1e-4, 'altitude')
    equal(program.json('sun', project, '2022-07-01')['stations'], 3, 'those with a position')
    out = program.run('sun', project, '2022-07-01', '--station', 'S1', '--station', 'S3').out
    assert 'the one station with a position' in out, out


def words(program, folder):
    """North Norway, as published; the moon did not rise on 1 June 2021 in Borneo."""
    project = make_project(program, folder, 'Etc/GMT-1', ['S1', '68', '15', ''])
    for date, pieces in (('2021-12-21', ('the sun does not rise', '1° below the horizon', '21 December 2021')),
                         ('2022-06-21', ('the sun does not set', 'it does not get that dark', '45° high')),
                         ('2021-09-22', ('station S1 (Etc/GMT-1)', '11:53', '18:02'))):
        out = program.run('sun', project, date, '--station', 'S1', '--exact').out
        for piece in pieces:
            assert piece in out, '%s is missing\n%s' % (piece, out)
        assert '--exact' not in out and '{' not in out, out
    project = make_project(program, folder, 'Etc/GMT-8', ['S1', '2.5', '113', ''])
    line = [line for line in program.run('sun', project, '2021-06-01').out.splitlines() if line.startswith('moonrise')]
    equal(line, ['moonrise       not on this date'], 'moonrise')


def clock_changes(program, folder):
    """Clocks went forward on 29 March and back on 25 October 2026 in Romania, by its published rules. The same instants
    must come out as in a project that keeps UTC, and lie within the local date."""
    stations = (['S1', '46.5', '25.4', ''],)
    local, plain = (make_project(program, folder, zone, *stations) for zone in ('Europe/Bucharest', 'UTC'))
    for date, morning, evening in (('2026-03-29', '+03:00', '+03:00'), ('2026-10-25', '+02:00', '+02:00'),
                                   ('2026-03-28', '+02:00', '+02:00'), ('2026-10-24', '+03:00', '+03:00')):
        got, wanted = program.json('sun', local, date), program.json('sun', plain, date)
        for key in ('nautical_dawn', 'civil_dawn', 'rise', 'noon', 'set', 'civil_dusk', 'nautical_dusk'):
            assert got[key].startswith(date), (key, got[key])
            assert abs((instant(got[key]) - instant(wanted[key])).total_seconds()) <= 1, (key, got[key], wanted[key])
        equal((got['rise'][-6:], got['set'][-6:]), (morning, evening), date)
    assert '+02:00' in program.run('sun', local, '2026-10-25').out, 'the hour that comes twice needs its offset'
    assert '+03:00' not in program.run('sun', local, '2026-10-24').out, 'an ordinary day does not'


def moon_every_date(program, folder):
    """Through two clock changes no moonrise is told twice, and each lies on its date."""
    project = make_project(program, folder, 'Europe/Bucharest', ['S1', '46.5', '25.4', ''])
    for first in (datetime.date(2026, 3, 27), datetime.date(2026, 10, 23)):
        rises = []
        for date in (str(first + datetime.timedelta(days=i)) for i in range(6)):
            rise = program.json('sun', project, date)['moonrise']
            assert rise is None or rise.startswith(date), rise
            rises += [instant(rise)] if rise else []
        gaps = [(b - a).total_seconds() / 3600 for a, b in zip(rises, rises[1:])]
        assert gaps and all(24 < gap < 26.5 for gap in gaps), gaps


def refusals(program, folder):
    project = make_project(program, folder, 'Pacific/Apia', ['S1', '-13.8', '-171.8', ''], ['S2', '', '', ''])
    empty = make_project(program, folder, 'UTC')
    for path, line, status, piece in (
            (project, 'soon', USAGE, 'soon'),
            (project, '2026-02-30', USAGE, '2026-02-30'),
            (project, '2026-06', USAGE, '2026-06'),
            (project, '2026-06-12T10:00', USAGE, '2026-06-12T10:00'),
            (project, '1899-12-31', USAGE, '1900'),
            (project, '2101-01-01', USAGE, '2100'),
            (project, '2011-12-30', USAGE, '2011-12-30'),  # Samoa moved across the date line
            (project, '2011-12-29', DONE, None),
            (project, '2011-12-31', DONE, None),
            (project, '1900-01-01', DONE, None),
            (project, '2100-12-31', DONE, None),
            (project, '', USAGE, 'sun FILE DATE'),
            (project, '2026-06-12 2026-06-13', USAGE, 'sun FILE DATE'),
            (project, '2026-06-12 --station NOSUCH', IN_PART, 'NOSUCH'),
            (project, '2026-06-12 --station S2', IN_PART, 'S2'),
            (project, '2026-06-12 --from 2026-01-01', USAGE, '--from'),
            (empty, '2026-06-12', IN_PART, 'no stations'),
            (folder + '/nosuch.gpkg', '2026-06-12', 3, 'nosuch.gpkg')):
        result = program.run('sun', path, *line.split(), status=status)
        assert piece is None or piece in result.err, '%s: %s' % (line, result)
        equal(result.out == '', status != DONE, 'standard output of ' + line)


def main():
    return run_cases([
        ('sun, published', against_published('sun_events.csv', 60, 180)),
        ('moon, published', against_published('moon_events.csv', 120, 300)),
        ('phases', phases),
        ('faces of the moon', faces),
        ('places stay hidden', places_stay_hidden),
        ('coarser on demand', coarser_on_demand),
        ('the middle of stations', middle_of_stations),
        ('words', words),
        ('clock changes', clock_changes),
        ('the moon on every date', moon_every_date),
        ('refusals', refusals),
    ])


if __name__ == '__main__':
    sys.exit(main())
