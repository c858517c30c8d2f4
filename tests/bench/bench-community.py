#!/usr/bin/python3
"""Occupancy with both profiles against scipy's optimisers, accumulation of species against R vegan, in one run.

    bench-community.py BUILD [SEED]

Run by hand; prints times, ratios and how far the results are apart. Both sides of the occupancy reduce
the histories to the same numbers first (sites without a detection by their visits), so that the likelihood costs scipy no
more than it must. vegan's standard deviation takes species for independent, so only its mean is compared; the exact one is
checked against random orders of the stations drawn here.
"""

import os
import random
import subprocess
import sys
import tempfile
import time

import numpy
from scipy import optimize

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
FALL = 1.9207294103470194  # half the 95 % quantile of chi-square(1)


def build(library, folder):
    program = os.path.join(folder, 'bench-community')
    subprocess.run(['cc', '-O2', '-D_GNU_SOURCE', '-o', program, os.path.join(ROOT, 'tests/bench/bench-community.c'), '-I',
                    os.path.join(ROOT, 'src/science'), library, '-lm'], check=True)
    return program


def run(program, text, *words):
    lines = subprocess.run([program, *map(str, words)], input=text, stdout=subprocess.PIPE, check=True, text=True).stdout.split('\n')
    return float(lines[0]), [[float(word) for word in line.split()] for line in lines[1:] if line]


def draw_sites(chance, sites, occasions, psi, p):
    rows = []
    for _ in range(sites):
        visits = sum(chance.random() < 0.85 for _ in range(occasions))
        there = chance.random() < psi
        rows.append((visits, sum(there and chance.random() < p for _ in range(visits))))
    return [row for row in rows if row[0] > 0]


class Scipy:
    """The same likelihood on the logit scale, and its profiles."""

    def __init__(self, rows):
        seen = [row for row in rows if row[1]]
        silent = [row[0] for row in rows if not row[1]]
        self.detected, self.detections = len(seen), sum(row[1] for row in seen)
        self.misses = sum(row[0] - row[1] for row in seen)
        self.visits, self.sites = numpy.unique(numpy.array(silent, float), return_counts=True)

    def value(self, psi, p):
        q = 1 - p
        return (self.detected * numpy.log(psi) + self.detections * numpy.log(p) + self.misses * numpy.log(q)
                + (self.sites * numpy.log(1 - psi + psi * q ** self.visits)).sum())

    def loss(self, x):
        return -self.value(1 / (1 + numpy.exp(-x[0])), 1 / (1 + numpy.exp(-x[1])))

    def best(self, function):
        return -optimize.minimize_scalar(lambda x: -function(x), bounds=(1e-9, 1 - 1e-9), method='bounded',
                                         options={'xatol': 1e-8}).fun

    def limit(self, profile, inner, outer, floor):
        if profile(outer) > floor:
            return outer
        return optimize.brentq(lambda x: profile(x) - floor, inner, outer, xtol=1e-8)

    def fit(self, method):
        found = optimize.minimize(self.loss, [0, 0], method=method)
        psi, p = 1 / (1 + numpy.exp(-found.x))
        floor = -found.fun - FALL
        by_psi = lambda x: self.best(lambda y: self.value(x, y))
        by_p = lambda x: self.best(lambda y: self.value(y, x))
        return (psi, self.limit(by_psi, psi, 1e-6, floor), self.limit(by_psi, psi, 1 - 1e-9, floor), p,
                self.limit(by_p, p, 1e-6, floor), self.limit(by_p, p, 1 - 1e-6, floor), -found.fun)


def compare_occupancy(program, chance):
    print('occupancy, fit and both profiles          ours    Nelder-Mead  ratio       BFGS  ratio   apart (psi, p, limits; lnL)')
    for sites, occasions, psi, p in ((15, 52, 0.8, 0.08), (39, 5, 0.6, 0.26), (300, 26, 0.5, 0.15), (300, 120, 0.3, 0.03)):
        rows = draw_sites(chance, sites, occasions, psi, p)
        ours, results = run(program, '\n'.join('%d %d' % row for row in rows), 'occupancy', 200)
        got, times, apart, lnl = results[0], [], 0, 0
        for method in ('Nelder-Mead', 'BFGS'):
            began = time.perf_counter()
            for _ in range(3):
                theirs = Scipy(rows).fit(method)
            times.append((time.perf_counter() - began) / 3)
            apart = max(apart, max(abs(a - b) for a, b in zip((got[0], got[2], got[3], got[4], got[6], got[7]), theirs[:6])))
            lnl = max(lnl, abs(got[8] - theirs[6]))
        print('%3d stations, %3d occasions, psi %.1f p %.2f  %.3f ms  %8.1f ms  %5.0f  %7.1f ms  %5.0f   %.1g, %.1g'
              % (sites, occasions, psi, p, 1e3 * ours, 1e3 * times[0], times[0] / ours, 1e3 * times[1], times[1] / ours, apart, lnl))


R = '''suppressMessages(library(vegan)); m <- as.matrix(read.table("%s")); storage.mode(m) <- "double"
t <- system.time(for (i in 1:3) a <- specaccum(m, method = "exact"))[["elapsed"]] / 3
t2 <- system.time(for (i in 1:3) s <- specpool(m))[["elapsed"]] / 3
cat(t + t2, "\\n"); cat(sprintf("%%.12g", a$richness), "\\n"); cat(s$chao, s$boot.se, "\\n")'''


def draw_presence(chance, units, species):
    common = [chance.random() ** 3 for _ in range(species)]
    return [[int(chance.random() < share) for share in common] for _ in range(units)]


def sd_of_orders(rows, units, draws=4000):
    """Species among k units, of so many random choices of them."""
    matrix = numpy.array(rows, bool)
    generator = numpy.random.default_rng(7)
    return [numpy.std([matrix[generator.permutation(len(rows))[:k]].any(0).sum() for _ in range(draws)]) for k in units]


def compare_accumulation(program, chance, folder):
    print('\naccumulation and estimates                ours         vegan  ratio   mean apart   exact sd against %d random choices' % 4000)
    for units, species in ((15, 40), (100, 100), (300, 200)):
        rows = draw_presence(chance, units, species)
        text = '\n'.join(' '.join(map(str, row)) for row in rows)
        path = os.path.join(folder, 'm-%d.txt' % units)
        with open(path, 'w') as file:
            file.write(text + '\n')
        ours, curve = run(program, text, 'accumulation', 20, units, species)
        lines = subprocess.run(['Rscript', '-e', R % path], stdout=subprocess.PIPE, check=True, text=True).stdout.split('\n')
        theirs, mean = float(lines[0]), [float(word) for word in lines[1].split()]
        apart = max(abs(a[0] - b) / b for a, b in zip(curve, mean))
        where = [2, units // 4, units // 2]
        drawn = sd_of_orders(rows, where)
        print('%3d stations, %3d species             %8.3f ms  %8.1f ms  %5.0f   %.1g       %s'
              % (units, species, 1e3 * ours, 1e3 * theirs, theirs / ours, apart,
                 ', '.join('%.3f / %.3f' % (curve[k - 1][1], d) for k, d in zip(where, drawn))))


def main():
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    chance = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 2024)
    with tempfile.TemporaryDirectory() as folder:
        program = build(os.path.join(sys.argv[1], 'src/science/libtapetum-science.a'), folder)
        compare_occupancy(program, chance)
        compare_accumulation(program, chance, folder)


if __name__ == '__main__':
    main()
