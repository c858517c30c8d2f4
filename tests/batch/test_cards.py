"""Cards as they come home: pulled out half-way, full of namesakes, failing, strange. Nothing is lost and nothing taken twice.

    test_cards.py TAPETUM BAD-CARD-LIBRARY

The promise is checked by comparing the hashes of every file of every card with the copies and with the records.
"""

import collections
import hashlib
import os
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'data', 'cameras'))
import make_cameras  # noqa: E402
from terminal import Skip, equal, list_tree, query, read_bytes, run_cases, write_bytes, write_csv  # noqa: E402


def picture(date, number=0, extra=0):
    """A JPEG of a made-up camera; @number makes it another picture of the same second, @extra so many bytes longer."""
    camera = make_cameras.Camera('card', 'Invented', 'Trail 1', (90 + number % 100, 120, 90), date, body_serial='INV-7', flash=1)
    app1 = make_cameras.make_app1(camera, None, '<')
    return camera.jpeg(make_cameras.SMALL, app1) + b'\0%d' % number + bytes(extra)


def second(number, gap=1):
    """The @number-th picture's time: one every @gap seconds from seven in the morning."""
    at = 7 * 3600 + number * gap
    return '2026:05:14 %02d:%02d:%02d' % (at // 3600, at // 60 % 60, at % 60)


def make_project(program, folder):
    project = program.new(os.path.join(folder, 'p.gpkg'))
    program.run('import', project, write_csv(os.path.join(folder, 's.csv'), 'station', [['S'], ['T']]),
                write_csv(os.path.join(folder, 'd.csv'), 'deployment,station,start,frames_per_trigger',
                          [['D', 'S', '2026-05-01T00:00', '3'], ['E', 'T', '2026-05-01T00:00', '3']]))
    return project


def fill(card, names, start=0, extra=0):
    """One picture a second, in this order; equal @start and names make equal cards."""
    for number, name in enumerate(names, start):
        write_bytes(os.path.join(card, name), picture(second(number), number, extra))
    return card


def hash_pictures(*cards):
    """The contents of all pictures, each once."""
    return {content for card in cards for content in list_tree(card).values()}


def keep_promise(program, project, *cards, but=()):
    """Every picture of every @cards is on record once and lies in the pictures' folder once, bit for bit; but for @but, contents
    that must not be there."""
    wanted = hash_pictures(*cards) - set(but)
    rows = query(project, 'SELECT sha256, file FROM frames')
    equal(collections.Counter(sha256 for sha256, _ in rows), collections.Counter(wanted), 'contents on record')
    base = os.path.dirname(project)
    for sha256, file in rows:
        equal(hashlib.sha256(read_bytes(os.path.join(base, file))).hexdigest(), sha256, file)
    copies = list_tree(os.path.join(base, 'pictures'))
    equal(collections.Counter(copies.values()), collections.Counter(wanted), 'copies')
    equal(program.problems(project, '--pictures'), [], 'problems')


def times_in_order(project):
    """The sources of the frames as they follow one another in time."""
    return [os.path.basename(file) for file, in query(project, 'SELECT file FROM frames ORDER BY at, id')]


def counter_wrapped(program, folder):
    """9999 is followed by 0001 in the next folder, as DCF (CIPA DC-009, 3.2) has it: order and triggers go on over it."""
    project = make_project(program, folder)
    names = ['DCIM/100TRAIL/IMG_%04d.JPG' % n for n in range(9994, 10000)] + ['DCIM/101TRAIL/IMG_%04d.JPG' % n for n in range(1, 7)]
    card = fill(os.path.join(folder, 'card'), names)
    result = program.json('intake', project, '--deployment', 'D', card)
    equal((result['frames'], result['triggers'], result['duplicates']), (12, 4, 0), 'frames, triggers, duplicates')
    equal(times_in_order(project), [os.path.basename(name) for name in names], 'order')
    keep_promise(program, project, card)


def counter_wrapped_in_one_folder(program, folder):
    """Cameras that stay in their folder: by name 0001 would come first, the times decide."""
    project = make_project(program, folder)
    names = ['DCIM/100/IMG_%04d.JPG' % n for n in (9997, 9998, 9999, 1, 2, 3)]
    card = fill(os.path.join(folder, 'card'), names)
    result = program.json('intake', project, '--deployment', 'D', card)
    equal((result['frames'], result['triggers']), (6, 2), 'frames, triggers')
    equal(times_in_order(project), [os.path.basename(name) for name in names], 'order')
    grouped = query(project, 'SELECT group_concat(file) FROM frames GROUP BY trigger_id ORDER BY min(at)')
    assert all('9999' in text or '0003' in text for text, in grouped) and '0001' not in grouped[0][0], grouped
    keep_promise(program, project, card)


def same_names_in_two_folders(program, folder):
    project = make_project(program, folder)
    names = ['DCIM/%d/IMG_%04d.JPG' % (number, n) for number in (100, 101, 102) for n in range(1, 7)]
    card = fill(os.path.join(folder, 'card'), names)
    result = program.json('intake', project, '--deployment', 'D', card)
    equal((result['frames'], result['duplicates']), (18, 0), 'frames, duplicates')
    files = [file for file, in query(project, 'SELECT file FROM frames ORDER BY at')]
    equal([file.split('DCIM/')[1] for file in files], [name.split('DCIM/')[1] for name in names], 'order')
    keep_promise(program, project, card)


NAMES = ['DCIM/100/IMG_%04d.JPG' % n for n in range(1, 10)]


def two_cards_of_one_deployment(program, folder):
    """The second has the first one's names, and two of its very pictures."""
    project = make_project(program, folder)
    one, two = fill(os.path.join(folder, 'one'), NAMES), fill(os.path.join(folder, 'two'), NAMES[:7], start=100)
    fill(two, NAMES[7:], start=7)
    equal(program.json('intake', project, '--deployment', 'D', one)['frames'], 9, 'frames of the first')
    result = program.json('intake', project, '--deployment', 'D', two)
    equal((result['frames'], result['duplicates']), (7, 2), 'frames and duplicates of the second')
    keep_promise(program, project, one, two)


def two_cards_of_two_deployments(program, folder):
    project = make_project(program, folder)
    one, two = fill(os.path.join(folder, 'one'), NAMES), fill(os.path.join(folder, 'two'), NAMES, start=100)
    program.run('intake', project, '--deployment', 'D', one)
    equal(program.json('intake', project, '--deployment', 'E', two)['frames'], 9, 'frames of the second')
    equal(query(project, 'SELECT deployment, count(*) FROM frames JOIN deployments ON deployments.id = deployment_id GROUP BY 1'),
          [('D', 9), ('E', 9)], 'frames by deployment')
    keep_promise(program, project, one, two)


def one_card_twice(program, folder):
    """Again into its deployment, then into another by mistake: known each time."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    program.run('intake', project, '--deployment', 'D', card)
    for deployment in 'DE':
        result = program.json('intake', project, '--deployment', deployment, card)
        equal((result['batch'], result['frames'], result['duplicates']), (None, 0, 9), 'again into ' + deployment)
    keep_promise(program, project, card)


def one_picture_twice_on_a_card(program, folder):
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    write_bytes(os.path.join(card, 'DCIM/101/COPY.JPG'), read_bytes(os.path.join(card, NAMES[0])))
    result = program.json('intake', project, '--deployment', 'D', card)
    equal((result['frames'], result['duplicates']), (9, 1), 'frames, duplicates')
    keep_promise(program, project, card)


def strange_names(program, folder):
    """Bytes that are no UTF-8, names that differ in case or become equal when made safe, blanks, long names and paths."""
    project = make_project(program, folder)
    card = os.path.join(folder, 'card')
    deep = '/'.join(['a folder of a name that is long enough to add up'] * 20)
    names = [b'DCIM/IMG_1.JPG', b'DCIM/img_1.jpg', b'dcim/IMG_1.JPG', b'DCIM/Stra\xdfe.JPG', b'DCIM/Stra\xc3\x9fe.JPG',
             b'DCIM/Stra\xdee.JPG', b'DCIM/a:b.JPG', b'DCIM/a?b.JPG', b'DCIM/a_b.JPG', b'DCIM/-rf.JPG', b'DCIM/two\nlines.JPG',
             b'DCIM/ .JPG', b'DCIM/\xe7\x8c\xab.JPG', b'DCIM/e\xcc\x81.JPG', b'DCIM/\xc3\xa9.JPG', b'DCIM/' + b'n' * 251 + b'.JPG',
             b'DCIM/' + b'\xc3\xa9' * 125 + b'.JPG', deep.encode() + b'/IMG_1.JPG', b'DCIM/CON.JPG', b'IMG_1.JPG']
    for number, name in enumerate(names):
        write_bytes(os.path.join(card.encode(), name), picture(second(number), number))
    result = program.json('intake', project, '--deployment', 'D', card)
    equal((result['frames'], result['unreadable']), (len(names), []), 'frames, unreadable')
    keep_promise(program, project, card)
    files = [file for file, in query(project, 'SELECT file FROM frames')]
    equal(len({file.casefold() for file in files}), len(names), 'names that differ by more than case')
    equal(program.json('intake', project, '--deployment', 'D', card)['duplicates'], len(names), 'the second time')


def links_in_circles(program, folder):
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    for place, target in (('DCIM/round', '..'), ('DCIM/100/self', 'self'), ('DCIM/100/there', '../other'), ('DCIM/other', '100/there'),
                          ('DCIM/100/IMG_0010.JPG', 'IMG_0001.JPG')):
        os.symlink(target, os.path.join(card, place))
    equal(program.json('intake', project, '--deployment', 'D', card)['frames'], 9, 'frames')
    for place in ('DCIM/round', 'DCIM/100/self', 'DCIM/100/there', 'DCIM/other', 'DCIM/100/IMG_0010.JPG'):
        os.remove(os.path.join(card, place))
    keep_promise(program, project, card)


def empty_files(program, folder):
    """A frame that was being written when the battery gave out."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    for name in ('DCIM/100/IMG_0010.JPG', 'DCIM/100/IMG_0011.CR2', 'DCIM/100/IMG_0012.MP4'):
        write_bytes(os.path.join(card, name), b'')
    result = program.json('intake', project, '--deployment', 'D', card, status=1)
    equal(result['frames'], 9, 'frames')
    assert all('empty' in note['reason'] for note in result['unreadable']) and result['unreadable'], result['unreadable']
    equal(len(query(project, 'SELECT * FROM frames')), 9, 'frames on record')


def in_a_namespace(program, script, *words):
    """Runs the command as root of a world of mounts of its own, after @script."""
    if subprocess.run(['unshare', '-rm', 'true'], stderr=subprocess.DEVNULL, check=False).returncode:
        raise Skip('this system lets nobody have mounts of their own')
    done = subprocess.run(['unshare', '-rm', 'sh', '-ec', script + '\nexec "$0" "$@"', program.path, *words], env=program.env,
                          capture_output=True, text=True, timeout=120, check=False)
    return done.returncode, done.stdout, done.stderr


def card_that_cannot_be_written(program, folder):
    """The card's switch at 'lock'."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    before = list_tree(card, times=True)
    lock = 'mount --bind "%s" "%s"\nmount -o remount,ro,bind "%s"\n! touch "%s/x" 2>/dev/null' % ((card,) * 4)
    status, out, said = in_a_namespace(program, lock, 'intake', project, '--deployment', 'D', card)
    equal((status, said), (0, ''), out)
    equal(list_tree(card, times=True), before, 'the card')
    keep_promise(program, project, card)


def small_disk_fills_up(program, folder):
    """36 megabytes of room of which intake keeps 32 for the project: refused in words, before the first file; then taken."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES, extra=1_000_000)
    pictures = os.path.join(folder, 'pictures')
    os.mkdir(pictures)
    disk = 'mount -t tmpfs -o size=36m tmpfs "%s"' % pictures
    status, _, said = in_a_namespace(program, disk, 'intake', project, '--deployment', 'D', card)
    equal(status, 1, 'exit status')
    assert 'too little space' in said and pictures in said, said
    equal(query(project, 'SELECT count(*) FROM frames'), [(0,)], 'frames on record')
    program.run('intake', project, '--deployment', 'D', card)
    keep_promise(program, project, card)


def spoil(program, what, path, after, folder=''):
    """What makes a run meet a failing card."""
    bad = {'LD_PRELOAD': program.extra[0], 'BAD_CARD_WHAT': what, 'BAD_CARD_PATH': path, 'BAD_CARD_AFTER': str(after),
           'BAD_CARD_FOLDER': folder}
    if program.run('--version', status=None, env=bad).status != 0:
        raise Skip('this build takes no library before its own')
    return bad


def bad_spot(program, folder):
    """One file that cannot be read past its middle costs that file only, says so, and is taken when it reads again."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES, extra=600_000)
    before = list_tree(card, times=True)
    lost = before['DCIM/100/IMG_0004.JPG'][0]
    bad = spoil(program, 'spoil', 'card/DCIM/100/IMG_0004', 300_000)
    result = program.json('intake', project, '--deployment', 'D', card, status=1, env=bad)
    equal(result['frames'], 8, 'frames')
    note, = result['unreadable']
    assert note['file'].endswith('IMG_0004.JPG') and note['kept_as'] is None and 'device failed' in note['reason'], note
    keep_promise(program, project, card, but=[lost])
    verified = program.json('intake', project, '--deployment', 'D', card, '--verify-only', status=1)
    assert any('IMG_0004' in note['file'] for note in verified['missing']), verified
    equal(program.json('intake', project, '--deployment', 'D', card)['frames'], 1, 'frames when the spot reads again')
    keep_promise(program, project, card)
    equal(list_tree(card, times=True), before, 'the card')


def bad_card(program, folder):
    """When nothing can be read any more, the run ends, the project is as before, and what is copied is not copied again."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES, extra=600_000)
    result = program.run('intake', project, '--deployment', 'D', card, status=1, env=spoil(program, 'spoil', 'card/DCIM', 300_000))
    assert 'device failed' in result.err, result
    equal(query(project, 'SELECT count(*) FROM frames'), [(0,)], 'frames on record')
    program.run('intake', project, '--deployment', 'D', card)
    keep_promise(program, project, card)


def pulled_out(number):
    """In the middle of the @number-th file."""
    def case(program, folder):
        project = make_project(program, folder)
        card = fill(os.path.join(folder, 'card'), NAMES, extra=600_000)
        before = list_tree(card, times=True)
        bad = spoil(program, 'pull', 'card/' + NAMES[number - 1], 300_000, card)
        result = program.run('intake', project, '--deployment', 'D', card, status=1, env=bad)
        assert 'taken out' in result.err and os.path.basename(NAMES[number - 1]) in result.err, result
        assert not os.path.exists(card), 'nobody pulled'
        equal(query(project, 'SELECT count(*) FROM frames'), [(0,)], 'frames on record')
        equal(program.problems(project), [], 'problems')
        result = program.run('intake', project, '--deployment', 'D', card, status=1)
        assert card in result.err, result
        os.rename(card + '.gone', card)
        equal(program.json('intake', project, '--deployment', 'D', card)['frames'], 9, 'frames with the card back')
        keep_promise(program, project, card)
        equal(list_tree(card, times=True), before, 'the card')
    return case


def changed_while_read(what):
    """A file that somebody writes to meanwhile is not taken for a picture; it is when it keeps still."""
    def case(program, folder):
        project = make_project(program, folder)
        card = fill(os.path.join(folder, 'card'), NAMES, extra=600_000)
        changed = os.path.join(card, NAMES[4])
        before = os.path.getsize(changed)
        bad = spoil(program, what, 'card/' + NAMES[4], 300_000)
        result = program.json('intake', project, '--deployment', 'D', card, status=1, env=bad)
        note, = result['unreadable']
        assert os.path.getsize(changed) != before, 'nothing changed'
        assert 'changed' in note['reason'] and note['kept_as'] is None, note
        keep_promise(program, project, card, but=[hashlib.sha256(read_bytes(changed)).hexdigest()])
        equal(program.json('intake', project, '--deployment', 'D', card)['frames'], 1, 'frames when it keeps still')
        keep_promise(program, project, card)
    return case


def folder_that_is_shut(program, folder):
    """A folder that cannot be listed is told of, since frames may be in it."""
    project = make_project(program, folder)
    card = fill(os.path.join(folder, 'card'), NAMES)
    shut = os.path.join(card, 'DCIM', '101')
    fill(card, ['DCIM/101/IMG_0001.JPG'], start=50)
    os.chmod(shut, 0)
    # without the right to pass over rights, which root has
    ways = (['setpriv', '--inh-caps=-all', '--bounding-set=-all'],) if os.geteuid() == 0 else ([],)
    try:
        if os.geteuid() == 0 and subprocess.run([*ways[0], 'ls', shut], capture_output=True, check=False).returncode == 0:
            raise Skip('root passes over rights here')
        done = subprocess.run([*ways[0], program.path, 'intake', project, '--deployment', 'D', card], env=program.env, capture_output=True,
                              text=True, timeout=60, check=False)
    finally:
        os.chmod(shut, 0o755)
    equal(done.returncode, 1, 'exit status')
    assert '101' in done.stdout + done.stderr, (done.stdout, done.stderr)
    equal(program.json('intake', project, '--deployment', 'D', card)['frames'], 1, 'frames when it opens')
    keep_promise(program, project, card)


def main():
    return run_cases([
        ('the counter wrapped into a new folder', counter_wrapped),
        ('the counter wrapped in one folder', counter_wrapped_in_one_folder),
        ('the same names in three folders', same_names_in_two_folders),
        ('two cards with the same names, one deployment', two_cards_of_one_deployment),
        ('two cards with the same names, two deployments', two_cards_of_two_deployments),
        ('one card again and again', one_card_twice),
        ('one picture twice on a card', one_picture_twice_on_a_card),
        ('strange names', strange_names),
        ('links in circles', links_in_circles),
        ('empty files', empty_files),
        ('a card that cannot be written to', card_that_cannot_be_written),
        ('too small a disk', small_disk_fills_up),
        ('a bad spot in one file', bad_spot),
        ('a card that fails altogether', bad_card),
        ('pulled out in the first file', pulled_out(1)),
        ('pulled out in the middle', pulled_out(5)),
        ('pulled out in the last file', pulled_out(9)),
        ('a file cut while it is read', changed_while_read('cut')),
        ('a file that grows while it is read', changed_while_read('grow')),
        ('a folder that is shut', folder_that_is_shut),
    ])


if __name__ == '__main__':
    sys.exit(main())
