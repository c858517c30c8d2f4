#!/usr/bin/env python3
"""Counts what `meson test` ran, case by case, and prints it as one last line.

    tests/tally.py BUILD/meson-logs/testlog.json
    tests/tally.py --self-test

A program that speaks TAP counts as its cases, any other as one. A program that
died, hung or ran fewer cases than it planned counts as one failure more. The
exit status is 0 when something passed and nothing failed.
"""

import json
import re
import sys

PLAN = re.compile(r'^1\.\.(\d+)', re.M)
CASE = re.compile(r'^(not )?ok\b[ \t]*(\d*)[ \t-]*([^#\n]*)(?:#[ \t]*(\w*).*)?$', re.M)
GOOD = ('OK', 'EXPECTEDFAIL')


class Tally:
    def __init__(self):
        self.passed = self.skipped = 0
        self.failures = []

    def count_case(self, name, bad, directive):
        if directive.upper() in ('SKIP', 'TODO'):
            self.skipped += 1
        elif bad:
            self.failures.append(name)
        else:
            self.passed += 1

    def count_cases(self, name, result, stdout, planned):
        failed_before = len(self.failures)
        cases = list(CASE.finditer(stdout))
        for case in cases:
            label = case.group(3).strip() or case.group(2)
            self.count_case('%s %s' % (name, label), case.group(1), case.group(4) or '')
        if len(self.failures) > failed_before:
            return
        if result not in GOOD + ('SKIP',):
            self.failures.append('%s (%s after %d of %d cases)' % (name, result.lower(), len(cases), planned))
        elif len(cases) < planned:
            self.failures.append('%s (ended after %d of %d cases)' % (name, len(cases), planned))

    def count_program(self, entry):
        name, result, stdout = entry['name'], entry['result'], entry.get('stdout') or ''
        plan = PLAN.search(stdout)
        if plan is not None and int(plan.group(1)) > 0:
            self.count_cases(name, result, stdout, int(plan.group(1)))
        elif result == 'SKIP':
            self.skipped += 1
        elif result in GOOD:
            self.passed += 1
        else:
            self.failures.append('%s (%s)' % (name, result.lower()))

    def line(self):
        text = '%d passed, %d failed' % (self.passed, len(self.failures))
        return text + (', %d skipped' % self.skipped if self.skipped else '')


def tally(lines):
    result = Tally()
    for line in lines:
        if line.strip():
            result.count_program(json.loads(line))
    return result


def self_test():
    cases = (
        # result, standard output, passed, failed, skipped
        ('OK', '', 1, 0, 0),
        ('FAIL', '', 0, 1, 0),
        ('TIMEOUT', '', 0, 1, 0),
        ('SKIP', '', 0, 0, 1),
        ('EXPECTEDFAIL', '', 1, 0, 0),
        ('UNEXPECTEDPASS', '', 0, 1, 0),
        ('OK', '1..2\nok 1 /a\nok 2 /b\n', 2, 0, 0),
        ('OK', '1..2\nok 1 /a\nok 2 /b # SKIP no display\n', 1, 0, 1),
        ('FAIL', '1..2\nok 1 /a\nnot ok 2 /b\n', 1, 1, 0),
        ('ERROR', '1..3\nok 1 /a\nBail out! broken\n', 1, 1, 0),
        ('TIMEOUT', '1..3\nok 1 /a\n', 1, 1, 0),
        ('OK', '1..3\nok 1 /a\n', 1, 1, 0),
        ('OK', 'ok, it is done\n', 1, 0, 0),
        ('ERROR', '1..2\nok 1 /a\nok 2 /b\n', 2, 1, 0),
    )
    for result, stdout, passed, failed, skipped in cases:
        got = tally([json.dumps({'name': 'x', 'result': result, 'stdout': stdout})])
        if (got.passed, len(got.failures), got.skipped) != (passed, failed, skipped):
            print('%s %r: got %s' % (result, stdout, got.line()), file=sys.stderr)
            return 1
    return 0


def main(arguments):
    if arguments == ['--self-test']:
        return self_test()
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    with open(arguments[0], encoding='utf-8', errors='replace') as log:
        result = tally(log)
    for name in result.failures:
        print('FAILED: ' + name)
    print(result.line())
    return 0 if result.passed and not result.failures else 1


if __name__ == '__main__':
    sys.exit(main(sys.argv[1:]))
