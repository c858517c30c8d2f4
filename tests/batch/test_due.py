"""The run-out forecast on the demo: what it says, and that it knows nothing of what came later."""

import os
import shutil
import sys
from math import floor

from terminal import change, equal, query, read_json, run_cases, write_csv

DEMO = {}
STATES = ('fine', 'soon', 'now', 'down', 'unknown')


def demo_of(program):
    if 'project' not in DEMO:
        DEMO['project'] = program.demo(os.path.join(program.env['TMPDIR'], 'demo'))
    return DEMO['project']


# Takes from a project all that came after a moment :t, as if it had not happened yet.
FORGET = (
    'DELETE FROM readings WHERE visit_id IN (SELECT id FROM visits WHERE at > :t)',
    'DELETE FROM visits WHERE at > :t',
    'DELETE FROM observations WHERE start_at > :t',
    'DELETE FROM frames WHERE at > :t',
    'DELETE FROM triggers WHERE start_at > :t',
    'DELETE FROM fittings WHERE from_at > :t',
    'UPDATE fittings SET to_at = NULL WHERE to_at > :t',
    'DELETE FROM deployments WHERE start_at > :t',
    'UPDATE deployments SET end_at = NULL WHERE end_at > :t',
    'UPDATE units SET retired = NULL, retire_cause = NULL WHERE retired > substr(:t, 1, 10)',
)


def ignores_later(moment):
    def case(program, folder):
        known = os.path.join(folder, 'known.gpkg')
        shutil.copy(demo_of(program), known)
        later = query(known, 'SELECT (SELECT count(*) FROM visits WHERE at > :t) + (SELECT count(*) FROM frames WHERE at > :t)', moment)[0][0]
        change(known, *((sql, {'t': moment}) for sql in FORGET))

        assert later > 50, 'too little came later to say anything'
        full = program.json('due', demo_of(program), '--on', moment, '--until', '2026-07-01')
        cut = program.json('due', known, '--on', moment, '--until', '2026-07-01')
        assert len(full['stations']) > 2, full
        for a, b in zip(full['stations'], cut['stations']):
            equal(a, b, a['station'])
        equal(full, cut, 'the whole')
    return case


def makes_sense(moment):
    def case(program, folder):
        document = program.json('due', demo_of(program), '--on', moment)
        losses = []
        for row in document['stations']:
            check_station(row)
            losses.append(row['lost_nights'])
        # by the tenths of a night that are shown; the same tenth is put by who runs out first
        tenths = [None if lost is None else floor(lost * 10 + 0.5) for lost in losses]
        assert all(a is None or b is None or a >= b for a, b in zip(tenths, tenths[1:])), 'order: %s' % losses
    return case


def check_interval(row):
    known = [row[name] for name in ('p10', 'p50', 'p90') if row[name] is not None]
    assert known == sorted(known), row
    assert all(text.endswith('+08:00') for text in known), row


def check_chance(value, row):
    assert value is None or 0 <= value <= 1, row


def check_station(row):
    assert row['state'] in STATES, row['state']
    check_chance(row['p_down'], row)
    check_chance(row['card']['p_full'], row)
    check_interval(row)
    for unit in row['units']:
        check_chance(unit['p_out'], unit)
        check_interval(unit)
        # a station is down as soon as one of its units is
        assert row['p_down'] is None or unit['p_out'] is None or row['p_down'] >= unit['p_out'] - 1e-6, (row['p_down'], unit)
    assert row['limiting'] is None or row['limiting'] == 'card' or row['limiting'] in [unit['unit'] for unit in row['units']], row
    assert row['lost_nights'] is None or row['lost_nights'] >= 0, row


def later_round_costs_more(program, folder):
    """Going later never lowers the chance of being down, nor the nights lost; by more than they are good to, which
    sci-runout.h states: 1e-7 of a chance and a thousandth of a night. Tails below 1e-8 are left off."""
    before = {}
    for until in ('2026-06-14', '2026-06-20', '2026-07-04', '2026-08-01', '2026-10-01'):
        for row in program.json('due', demo_of(program), '--until', until)['stations']:
            now = (row['p_down'], row['lost_nights'])
            if row['station'] in before:
                assert now[0] >= before[row['station']][0] - 1e-7, (row['station'], until)
                assert now[1] >= before[row['station']][1] - 1e-3, (row['station'], until)
            before[row['station']] = now
    assert len(before) > 10


def asks_at_its_own_time(program, folder):
    """Without --on the demo's clock stands still; --until is the planned round, else 28 days on."""
    document = program.json('due', demo_of(program))
    equal((document['on'], document['until']), ('2026-06-12T17:00:00+08:00', '2026-06-20T08:00:00+08:00'), 'moments')
    later = program.json('due', demo_of(program), '--on', '2026-06-25T08:00')
    equal((later['on'], later['until']), ('2026-06-25T08:00:00+08:00', '2026-07-23T08:00:00+08:00'), 'past the planned round')


def same_everywhere(program, folder):
    """Another zone or locale of the machine changes no byte of the JSON."""
    words = ('due', demo_of(program), '--on', '2026-05-01T12:00', '--json')
    plain = program.run(*words).out
    for env in ({'TZ': 'America/St_Johns'}, {'TZ': 'Pacific/Apia'}, {'LC_ALL': 'C'}, {'LC_ALL': 'POSIX', 'TZ': ':nonsense'}):
        equal(program.run(*words, env=env).out, plain, str(env))
    assert read_json(plain)['stations']


# Three rigs: one soon dry, one with nothing to tell it by, one that lasts; a place without a rig; a shelf too small.
TABLES = (
    ('station', [['DRY'], ['DARK'], ['LASTS'], ['EMPTY']]),
    ('unit,kind,chemistry,cell_size,cells_series,cells_parallel,cell_mah,sleep_ma,capacity_gb',
     [['K1', 'camera', 'alkaline', 'AA', '4', '2', '100', '10', ''], ['K2', 'camera', '', '', '', '', '', '', ''],
      ['K3', 'camera', 'alkaline', 'D', '4', '1', '12000', '0.1', ''], ['C1', 'card', '', '', '', '', '', '', '32']]),
    ('deployment,station,start', [['D1', 'DRY', '2026-01-01'], ['D2', 'DARK', '2026-01-01'], ['D3', 'LASTS', '2026-01-01']]),
    ('deployment,unit,from', [['D1', 'K1', '2026-01-01'], ['D2', 'K2', '2026-01-01'], ['D3', 'K3', '2026-01-01']]),
    ('item,what,cell_size,chemistry,pieces', [['I1', 'cells', 'AA', 'alkaline', '6'], ['I2', 'tape', '', '', '3']]),
)


def make_ground(program, folder):
    project = program.new(os.path.join(folder, 'ground.gpkg'))
    for number, (columns, rows) in enumerate(TABLES):
        program.run('import', project, write_csv(os.path.join(folder, '%d.csv' % number), columns, rows))
    return project


def says_what_to_bring(program, folder):
    """Counts by size and chemistry beside the shelf; the table says the same."""
    project = make_ground(program, folder)
    words = ('due', project, '--on', '2026-01-10', '--until', '2026-01-20')
    document = program.json(*words)
    equal(document['pack'], [{'what': 'cells', 'size': 'AA', 'chemistry': 'alkaline', 'needed': 8, 'on_shelf': 6}], 'pack')
    equal(document['summary'], '1 station down, 1 cannot be told', 'summary')
    text = program.run(*words).out
    assert text.startswith(document['summary'] + '\n'), text
    equal(text.splitlines()[-1].split(), ['8', 'AA', '6'], 'last line of the table')


def says_why_not(program, folder):
    """What cannot be told comes after the numbers, with its reason; a place without a rig is not listed."""
    project = make_ground(program, folder)
    rows = program.json('due', project, '--on', '2026-01-10', '--until', '2026-01-20')['stations']
    equal([row['station'] for row in rows], ['DRY', 'LASTS', 'DARK'], 'order')
    for row in rows:
        told = row['station'] != 'DARK'
        assert (row['why'] is None) == told == (row['p_down'] is not None) == (row['lost_nights'] is not None), row
        for unit in row['units']:
            assert (unit['why'] is None) == (unit['p_out'] is not None), unit
    assert rows[2]['why'].startswith('cannot say because'), rows[2]
    text = program.run('due', project, '--on', '2026-01-10', '--until', '2026-01-20').out
    assert rows[2]['why'] in text, text


def chooses_stations(program, folder):
    """--station lists and packs for those alone, with the same numbers; one that is none is refused."""
    project = make_ground(program, folder)
    words = ('due', project, '--on', '2026-01-10', '--until', '2026-01-20')
    every = {row['station']: row for row in program.json(*words)['stations']}
    some = program.json(*words, '--station', 'LASTS', '--station', 'DARK')
    equal({row['station']: row for row in some['stations']}, {name: every[name] for name in ('LASTS', 'DARK')}, 'rows')
    equal(some['pack'], [], 'pack')
    program.run(*words, '--station', 'NONE', status=1)
    program.run(*words, '--from', '2026-01-01', status=2)
    program.run('due', project, '--on', '2026-01-10', '--until', '2026-01-10', status=2)


def gaps_can_be_read(program, folder):
    """A line for each gap, in words; the JSON keeps its own."""
    project = make_ground(program, folder)
    visits = [['V1', 'DRY', '2026-01-05T10:00', 'working'], ['V2', 'DRY', '2026-01-15T10:00', 'dead'], ['V3', 'DRY', '2026-01-20T22:00', 'card-full']]
    program.run('import', project, write_csv(os.path.join(folder, 'v.csv'), 'visit,station,at,found', visits))
    lines = program.run('effort', project, '--station', 'DRY', '--to', '2026-02-01').out.splitlines()
    assert lines[1].endswith('found dead, 5 January 2026 to 15 January 2026 (10.0 nights)'), lines
    equal(lines[2].strip(), 'card full, 15 January 2026 to 20 January 2026 (5.5 nights)', 'second gap')
    row = program.json('effort', project, '--station', 'DRY', '--to', '2026-02-01')['deployments'][0]
    equal([gap['why'] for gap in row['gaps']], ['dead', 'card-full'], 'why')
    equal(row['nights'], 15.5, 'nights')


def main():
    moments = ('2024-09-01T04:00:00.000Z', '2025-03-15T01:30:00.000Z', '2026-01-10T09:00:00.000Z', '2026-05-20T00:00:00.000Z')
    cases = [('knows nothing of later: ' + moment, ignores_later(moment)) for moment in moments]
    cases += [('makes sense: ' + moment, makes_sense(moment)) for moment in moments + ('2024-06-20',)]
    cases += [('a later round costs more', later_round_costs_more), ('asks at its own time', asks_at_its_own_time),
              ('the same everywhere', same_everywhere), ('what to bring', says_what_to_bring), ('why not', says_why_not),
              ('stations', chooses_stations), ('gaps in words', gaps_can_be_read)]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
