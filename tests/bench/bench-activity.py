#!/usr/bin/python3
"""Curves of the day against R and numpy: ratios in one run.

    bench-activity.py BENCH      (built from bench-activity.c, which says how)

A thousand invented hours, a curve of 288 points and 1,000 resamples, each with its own bandwidth, in one thread:
the program, numpy (the kernel of all records at all points as one array operation, the bandwidth as the program has
it with Bessel functions of scipy), and R circular (bw.nrd.circular and density.circular). R and numpy are timed over a
part of the resamples and the time multiplied, which flatters them: nothing is sorted. What is not installed is skipped.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time

N, POINTS, BOOT = 1000, 288, 1000
NUMPY_BOOT, R_BOOT = 50, 20

R_PROGRAM = '''
suppressMessages(library(circular))
x <- scan("%s", quiet = TRUE)
draw <- function(h) {
  a <- circular(h * 2 * pi / 24)
  bw <- bw.nrd.circular(a, kappa.est = "trigmoments")
  density.circular(a, bw = bw, from = circular(0), to = circular(2 * pi), n = %d)$y
}
invisible(draw(x))
began <- proc.time()[[3]]
for (i in 1:%d) invisible(draw(sample(x, replace = TRUE)))
cat(proc.time()[[3]] - began)
'''


def invent(path):
    import random
    chance = random.Random(5)
    with open(path, 'w') as file:
        for _ in range(N):
            file.write('%.4f\n' % (chance.gauss(6.5 if chance.random() < 0.5 else 18, 1.8) % 24))


def time_program(bench, path):
    return float(subprocess.run([bench, 'time', path, str(POINTS), str(BOOT)], stdout=subprocess.PIPE, check=True).stdout.split()[1])


def time_numpy(path):
    import numpy
    from scipy.optimize import brentq
    from scipy.special import i0e, ive

    def find_bandwidth(x):
        lengths = [abs(numpy.exp(1j * j * x).mean()) for j in (1, 2, 3)]
        kappa = max(brentq(lambda k: ive(j, k) / i0e(k) - length, 1e-9, 1e5) for j, length in zip((1, 2, 3), lengths))
        return (3 * len(x) * kappa ** 2 * ive(2, 2 * kappa) / (4 * numpy.pi ** 0.5 * i0e(kappa) ** 2)) ** 0.4

    def draw(x):
        nu = find_bandwidth(x)
        return numpy.exp(nu * (numpy.cos(grid[:, None] - x) - 1)).mean(axis=1) / (2 * numpy.pi * i0e(nu))

    grid = numpy.arange(POINTS) * 2 * numpy.pi / POINTS
    x = numpy.loadtxt(path) * 2 * numpy.pi / 24
    chance = numpy.random.default_rng(1)
    draw(x)
    began = time.monotonic()
    for _ in range(NUMPY_BOOT):
        draw(chance.choice(x, len(x)))
    return (time.monotonic() - began) * BOOT / NUMPY_BOOT


def time_r(path):
    script = R_PROGRAM % (path, POINTS, R_BOOT)
    return float(subprocess.run(['Rscript', '-e', script], stdout=subprocess.PIPE, check=True).stdout) * BOOT / R_BOOT


def main():
    os.environ.update(OMP_NUM_THREADS='1', OPENBLAS_NUM_THREADS='1')
    bench = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, 'hours')
        invent(path)
        own = time_program(bench, path)
        print('%d records, %d points, %d resamples: %.3f s' % (N, POINTS, BOOT, own))
        try:
            other = time_numpy(path)
            print('numpy: %.2f s from %d resamples, %.0f times as long' % (other, NUMPY_BOOT, other / own))
        except ImportError as missing:
            print('numpy: skipped, %s' % missing)
        if shutil.which('Rscript') is None or subprocess.run(['Rscript', '-e', 'library(circular)'], stderr=subprocess.DEVNULL,
                                                             stdout=subprocess.DEVNULL).returncode != 0:
            print('R: skipped, circular is not installed')
        else:
            other = time_r(path)
            print('R circular: %.1f s from %d resamples, %.0f times as long' % (other, R_BOOT, other / own))
    subprocess.run([bench, 'large'], check=True)


if __name__ == '__main__':
    main()
