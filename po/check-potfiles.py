#!/usr/bin/env python3
"""Checks that POTFILES names every file with words to translate, in order.

    po/check-potfiles.py ROOT            says what is missing or too much
    po/check-potfiles.py ROOT --write    writes POTFILES anew
    po/check-potfiles.py --self-test     checks the check
"""

import pathlib
import re
import sys
import tempfile

CALL = re.compile(r'(?<![A-Za-z0-9_])(?:_|N_|C_|NC_|Q_|ngettext|g_dngettext|g_dpgettext2?)\s*\(\s*"')
TRANSLATABLE = re.compile(r'translatable="(?:yes|true)"')
COMMENT = re.compile(r'/\*.*?\*/|//[^\n]*', re.S)
DATA = ('data/*.desktop.in', 'data/*.metainfo.xml.in', 'data/*.mime.xml.in', 'data/*.gschema.xml')


def has_words(path):
    text = path.read_text(encoding='utf-8')
    if path.suffix == '.ui':
        return TRANSLATABLE.search(text) is not None
    return CALL.search(COMMENT.sub('', text)) is not None


def expected(root):
    found = [p for pattern in DATA for p in root.glob(pattern)]
    for suffix in ('.c', '.h', '.ui'):
        found += [p for p in (root / 'src').rglob('*' + suffix) if has_words(p)]
    return sorted(p.relative_to(root).as_posix() for p in found)


def listed(root):
    lines = (root / 'po' / 'POTFILES').read_text(encoding='utf-8').splitlines()
    return [line for line in lines if line and not line.startswith('#')]


def complaints(root):
    want, have = expected(root), listed(root)
    said = ['%s has words to translate and is not in po/POTFILES' % p for p in sorted(set(want) - set(have))]
    said += ['%s is in po/POTFILES and has no words to translate' % p for p in sorted(set(have) - set(want))]
    if not said and want != have:
        said.append('po/POTFILES is not in order or names a file twice')
    return said


def self_test():
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / 'src' / 'a').mkdir(parents=True)
        (root / 'po').mkdir()
        (root / 'src' / 'a' / 'words.c').write_text('g_print ("%s", _("Visit"));\n')
        (root / 'src' / 'a' / 'none.c').write_text('/* _("not this") */ int max_("x");\n')
        (root / 'src' / 'a' / 'words.ui').write_text('<property name="label" translatable="yes">Visit</property>\n')
        cases = (
            ('src/a/words.c\nsrc/a/words.ui\n', 0),
            ('src/a/words.c\n', 1),
            ('src/a/none.c\nsrc/a/words.c\nsrc/a/words.ui\n', 1),
            ('src/a/words.ui\nsrc/a/words.c\n', 1),
            ('', 2),
        )
        for text, count in cases:
            (root / 'po' / 'POTFILES').write_text(text)
            got = complaints(root)
            if len(got) != count:
                print('with %r: %d complaints expected, got %r' % (text, count, got), file=sys.stderr)
                return 1
    return 0


def main(arguments):
    if arguments == ['--self-test']:
        return self_test()
    if len(arguments) not in (1, 2) or arguments[1:] not in ([], ['--write']):
        print(__doc__, file=sys.stderr)
        return 2
    root = pathlib.Path(arguments[0])
    if arguments[1:]:
        (root / 'po' / 'POTFILES').write_text('\n'.join(expected(root)) + '\n', encoding='utf-8')
        return 0
    said = complaints(root)
    for line in said:
        print(line, file=sys.stderr)
    if said:
        print('To put it right: po/check-potfiles.py . --write', file=sys.stderr)
    return 1 if said else 0


if __name__ == '__main__':
    sys.exit(main(sys.argv[1:]))
