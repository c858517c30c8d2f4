"""What the tests of the terminal command share: running the program in a world
of its own, looking into a project, and printing TAP."""

import contextlib
import csv
import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
import traceback

KEPT_VARIABLES = ('PATH', 'G_DEBUG', 'GSETTINGS_SCHEMA_DIR', 'ASAN_OPTIONS', 'LSAN_OPTIONS', 'UBSAN_OPTIONS', 'LD_LIBRARY_PATH')
# How many times slower than usual the program may be: with the sanitizers it is.
PATIENCE = int(os.environ.get('TEST_PATIENCE', '1'))


class Skip(Exception):
    """Raised in a case that cannot be run on this machine; says why."""


class Result:
    def __init__(self, status, out, err):
        self.status, self.out, self.err = status, out, err

    def __str__(self):
        return 'status %d\nstdout: %s\nstderr: %s' % (self.status, self.out[:2000], self.err[:2000])


class Program:
    """The program under test; its home, settings and temporary files lie in @folder."""

    def __init__(self, path, folder):
        self.path = os.path.abspath(path)
        self.env = {name: os.environ[name] for name in KEPT_VARIABLES if name in os.environ}
        for variable, name in (('HOME', 'home'), ('TMPDIR', 'tmp'), ('XDG_RUNTIME_DIR', 'run'), ('XDG_CACHE_HOME', 'cache'),
                               ('XDG_CONFIG_HOME', 'config'), ('XDG_DATA_HOME', 'data')):
            self.env[variable] = os.path.join(folder, name)
            os.makedirs(self.env[variable], mode=0o700, exist_ok=True)
        self.env.update(LC_ALL='C.UTF-8', GSETTINGS_BACKEND='memory')

    def run(self, *words, status=0, cwd=None, env=None, timeout=120):
        """Runs the command; any exit status but @status is a failure, unless that is None."""
        done = subprocess.run([self.path, *map(str, words)], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, cwd=cwd, env={**self.env, **(env or {})}, timeout=timeout * PATIENCE)
        result = Result(done.returncode, done.stdout.decode(), done.stderr.decode(errors='replace'))
        assert status is None or result.status == status, 'wanted status %d of %s\n%s' % (status, ' '.join(map(str, words)), result)
        return result

    def start(self, *words, env=None):
        return subprocess.Popen([self.path, *map(str, words)], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                                stderr=subprocess.DEVNULL, env={**self.env, **(env or {})})

    def json(self, *words, **options):
        """Standard output must be exactly one JSON document."""
        return read_json(self.run(*words, '--json', **options).out)

    def new(self, path, zone='Asia/Kuching'):
        self.run('new', path, '--name', 'Test ground', '--zone', zone)
        return path

    def demo(self, folder):
        self.run('demo', folder)
        return os.path.join(folder, 'kelabau.gpkg')

    def problems(self, project, *options):
        return self.json('check', project, *options, status=None)['problems']


def read_json(text):
    document, end = json.JSONDecoder(parse_constant=refuse_constant).raw_decode(text.lstrip())
    rest = text.lstrip()[end:]
    assert rest.strip() == '', 'more than one document: %r' % rest[:200]
    return document


def refuse_constant(word):
    raise AssertionError('%s is no JSON' % word)


def write_csv(path, columns, rows):
    with open(path, 'w', encoding='utf-8', newline='') as file:
        writer = csv.writer(file)
        writer.writerow(columns.split(',') if isinstance(columns, str) else columns)
        writer.writerows(rows)
    return path


def read_bytes(path):
    with open(path, 'rb') as file:
        return file.read()


def write_bytes(path, content):
    os.makedirs(os.path.dirname(path) or '.', exist_ok=True)
    with open(path, 'wb') as file:
        file.write(content)
    return path


def list_tree(folder, times=False):
    """{relative path: SHA-256 (and modification time)} of every file; links are named, not followed."""
    tree = {}
    for parent, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(parent, name)
            info = os.lstat(path)
            content = os.readlink(path) if os.path.islink(path) else hashlib.sha256(read_bytes(path)).hexdigest()
            tree[os.path.relpath(path, folder)] = (content, info.st_mtime_ns) if times else content
    return tree


# Differ from run to run by their nature: identifiers drawn at random, and when it was done.
PASSING = {'uuid', 'last_change', 'taken_at', 'changeset'}


def dump(project, passing=None):
    """The project's content, for comparing two of them: every row of every table; without the columns of @passing, by table."""
    content = {}
    with contextlib.closing(sqlite3.connect('file:%s?mode=ro' % project, uri=True)) as db:
        tables = [row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")]
        for table in tables:
            columns = [row[1] for row in db.execute('PRAGMA table_info("%s")' % table)]
            left = PASSING | ({'at'} if table == 'journal' else set()) | (passing or {}).get(table, set())
            kept = ', '.join('"%s"' % column for column in columns if column not in left)
            where = " WHERE key <> 'uuid'" if table == 'settings' else ''
            content[table] = sorted(map(repr, db.execute('SELECT %s FROM "%s"%s' % (kept, table, where))))
    return content


def without_history(content):
    return {table: rows for table, rows in content.items() if table not in ('journal', 'sqlite_sequence')}


def query(project, sql, *parameters):
    with contextlib.closing(sqlite3.connect('file:%s?mode=ro' % project, uri=True)) as db:
        return db.execute(sql, parameters).fetchall()


def change(project, *statements):
    with contextlib.closing(sqlite3.connect(project)) as db:
        for sql in statements:
            db.execute(*([sql] if isinstance(sql, str) else sql))
        db.commit()


def need_tool(name):
    if shutil.which(name) is None:
        raise Skip('%s is not installed' % name)


def equal(got, wanted, what=''):
    assert got == wanted, '%s: got %r, wanted %r' % (what, got, wanted)


def close(got, wanted, relative, what=''):
    assert got is not None and abs(got - wanted) <= relative * max(abs(wanted), 1e-300) or got == wanted, \
        '%s: got %.17g, wanted %.17g' % (what, got, wanted)


def run_cases(cases, arguments=None):
    """Runs [(name, function of (program, folder))], each in an empty folder of its own, and prints TAP."""
    arguments = arguments or sys.argv[1:]
    failed = 0
    print('1..%d' % len(cases), flush=True)
    with tempfile.TemporaryDirectory(prefix='tapetum-test-') as world:
        program = Program(arguments[0], os.path.join(world, 'world'))
        program.extra = arguments[1:]
        for number, (name, function) in enumerate(cases, 1):
            folder = os.path.join(world, 'case-%d' % number)
            os.makedirs(folder)
            failed += not run_case(number, name, function, program, folder)
            shutil.rmtree(folder, ignore_errors=True)
    return 1 if failed else 0


def run_case(number, name, function, program, folder):
    began = time.monotonic()
    try:
        function(program, folder)
    except Skip as why:
        print('ok %d - %s # SKIP %s' % (number, name, why), flush=True)
    except Exception:  # a case that stumbles has failed, whatever over
        print('not ok %d - %s' % (number, name))
        print(''.join('# %s\n' % line for line in traceback.format_exc().splitlines()), end='', flush=True)
        return False
    else:
        print('ok %d - %s' % (number, name))
        print('# %.1f s' % (time.monotonic() - began), flush=True)
    return True
