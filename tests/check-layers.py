#!/usr/bin/env python3
"""Checks who includes whom, that headers stand alone, and a few habits.

    tests/check-layers.py ROOT                 the sources below ROOT
    tests/check-layers.py ROOT --build BUILD   and compile each header by itself
    tests/check-layers.py --self-test          feeds it what it must refuse

The tables below are the rules; the compiler enforces most of them through the
include directories, this program the rest.
"""

import concurrent.futures
import json
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

# Outside libraries by the headers they are reached through.
LIBRARIES = {
    'glib': r'glib\.h|glib-object\.h|glib-unix\.h|glib/.*',
    'gio': r'gio/(?!gunix|gdesktopappinfo|gfiledescriptorbased).*',
    'gio-unix': r'gio/(gunix|gdesktopappinfo|gfiledescriptorbased).*',
    'sqlite': r'sqlite3(ext)?\.h',
    'gdk-pixbuf': r'gdk-pixbuf/.*',
    'gexiv2': r'gexiv2/.*',
    'jpeg': r'j(peglib|error)\.h',
    'crypto': r'openssl/.*',
    'json': r'json-glib/.*',
    'xml': r'libxml/.*',
    'cairo': r'cairo(-\w+)?\.h',
    'pango': r'pango/.*',
    'gtk': r'(gtk|gdk|gsk)/.*',
    'adwaita': r'adwaita\.h',
    'shumate': r'shumate/.*',
    'c': r'(assert|complex|ctype|float|inttypes|limits|math|stdarg|stdbool|stddef|stdint|stdlib|string|tgmath)\.h',
    'system': r'(dirent|dlfcn|errno|fcntl|fenv|locale|setjmp|signal|stdio|time|unistd|wchar)\.h|sys/\w+\.h',
}

# folder, main.c, or batch for src/batch*: (folders of ours, outside libraries)
ALLOWED = {
    'base': ((), ('c', 'system', 'glib', 'gio')),
    'science': ((), ('c',)),
    'model': (('base',), ('c', 'system', 'glib', 'gio')),
    'store': (('base', 'model'), ('c', 'system', 'glib', 'gio', 'sqlite')),
    'intake': (('base', 'model', 'science'),
               ('c', 'system', 'glib', 'gio', 'gio-unix', 'gdk-pixbuf', 'gexiv2', 'jpeg', 'crypto')),
    'exchange': (('base', 'model'), ('c', 'system', 'glib', 'gio', 'json', 'xml')),
    'figures': (('base', 'science'), ('c', 'system', 'glib', 'gio', 'cairo', 'pango')),
    'jobs': (('base', 'science', 'model', 'store', 'intake', 'exchange', 'figures'), ('c', 'system', 'glib', 'gio')),
    'ui': (('base', 'model', 'figures', 'jobs'),
           ('c', 'system', 'glib', 'gio', 'cairo', 'pango', 'gtk', 'adwaita', 'shumate')),
    'batch': (('base', 'jobs'), ('c', 'system', 'glib', 'gio', 'json')),
    'main.c': (('ui', 'jobs', 'batch'), ('c', 'system', 'glib', 'gio', 'gtk', 'adwaita')),
}

# What single files may include besides.
ALLOWED_BESIDES = {
    'base/db.c': ('sqlite',),
    'base/db.h': ('sqlite',),
    'exchange/mbtiles.c': ('sqlite',),
    'exchange/tpt-mbtiles.c': ('sqlite',),
    'exchange/geopackage.c': ('sqlite',),
    'exchange/tpt-geopackage.c': ('sqlite',),
}

# Tests that look at the program from outside, or at several folders at once.
TEST_ALLOWED = {
    'fault': ('jobs', ('sqlite',)),
    'batch': ('jobs', ('sqlite', 'json')),
}

SQL_ALSO = tuple(ALLOWED_BESIDES)
SQL = re.compile(r'\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|ALTER|REPLACE|PRAGMA|ATTACH|WITH|SAVEPOINT)\s+["\w*(]')
GENERATED = re.compile(r'.*-(resources|enums|marshal)\.h|config\.h')
INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*(.*)$', re.M)
TOKEN = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.S)
UNSCIENTIFIC = re.compile(r'\b(rand|srand|random|drand48|rand_r|getenv|setenv|system|time|clock|localtime|gmtime)\s*\(')
MARK = re.compile(r'\b(TO' r'DO|FIX' r'ME|XX' r'X)\b')
MACHINE_PATH = re.compile(r'(?<![\w./$}])/(?:work|home|root|Users)/\w')
TEXT = ('.c', '.h', '.ui', '.css', '.xml', '.build', '.py', '.sh', '.md', '.in', '.svg')


def strip_comments(text):
    """The code with comments blanked; line numbers stay."""
    return TOKEN.sub(lambda m: m.group() if m.group()[0] in '"\'' else re.sub(r'[^\n]', ' ', m.group()), text)


def strip_strings(code):
    return TOKEN.sub('""', code)


def library_of(header):
    for name, pattern in LIBRARIES.items():
        if re.fullmatch(pattern, header):
            return name
    return None


def line_of(text, position):
    return text.count('\n', 0, position) + 1


def transitive(folder):
    """The folder and all it stands on."""
    found, rest = set(), [folder]
    while rest:
        name = rest.pop()
        if name not in found:
            found.add(name)
            rest += ALLOWED[name][0]
    return found


class Checker:
    def __init__(self, root):
        self.root = root
        self.said = []
        self.headers = {}
        for header in sorted((root / 'src').rglob('*.h')):
            self.headers.setdefault(header.name, []).append(header)

    def say(self, path, line, text):
        self.said.append('%s:%d: %s' % (path.relative_to(self.root).as_posix(), line, text))

    def folder_of(self, path):
        """The first part below src/; the files of the terminal count as one."""
        top = path.relative_to(self.root / 'src').parts[0]
        return 'batch' if re.fullmatch(r'batch(-[\w-]+)?\.[ch]', top) else top

    def sources(self, top):
        return sorted(p for p in (self.root / top).rglob('*') if p.suffix in ('.c', '.h'))

    def check(self):
        for name, paths in self.headers.items():
            if len(paths) > 1:
                self.say(paths[1], 1, 'another folder has a header %s too; names are unique' % name)
        for path in self.sources('src'):
            self.check_source(path)
        for path in self.sources('tests'):
            self.check_test(path)
        for top in ('src', 'tests', 'data', 'help', 'po'):
            for path in sorted((self.root / top).rglob('*')):
                if path.is_file() and path.suffix in TEXT:
                    self.check_text(path)
        return self.said

    def check_source(self, path):
        text = path.read_text(encoding='utf-8')
        code = strip_comments(text)
        inside = path.relative_to(self.root / 'src').as_posix()
        folder = self.folder_of(path)
        if folder not in ALLOWED:
            self.say(path, 1, 'the table of layers has no %s' % folder)
            return
        ours, libraries = ALLOWED[folder]
        libraries = libraries + ALLOWED_BESIDES.get(inside, ())
        self.check_includes(path, code, {folder, *ours}, set(libraries),
                            set() if folder == 'main.c' else {path.parent})
        if path.suffix == '.h' and not re.search(r'^#pragma once$', code, re.M):
            self.say(path, 1, 'a header begins with #pragma once')
        self.check_code(path, code, folder, inside)

    def check_code(self, path, code, folder, inside):
        bare = strip_strings(code)
        for match in re.finditer(r'\bgoto\b', bare):
            self.say(path, line_of(bare, match.start()), 'goto')
        if folder == 'science':
            for match in UNSCIENTIFIC.finditer(bare):
                self.say(path, line_of(bare, match.start()), '%s() inside science/' % match.group(1))
        if folder != 'store' and inside not in SQL_ALSO:
            for match in TOKEN.finditer(code):
                if SQL.match(match.group()[1:]):
                    self.say(path, line_of(code, match.start()), 'SQL text outside store/')

    def check_test(self, path):
        parts = path.relative_to(self.root / 'tests').parts
        name = parts[0]
        folder, more = TEST_ALLOWED.get(name, (name, ()))
        if len(parts) == 1 or folder not in ALLOWED:
            return
        folders = transitive(folder)
        libraries = {library for each in folders for library in ALLOWED[each][1]} | {'c', 'system', 'glib', 'gio', *more}
        if folder not in ('base', 'store', 'jobs', 'exchange'):
            libraries.discard('sqlite')
        else:
            libraries.add('sqlite')
        if folder == 'ui':
            folders = {'ui', *ALLOWED['ui'][0]}
        private = {self.root / 'src' / folder}
        if folder == 'ui':
            private |= {p for p in (self.root / 'src' / 'ui').rglob('*') if p.is_dir()}
        self.check_includes(path, strip_comments(path.read_text(encoding='utf-8')), folders, libraries,
                            private | {path.parent})

    def check_includes(self, path, code, folders, libraries, private):
        for match in INCLUDE.finditer(code):
            line, what = line_of(code, match.start()), match.group(1).strip()
            if re.fullmatch(r'<[^>]+>', what):
                self.check_library(path, line, what[1:-1], libraries)
            elif re.fullmatch(r'"[^"]+"', what):
                self.check_ours(path, line, what[1:-1], folders, private)
            else:
                self.say(path, line, 'an include that cannot be read: %s' % what)

    def check_library(self, path, line, header, libraries):
        library = library_of(header)
        if library is None:
            self.say(path, line, '<%s> is of no library in the table of layers' % header)
        elif library not in libraries:
            self.say(path, line, '<%s> (%s) is out of bounds here' % (header, library))

    def check_ours(self, path, line, header, folders, private):
        if '/' in header:
            self.say(path, line, '"%s": headers are included by their bare name' % header)
            return
        if header == 'config.h' and 'science' in folders and path.parent.name == 'science' and 'src' in path.parts:
            self.say(path, line, '"config.h" inside science/')
        beside = path.parent / header
        found = [beside] if beside.exists() else self.headers.get(header, [])
        if not found and (self.root / 'tests') in path.parents:
            # A test may use what the tests of a folder below have made up.
            found = [p for p in (self.root / 'tests' / folder / header for folder in sorted(folders)) if p.exists()]
        if not found:
            if not GENERATED.fullmatch(header):
                self.say(path, line, '"%s" is no header of ours' % header)
            return
        if (self.root / 'tests') in found[0].parents:
            return
        owner = self.folder_of(found[0])
        if owner not in folders:
            self.say(path, line, '"%s" of %s is out of bounds here' % (header, owner))
        elif header.endswith('-private.h') and found[0].parent not in private:
            self.say(path, line, '"%s" is private to %s' % (header, found[0].parent.name))

    def check_text(self, path):
        text = path.read_text(encoding='utf-8', errors='replace')
        for match in MACHINE_PATH.finditer(text):
            self.say(path, line_of(text, match.start()), 'a path of one machine')
        if path.suffix in ('.py', '.md'):
            return
        for match in MARK.finditer(text):
            self.say(path, line_of(text, match.start()), 'a mark of unfinished work')
        if path.suffix in ('.c', '.h'):
            for match in re.finditer(r'[ \t]+$|\t', text, re.M):
                self.say(path, line_of(text, match.start()), 'a tab or a blank at the end of the line')


def syntax_flags(entry):
    """The compiler's words for one source, without what names files."""
    words, kept = shlex.split(entry['command']), []
    skip = False
    for word in words:
        if skip:
            skip = False
        elif word in ('-o', '-MF', '-MQ', '-MT'):
            skip = True
        elif word not in ('-c', '-MD', '-MMD') and word != entry['file']:
            kept.append(word)
    return kept


def compile_header(header, entry):
    run = subprocess.run(syntax_flags(entry) + ['-fsyntax-only', '-x', 'c', '-'], cwd=entry['directory'],
                         input='#include "%s"\n' % header.name, capture_output=True, text=True)
    return run.stderr.strip() if run.returncode else ''


def check_headers(root, build):
    """Compiles each header alone with the flags of a source of its folder."""
    source = (root / 'src').resolve()
    flags = {}
    for entry in json.loads((build / 'compile_commands.json').read_text(encoding='utf-8')):
        path = (pathlib.Path(entry['directory']) / entry['file']).resolve()
        if source in path.parents:
            top = path.relative_to(source).parts[0]
            flags.setdefault('.' if top.endswith('.c') else top, entry)
    said, work = [], []
    for header in sorted(source.rglob('*.h')):
        top = header.relative_to(source).parts[0]
        entry = flags.get('.' if top.endswith('.h') else top)
        if entry is None:
            said.append('src/%s: nothing of this folder is compiled' % header.relative_to(source))
        else:
            work.append((header, entry))
    with concurrent.futures.ThreadPoolExecutor() as pool:
        for (header, _), failure in zip(work, pool.map(lambda pair: compile_header(*pair), work)):
            if failure:
                said.append('src/%s: does not compile alone:\n%s' % (header.relative_to(source), failure))
    return said


GOOD_TREE = {
    'src/base/tpt-time.h': '#pragma once\n#include <glib.h>\n',
    'src/base/db.h': '#pragma once\n#include "tpt-time.h"\n',
    'src/base/db.c': '#include "db.h"\n#include <sqlite3.h>\n',
    'src/science/sci-sun.h': '/* SELECT no SQL */\n#pragma once\n#include <math.h>\n',
    'src/science/sci-sun.c': '#include "sci-sun.h"\n#include <string.h>\n',
    'src/model/tpt-row.h': '#pragma once\n#include "tpt-time.h"\n',
    'src/store/tpt-store.h': '#pragma once\n#include "tpt-row.h"\n',
    'src/store/tpt-store-private.h': '#pragma once\n#include "db.h"\n',
    'src/store/tpt-store.c': '#include "config.h"\n#include "tpt-store-private.h"\n'
                             'const char *sql = "SELECT a FROM b";\n',
    'src/jobs/tpt-job.h': '#pragma once\n#include "tpt-store.h"\n',
    'src/ui/map/tpt-map.h': '#pragma once\n#include <gtk/gtk.h>\n#include <shumate/shumate.h>\n#include "tpt-job.h"\n',
    'src/batch.h': '#pragma once\n#include <gio/gio.h>\n',
    'src/batch-private.h': '#pragma once\n#include "tpt-job.h"\n',
    'src/batch-list.c': '#include "batch-private.h"\n',
    'src/batch.c': '#include "batch.h"\n#include "tpt-job.h"\n#include <json-glib/json-glib.h>\n',
    'src/main.c': '#include "batch.h"\n#include "tpt-map.h"\n#include <adwaita.h>\n'
                  'const char *t = "UPDATE";\n/* goto nowhere */\n',
    'tests/store/test-store.c': '#include "tpt-store-private.h"\n#include "tpt-time.h"\n',
    'tests/science/test-sun.c': '#include <glib.h>\n#include "sci-sun.h"\n',
}

BAD_FILES = (
    # file, contents, what is said about it
    ('src/science/sci-a.c', '#include <glib.h>\n', '<glib.h> (glib) is out of bounds'),
    ('src/science/sci-a.c', '#include <stdio.h>\n', '<stdio.h> (system) is out of bounds'),
    ('src/science/sci-a.c', '#include <time.h>\n', '<time.h> (system) is out of bounds'),
    ('src/science/sci-a.c', '#include "tpt-time.h"\n', '"tpt-time.h" of base is out of bounds'),
    ('src/science/sci-a.c', '#include "config.h"\n', '"config.h" inside science/'),
    ('src/science/sci-a.c', '#include <stdlib.h>\nint f (void) { return rand (); }\n', 'rand() inside science/'),
    ('src/base/tpt-a.c', '#include "tpt-row.h"\n', '"tpt-row.h" of model is out of bounds'),
    ('src/base/tpt-a.c', '#include <sqlite3.h>\n', '<sqlite3.h> (sqlite) is out of bounds'),
    ('src/model/tpt-a.c', '#include "tpt-store.h"\n', '"tpt-store.h" of store is out of bounds'),
    ('src/model/tpt-a.c', '#include <sqlite3.h>\n', '<sqlite3.h> (sqlite) is out of bounds'),
    ('src/store/tpt-a.c', '#include <gtk/gtk.h>\n', '<gtk/gtk.h> (gtk) is out of bounds'),
    ('src/store/tpt-a.c', '#  include <gdk/gdk.h>\n', '<gdk/gdk.h> (gtk) is out of bounds'),
    ('src/intake/tpt-a.c', '#include <shumate/shumate.h>\n', '<shumate/shumate.h> (shumate) is out of bounds'),
    ('src/intake/tpt-a.c', '#include "tpt-store.h"\n', '"tpt-store.h" of store is out of bounds'),
    ('src/exchange/tpt-a.c', '#include "tpt-store.h"\n', '"tpt-store.h" of store is out of bounds'),
    ('src/exchange/tpt-a.c', '#include <sqlite3.h>\n', '<sqlite3.h> (sqlite) is out of bounds'),
    ('src/exchange/tpt-a.c', '#include "sci-sun.h"\n', '"sci-sun.h" of science is out of bounds'),
    ('src/figures/tpt-a.c', '#include "tpt-row.h"\n', '"tpt-row.h" of model is out of bounds'),
    ('src/figures/tpt-a.c', '#include <adwaita.h>\n', '<adwaita.h> (adwaita) is out of bounds'),
    ('src/jobs/tpt-a.c', '#include "tpt-map.h"\n', '"tpt-map.h" of ui is out of bounds'),
    ('src/jobs/tpt-a.c', '#include "tpt-store-private.h"\n', '"tpt-store-private.h" is private to store'),
    ('src/jobs/tpt-a.c', 'const char *s = "DELETE FROM frames";\n', 'SQL text outside store/'),
    ('src/ui/map/tpt-a.c', '#include "tpt-store.h"\n', '"tpt-store.h" of store is out of bounds'),
    ('src/ui/map/tpt-a.c', '#include "sci-sun.h"\n', '"sci-sun.h" of science is out of bounds'),
    ('src/ui/map/tpt-a.c', '#include <sqlite3.h>\n', '<sqlite3.h> (sqlite) is out of bounds'),
    ('src/ui/map/tpt-a.c', 'const char *s = "SELECT count(*) FROM frames";\n', 'SQL text outside store/'),
    ('src/batch-print.c', '#include "tpt-row.h"\n', '"tpt-row.h" of model is out of bounds'),
    ('src/main.c', '#include "tpt-time.h"\n', '"tpt-time.h" of base is out of bounds'),
    ('src/main.c', '#include "batch-private.h"\n', '"batch-private.h" is private to'),
    ('src/batch-print.c', '#include <gtk/gtk.h>\n', '<gtk/gtk.h> (gtk) is out of bounds'),
    ('src/store/tpt-a.c', '#include "../base/tpt-time.h"\n', 'included by their bare name'),
    ('src/store/tpt-a.c', '#include "base/tpt-time.h"\n', 'included by their bare name'),
    ('src/store/tpt-a.c', '#include HEADER\n', 'an include that cannot be read'),
    ('src/store/tpt-a.c', '#include "tpt-nowhere.h"\n', 'is no header of ours'),
    ('src/store/tpt-a.c', '#include <curl/curl.h>\n', 'is of no library in the table'),
    ('src/store/tpt-a.h', '#include <glib.h>\n', 'a header begins with #pragma once'),
    ('src/store/tpt-time.h', '#pragma once\n', 'names are unique'),
    ('src/cards/tpt-a.c', '\n', 'the table of layers has no cards'),
    ('src/store/tpt-a.c', 'void f (void) { goto out; out:; }\n', 'goto'),
    ('src/store/tpt-a.c', '/* TO' 'DO: the rest */\n', 'a mark of unfinished work'),
    ('src/store/tpt-a.c', 'const char *p = "/ho' 'me/ana/cards";\n', 'a path of one machine'),
    ('src/store/tpt-a.c', 'int a;  \n', 'a blank at the end of the line'),
    ('tests/model/test-a.c', '#include "tpt-store.h"\n', '"tpt-store.h" of store is out of bounds'),
    ('tests/jobs/test-a.c', '#include "tpt-map.h"\n', '"tpt-map.h" of ui is out of bounds'),
    ('tests/figures/test-a.c', '#include <gtk/gtk.h>\n', '<gtk/gtk.h> (gtk) is out of bounds'),
    ('tests/jobs/test-a.c', '#include "tpt-store-private.h"\n', '"tpt-store-private.h" is private to store'),
)


def write_tree(root, files):
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding='utf-8')


def find_cycles():
    return [name for name in ALLOWED for below in ALLOWED[name][0] if name in transitive(below)]


def test_files():
    wrong = []
    for bad in (None, *BAD_FILES):
        with tempfile.TemporaryDirectory() as folder:
            root = pathlib.Path(folder)
            write_tree(root, GOOD_TREE)
            if bad:
                write_tree(root, {bad[0]: bad[1]})
            said = Checker(root).check()
        if bad is None and said:
            wrong.append('a good tree: %s' % said)
        elif bad is not None and (not any(bad[2] in line for line in said)):
            wrong.append('%s with %r: expected "%s", got %s' % (*bad, said))
        elif bad is not None and any(line.split(':')[0] != bad[0] and 'unique' not in bad[2] for line in said):
            wrong.append('%s with %r: said of another file: %s' % (bad[0], bad[1], said))
    return wrong


def test_headers():
    files = {
        'src/a/good.c': '\n',
        'src/a/good.h': '#pragma once\n#include <stddef.h>\nsize_t f (void);\n',
        'src/a/bad.h': '#pragma once\nsize_t g (void);\n',
        'src/b/lost.h': '#pragma once\n',
    }
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        write_tree(root, files)
        command = {'directory': folder, 'file': 'src/a/good.c', 'command': 'cc -Isrc/a -MD -MF x.d -o x.o -c src/a/good.c'}
        write_tree(root, {'build/compile_commands.json': json.dumps([command])})
        said = check_headers(root, root / 'build')
    heads = sorted(line.split('\n')[0] for line in said)
    expected = ['src/a/bad.h: does not compile alone:', 'src/b/lost.h: nothing of this folder is compiled']
    return [] if heads == expected else ['headers: expected %s, got %s' % (expected, said)]


def main(arguments):
    if arguments == ['--self-test']:
        said = ['a cycle through %s' % name for name in find_cycles()] + test_files() + test_headers()
    elif len(arguments) == 1 or (len(arguments) == 3 and arguments[1] == '--build'):
        root = pathlib.Path(arguments[0]).resolve()
        said = Checker(root).check()
        if len(arguments) == 3:
            said += check_headers(root, pathlib.Path(arguments[2]))
    else:
        print(__doc__, file=sys.stderr)
        return 2
    for line in said:
        print(line, file=sys.stderr)
    return 1 if said else 0


if __name__ == '__main__':
    sys.exit(main(sys.argv[1:]))
