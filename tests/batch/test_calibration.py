"""Whether forecasts can be trusted: the bench of tests/bench on a smaller fleet, held to the project's bounds."""

import importlib
import os
import sys

from terminal import run_cases

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'bench'))
calibration = importlib.import_module('bench-calibration')

# Fleets whose forecasts are judged; 480 rigs. The bench takes more of them and prints the tables.
FLEETS, STATIONS = 3, 40
# What a share of n trials leaves open to chance is added to the reliability's bounds: three deviations.
WIDEST_MISS = 0.12


def test_intervals(program, folder):
    tally, bins = calibration.calibrate(program.path, FLEETS, STATIONS)
    calibration.print_held(tally, '# ')
    share = tally.share('overall')
    assert 0.75 <= share <= 0.85, '80 %% intervals hold %.1f %% overall' % (100 * share)
    for quarter in range(1, 5):
        share = tally.share('quarter %d' % quarter)
        assert 0.70 <= share <= 0.90, '80 %% intervals hold %.1f %% in quarter %d of the rates' % (100 * share, quarter)
    judge_reliability(bins)


def judge_reliability(bins):
    for k in range(10):
        rows = [(p, came) for p, came in bins if k / 10 <= p < (k + 1) / 10 or (k == 9 and p == 1)]
        assert rows, 'no chances between %.1f and %.1f were given' % (k / 10, (k + 1) / 10)
        given, came = sum(p for p, _ in rows) / len(rows), sum(c for _, c in rows) / len(rows)
        noise = 3 * (given * (1 - given) / len(rows)) ** 0.5
        assert abs(given - came) <= WIDEST_MISS + noise, 'given %.2f, came true %.2f (n = %d)' % (given, came, len(rows))


def test_rounds(program, folder):
    fixed = clever = 0
    for seed in (77, 80):
        lost, visits = calibration.lose(program.path, seed, STATIONS, 30, False)
        fewer, same = calibration.lose(program.path, seed, STATIONS, 30, True)
        assert visits == same
        fixed, clever = fixed + lost, clever + fewer
    print('# nights lost: %d by a four-week calendar, %d by the forecast' % (fixed, clever))
    assert fixed > 20, 'these fleets lose too little to judge by'
    assert clever <= 0.7 * fixed


CASES = [
    ('80 % intervals and chances', test_intervals),
    ('nights lost against a calendar', test_rounds),
]

if __name__ == '__main__':
    sys.exit(run_cases(CASES))
