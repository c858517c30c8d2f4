#!/usr/bin/python3
"""Compares every number of the findings with the same worked out anew from exported tables by R and general-purpose packages.

    compare.py PROGRAM

Effort is taken from the command effort (a check of it is in tests/batch), and detections are counted anew by reckon.py;
everything after that is R's: see reference.R. Skipped with a word where R or its packages are not installed.
"""

import collections
import csv
import datetime
import math
import os
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'batch'))

import reckon
import terminal
from terminal import Skip, close

ZONE = 'Asia/Kuching'
NOW = '2026-06-12T17:00:00+08:00'  # where the demo's clock stands
DAYS = 14
YEAR_2000 = datetime.datetime(2000, 1, 1, tzinfo=datetime.timezone.utc).timestamp()
FEWEST = 4  # detections for a fit of occupancy to be tried
HERE = os.path.dirname(os.path.abspath(__file__))


class Ground:
    """The demo, what R said of it, and the detections that were counted here."""

    def __init__(self, program, folder):
        need_r()
        self.program = program
        self.project = program.demo(os.path.join(folder, 'demo'))
        tables = os.path.join(folder, 'tables')
        program.run('export', self.project, 'csv', '-o', tables, '--exact')
        self.reckoning = reckon.Reckoning(tables, ZONE)
        for row in self.reckoning.deployments:
            row['end'] = row['end'] or NOW
        self.stations = sorted(row['station'] for row in self.reckoning.stations)
        self.worked = self.read_effort()
        self.found = {row['scientific_name']: {station: self.count(row['scientific_name'], station) for station in self.stations}
                      for row in self.reckoning.species}
        self.nights = math.fsum(to - since for spans in self.worked.values() for since, to in spans) / 86400
        self.folder = folder
        self.write_tables()
        self.said = self.ask_r()

    def read_effort(self):
        worked = collections.defaultdict(list)
        gaps = {one['deployment']: one['gaps'] for one in self.program.json('effort', self.project)['deployments']}
        for row in self.reckoning.deployments:
            at = self.reckoning.at
            span = (at(row['start']), min(at(row['end']), at(NOW)))
            worked[row['station']] += reckon.subtract(span, [(at(gap['from']), at(gap['to'])) for gap in gaps[row['deployment']]])
        return worked

    def count(self, species, station):
        return [start for start, _ in self.reckoning.detections(species, station)]

    def all_of(self, species):
        return sorted(start for starts in self.found[species].values() for start in starts)

    def seen(self, least=1):
        return [name for name in self.found if len(self.all_of(name)) >= least]

    def local(self, moment):
        return datetime.datetime.fromtimestamp(moment, self.reckoning.zone)

    def write(self, name, columns, rows):
        terminal.write_csv(os.path.join(self.folder, name), columns, rows)

    def write_tables(self):
        self.write('rates.csv', 'species,n,nights', [(name, len(self.all_of(name)), repr(self.nights)) for name in self.seen()])
        self.write('hours.csv', 'species,hour', [(name, repr((moment + 8 * 3600) % 86400 / 3600)) for name in self.seen(20)
                                                 for moment in self.all_of(name)])
        names = self.seen(40)
        self.pairs = list(zip(names, names[1:] + names[:1]))
        self.write('pairs.csv', 'a,b', self.pairs)
        self.write('incidence.csv', self.seen(), [[int(bool(self.found[name][station])) for name in self.seen()] for station in self.stations])
        self.write_histories()
        self.write_months()

    def write_histories(self):
        first = self.local(min(spans[0][0] for spans in self.worked.values() if spans))
        midnight = first.replace(hour=0, minute=0, second=0, microsecond=0).timestamp()
        last = max(spans[-1][1] for spans in self.worked.values() if spans)
        occasions = math.ceil((last - midnight) / (DAYS * 86400))
        listed = []
        for number, name in enumerate(self.seen(FEWEST)):
            rows = []
            for station in self.stations:
                rows.append(['NA' if value is None else value for value in self.history(name, station, midnight, occasions)])
            file = 'history-%d.csv' % number
            with open(os.path.join(self.folder, file), 'w', newline='') as out:
                csv.writer(out).writerows(rows)
            listed.append((name, file))
        self.write('histories.csv', 'species,file', listed)

    def history(self, name, station, midnight, occasions):
        for k in range(occasions):
            since, to = midnight + k * DAYS * 86400, midnight + (k + 1) * DAYS * 86400
            worked = math.fsum(max(0.0, min(end, to) - max(start, since)) for start, end in self.worked[station])
            if worked < (to - since) / 2:
                yield None
            else:
                yield int(any(since <= moment < to for moment in self.found[name][station]))

    def write_months(self):
        """With the middle of what of each month lies within the effort, in years from the beginning of one."""
        rows = []
        first = min(spans[0][0] for spans in self.worked.values() if spans)
        last = max(spans[-1][1] for spans in self.worked.values() if spans)
        for group in self.program.json('rates', self.project, '--by', 'month')['groups']:
            year, month = (int(part) for part in group['group'].split('-'))
            begin = datetime.datetime(year, month, 1, tzinfo=self.reckoning.zone).timestamp()
            end = datetime.datetime(year + month // 12, month % 12 + 1, 1, tzinfo=self.reckoning.zone).timestamp()
            nights = math.fsum(max(0.0, min(to, end) - max(since, begin)) for spans in self.worked.values() for since, to in spans) / 86400
            middle = (max(begin, first) + min(end, last)) / 2
            for name in self.seen():
                rows.append((name, group['group'], repr((middle - YEAR_2000) / 86400 / 365.25), repr(nights),
                             sum(begin <= moment < end for moment in self.all_of(name))))
        self.months = rows
        self.write('months.csv', 'species,month,t,nights,n', rows)

    def ask_r(self):
        done = subprocess.run(['Rscript', '--vanilla', os.path.join(HERE, 'reference.R'), self.folder], stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, text=True, timeout=600)
        assert done.returncode == 0, done.stderr
        said = collections.defaultdict(dict)
        for line in done.stdout.splitlines():
            what, key, value = line.strip().split('\t')
            said[what][key] = float(value)
        return said


def need_r():
    if shutil.which('Rscript') is None:
        raise Skip('R is not installed')
    for package in ('circular', 'vegan'):
        if subprocess.run(['Rscript', '--vanilla', '-e', 'library(%s)' % package], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode:
            raise Skip("R's package %s is not installed" % package)


GROUND = []


def ground(program, folder):
    """Made once: every case asks the same demo."""
    if not GROUND:
        GROUND.append(Ground(program, os.path.join(os.path.dirname(folder), 'ground-' + os.path.basename(folder))))
    return GROUND[0]


def near(got, wanted, tolerance, what):
    assert got is not None and abs(got - wanted) <= tolerance, '%s: got %r, wanted %.12g within %g' % (what, got, wanted, tolerance)


def check_rates(program, folder):
    own = ground(program, folder)
    rates = {one['species']: one for one in program.json('rates', own.project)['species']}
    terminal.equal(sorted(rates), sorted(own.seen()), 'species seen')
    for name, one in rates.items():
        terminal.equal(one['detections'], len(own.all_of(name)), name)
        terminal.equal(one['stations'], sum(bool(starts) for starts in own.found[name].values()), name)
        close(one['nights'], own.nights, 1e-12, name)
        for key, got in (('per_100', one['per_100']), ('low', one['ci95'][0]), ('high', one['ci95'][1])):
            close(got, own.said['rate']['%s %s' % (name, key)], 1e-6, '%s %s' % (name, key))


def check_months(program, folder):
    own = ground(program, folder)
    groups = {group['group']: {one['species']: one for one in group['species']}
              for group in program.json('rates', own.project, '--by', 'month')['groups']}
    for name, month, _, nights, n in own.months:
        one = groups[month].get(name)
        terminal.equal(one['detections'] if one else 0, n, '%s in %s' % (name, month))
        if one:
            close(one['nights'], float(nights), 1e-9, month)


def check_trend(program, folder):
    own = ground(program, folder)
    found = 0
    for name in own.seen():
        trend = program.json('rates', own.project, '--by', 'month', '--species', name)['trend']
        if trend['per_year'] is None:
            assert trend['reason'], name
            continue
        terminal.equal(trend['seasonal'], True, name)
        close(trend['per_year'], own.said['trend'][name + ' per_year'], 1e-6, name)
        close(trend['dispersion'], own.said['trend'][name + ' dispersion'], 1e-6, name)
        found += 1
    assert found > 5, 'trends of %d species only' % found


# The bandwidth is found by a root finder in R, to 5e-6 or so; what follows from it is not better.
BANDWIDTH = 2e-5


def check_activity(program, folder):
    own = ground(program, folder)
    said = own.said['activity']
    for name in own.seen(20):
        one = program.json('activity', own.project, '--species', name, '--clock', 'local', '--points', '24', '--boot', '0')
        terminal.equal(one['n'], len(own.all_of(name)), name)
        close(one['r'], said[name + ' r'], 1e-9, name)
        near(one['mean_hour'], said[name + ' mean_hour'], 1e-8, name)
        close(one['rayleigh_p'], said[name + ' rayleigh_p'], 1e-6, name)
        close(one['kappa'], said[name + ' kappa'], BANDWIDTH, name)
        for hour in range(24):
            close(one['density'][hour], said['%s density %d' % (name, hour)], 10 * BANDWIDTH, '%s at %d h' % (name, hour))


def check_overlap(program, folder):
    own = ground(program, folder)
    for a, b in own.pairs:
        one = program.json('overlap', own.project, '--species', a, '--species', b, '--clock', 'local', '--boot', '0')
        key = '%s + %s ' % (a, b)
        near(one['value'], own.said['overlap'][key + 'value'], 1e-4, key)
        close(one['watson_u2'], own.said['overlap'][key + 'watson_u2'], 1e-6, key)


def check_occupancy(program, folder):
    own = ground(program, folder)
    said = own.said['occupancy']
    for name in own.seen(FEWEST):
        one = program.json('occupancy', own.project, '--species', name, '--occasion-days', DAYS)
        if one['loglik'] is None:
            assert one['reason'], name
            continue
        near(one['loglik'], said[name + ' loglik'], 1e-6, name)
        near(one['psi'], said[name + ' psi'], 1e-4, name)
        near(one['p'], said[name + ' p'], 1e-5, name)
        if name + ' psi_se' in said and one['psi_se'] is not None:
            close(one['psi_se'], said[name + ' psi_se'], 1e-3, name)
            close(one['p_se'], said[name + ' p_se'], 1e-3, name)
            near(one['psi_ci95'][0], said[name + ' psi_low'], 1e-4, name)
            near(one['psi_ci95'][1], said[name + ' psi_high'], 1e-4, name)


def check_richness(program, folder):
    own = ground(program, folder)
    said = own.said['richness']
    one = program.json('richness', own.project)
    terminal.equal(one['observed'], said['observed'])
    terminal.equal(len(one['curve']), len(own.stations))
    for point in one['curve']:
        close(point['mean'], said['mean %d' % point['n']], 1e-9, 'mean at %d' % point['n'])
        near(point['sd'], said['sd %d' % point['n']], 1e-6, 'SD at %d' % point['n'])
    for key in ('chao2', 'chao2_se', 'jack1', 'boot'):
        close(one[key], said[key], 1e-9, key)
    for order in range(3):
        close(one['hill'][order], said['hill %d' % order], 1e-9, 'Hill number of order %d' % order)


if __name__ == '__main__':
    sys.exit(terminal.run_cases([
        ('rates against poisson.test', check_rates),
        ('months against detections counted anew', check_months),
        ('trend against glm', check_trend),
        ('activity against the package circular', check_activity),
        ('overlap and Watson against the package circular', check_overlap),
        ('occupancy against optim and uniroot', check_occupancy),
        ('richness against the package vegan', check_richness),
    ]))
