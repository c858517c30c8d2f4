"""Things that go wrong on purpose: every writing step failing once, kill -9, hostile input, a full disk.

Afterwards `tapetum check` finds nothing and the project is wholly before or wholly after."""

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'batch'))
import samples  # noqa: E402
from terminal import Skip, dump, equal, list_tree, query, read_bytes, run_cases, without_history, write_bytes, write_csv  # noqa: E402

KILLS = 50
FRAMES = 240


def make_ground(program, folder):
    """A project with every table in it, and a card for its first deployment."""
    project = program.new(os.path.join(folder, 'p.gpkg'))
    tables = samples.write_tables(os.path.join(folder, 'tables'))
    program.run('import', project, *[path for name, path in tables.items() if name != 'frames'])
    return project, tables


def one_picture(program):
    """A drawn JPEG with its own date, of the demo."""
    demo = os.path.join(program.env['HOME'], 'demo')
    if not os.path.exists(demo):
        program.demo(demo)
    card = os.path.join(demo, 'cards', 'card-moss', 'DCIM', '100TRAIL')
    return read_bytes(os.path.join(card, sorted(os.listdir(card))[0]))


def make_card(program, folder, n):
    """@n pictures that differ only after their end marker, so by content."""
    picture = one_picture(program)
    for number in range(n):
        path = os.path.join(folder, 'card', 'DCIM', 'IMG_%04d.JPG' % number)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        write_bytes(path, picture + b'\0' * 16 + str(number).encode())
    return os.path.join(folder, 'card')


def leftovers(folder):
    return [path for path in list_tree(folder) if '.tapetum-part' in path or path.endswith(('-journal', '.part'))]


def restore(kept, ground):
    shutil.rmtree(ground)
    shutil.copytree(kept, ground)


def fail_every_step(make_words, most=400):
    """The command with its 1st, 2nd, ... writing step failing, each time from the same ground, until none is left.

    A failure that the program puts up with ends in exit status 0: so it goes on until several numbers in a row do."""
    def case(program, folder):
        ground, kept = os.path.join(folder, 'ground'), os.path.join(folder, 'kept')
        os.mkdir(ground)
        words = make_words(program, ground)
        project, card = os.path.join(ground, 'p.gpkg'), os.path.join(ground, 'card')
        shutil.copytree(ground, kept)
        assert program.run(*words, status=None).status in (0, 1)
        before, after = dump(os.path.join(kept, 'p.gpkg')), dump(project)
        whole = list_tree(ground)
        originals = set(list_tree(card).values())
        failed = passed = 0
        step = 1
        while step <= most and passed < 4:
            restore(kept, ground)
            result = program.run(*words, status=None, env={'TAPETUM_FAULT': str(step)})
            good = check_state(program, project, result, step, before, after)
            check_files(list_tree(ground), list_tree(kept), whole, originals, step)
            failed += not good
            passed = passed + 1 if good else 0
            if not good and step % 5 == 1:
                finish(program, words, ground, after, whole)
            step += 1 if step < 60 else max(1, step // 12)
        assert failed > 0 and passed == 4, 'failed %d times up to step %d' % (failed, step)
    return case


def check_state(program, project, result, step, before, after):
    """Whether it was done after all; the project must agree."""
    good = 'on purpose' not in result.err
    assert good == (result.status == 0) and result.status >= 0, 'step %d: %s' % (step, result)
    equal(program.problems(project), [], 'problems after step %d' % step)
    assert dump(project) == (after if good else before), 'the project is not wholly %s step %d' % ('after' if good else 'before', step)
    return good


def check_files(found, old, new, originals, step):
    """The card as it was; every other file as before, as after, or a copy on its way under a name that says so."""
    for path, content in found.items():
        if path == 'p.gpkg':
            continue
        known = content in (old.get(path), new.get(path))
        assert known or (path not in new and not path.startswith('card')), 'step %d left %s half done' % (step, path)
        if path.startswith('pictures') and path in new:
            assert content in originals, 'step %d: %s is not as on the card' % (step, path)
    assert all(path in found for path in old), 'step %d took a file away' % step


def finish(program, words, ground, after, whole):
    """Run again, it ends as if nothing had happened, and nothing is left lying about."""
    assert program.run(*words, status=None).status in (0, 1)
    project = os.path.join(ground, 'p.gpkg')
    assert dump(project)['frames'] == after['frames'], 'other frames after the second run'
    equal(program.problems(project, *(['--pictures'] if words[0] == 'intake' else [])), [], 'problems at the end')
    found = list_tree(ground)
    found.pop('p.gpkg')
    equal(found, {path: content for path, content in whole.items() if path != 'p.gpkg'}, 'files at the end')


def words_import(program, ground):
    project, _ = make_ground(program, ground)
    path = write_csv(os.path.join(ground, 'more.csv'), 'station,latitude,longitude',
                     [['N%03d' % i, '2.%03d' % i, '113.%03d' % i] for i in range(40)])
    return ['import', project, path]


def words_import_frames(program, ground):
    project, tables = make_ground(program, ground)
    return ['import', project, tables['frames']]


def words_import_gpx(program, ground):
    project, _ = make_ground(program, ground)
    path = os.path.join(ground, 'a.gpx')
    write_bytes(path, samples.GPX.encode())
    return ['import', project, path]


def words_intake(program, ground):
    project, _ = make_ground(program, ground)
    return ['intake', project, '--deployment', 'D1', make_card(program, ground, 12)]


def words_figure(program, ground):
    project, _ = make_ground(program, ground)
    # the period ends on a day: a deployment that still runs would make another figure a moment later
    return ['figure', project, 'strip', '-o', os.path.join(ground, 'a.svg'), '--to', '2024-04-01']


def words_import_sheet(program, ground):
    project, _ = make_ground(program, ground)
    path = write_csv(os.path.join(ground, 'sheet.csv'), 'station,at,found,frames_on_card,unit,state,percent,action',
                     [['S1', '2024-04-05T10:00', 'working', '120', 'C1', 'working', '40', 'swapped']])
    return ['import', project, path]


def words_sheet(program, ground):
    project, _ = make_ground(program, ground)
    return ['sheet', project, 'visit', '-o', os.path.join(ground, 'a.pdf'), '--station', 'S1', '--on', '2024-04-10', '--until', '2024-05-01']


def new_project_failing(program, folder):
    """A new project is there wholly or not at all."""
    for step in range(1, 60):
        path = os.path.join(folder, 'n%d.gpkg' % step)
        result = program.run('new', path, '--name', 'N', '--zone', 'UTC', status=None, env={'TAPETUM_FAULT': str(step)})
        if 'on purpose' not in result.err:
            assert step > 3, 'no step failed'
            return
        assert not os.path.exists(path), 'step %d left half a project' % step
    raise AssertionError('a new project takes more steps than there can be')


def figure_failing_keeps_the_old(program, folder):
    """A figure that cannot be written leaves the one from before."""
    project, _ = make_ground(program, folder)
    path = os.path.join(folder, 'a.svg')
    program.run('figure', project, 'strip', '-o', path)
    before = read_bytes(path)
    program.run('figure', project, 'strip', '-o', path, '--from', '2024-04-01', status=1, env={'TAPETUM_FAULT': '2'})
    equal(read_bytes(path), before, 'the figure of before')
    equal([name for name in os.listdir(folder) if name.startswith('.')], [], 'hidden leftovers')


def kill_at(program, words, delay):
    """Runs the command and kills it after @delay seconds, if it is still there."""
    child = program.start(*words)
    try:
        child.wait(delay)
    except subprocess.TimeoutExpired:
        child.send_signal(signal.SIGKILL)
    return child.wait()


def kill_often(make_words, table, after):
    """kill -9 at random moments of a run from the start; each time before or after, and the next run ends it."""
    def case(program, folder):
        chance = random.Random(after)
        words = make_words(program, folder)
        project, spare = os.path.join(folder, 'p.gpkg'), os.path.join(folder, 'spare.gpkg')
        pictures = os.path.join(folder, 'pictures')
        card = list_tree(os.path.join(folder, 'card'), times=True)
        shutil.copy(project, spare)
        began = time.monotonic()
        program.run(*words)
        whole = time.monotonic() - began
        old, new, tree = dump(spare), dump(project), list_tree(pictures)
        killed = tries = 0
        while killed < KILLS and tries < 8 * KILLS:
            tries += 1
            shutil.copy(spare, project)
            shutil.rmtree(pictures, ignore_errors=True)
            killed += kill_at(program, words, chance.uniform(0, whole)) == -signal.SIGKILL
            equal(program.problems(project), [], 'problems')
            assert dump(project) in (old, new), 'neither wholly before nor wholly after'
            program.run(*words)
            end_as_if_nothing(project, new, tree, table)
            equal(program.problems(project, *(['--pictures'] if tries % 5 == 0 else [])), [], 'problems at the end')
            equal(list_tree(pictures), tree, 'pictures')
        equal(killed, KILLS, 'runs killed in the middle')
        equal(list_tree(os.path.join(folder, 'card'), times=True), card, 'the card')
        equal(leftovers(folder), [], 'leftovers')
    return case


def end_as_if_nothing(project, new, tree, table):
    """Nothing twice, nothing missing. (Codes of batches and counts of duplicates may tell of the run that was killed.)"""
    equal(len(dump(project)[table]), len(new[table]), 'rows of ' + table)
    if tree:
        names = query(project, 'SELECT count(*), count(DISTINCT file), count(DISTINCT sha256) FROM frames')
        equal(names, [(len(tree),) * 3], 'frames')


def words_big_intake(program, folder):
    project, _ = make_ground(program, folder)
    return ['intake', project, '--deployment', 'D1', make_card(program, folder, FRAMES)]


def words_big_import(program, folder):
    project, _ = make_ground(program, folder)
    rows = [['X%05d' % i, 'D1', '2024-04-%02dT%02d:%02d' % (1 + i % 28, i % 24, i % 60), 'animal', 'Sus barbatus'] for i in range(4000)]
    path = write_csv(os.path.join(folder, 'big.csv'), 'observation,deployment,start,type,scientific_name', rows)
    return ['import', project, path]


def kill_copies_nothing_twice(program, folder):
    """A card killed over and over ends with each picture in the folder once."""
    chance = random.Random(4)
    words = words_big_intake(program, folder)
    card = list_tree(os.path.join(folder, 'card'), times=True)
    for _ in range(12):
        kill_at(program, words, chance.uniform(0.02, 0.25))
    program.run(*words)
    pictures = [path for path in list_tree(os.path.join(folder, 'pictures')) if not os.path.basename(path).startswith('.')]
    equal(len(pictures), FRAMES, 'pictures')
    equal(list_tree(os.path.join(folder, 'card'), times=True), card, 'the card')


# Hostile files: name, content, words before the file, exit status, what is said.
HOSTILE = [
    ('column.csv', b'station,colour\nA,red\n', 1, 'colour'),
    ('nan.csv', b'station,latitude,longitude\nA,NaN,113\n', 1, 'latitude'),
    ('infinite.csv', b'station,latitude,longitude\nA,inf,113\n', 1, 'latitude'),
    ('swapped.csv', b'station,latitude,longitude\nA,113.0,2.4\n', 1, 'latitude'),
    ('long.csv', b'station,notes\nA,' + b'x' * 10_000_000 + b'\n', 1, 'line'),
    ('quote.csv', b'station,notes\nA,"never closed\n' * 3, 1, 'quote'),
    ('nothing.csv', b'', 1, 'nothing.csv'),
    ('noise.csv', bytes(random.Random(7).randrange(256) for _ in range(4096)), 1, 'noise.csv'),
    ('dtd.gpx', b'<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "b">]><gpx version="1.1"><wpt lat="1" lon="2"><name>&a;</name></wpt></gpx>',
     1, 'dtd.gpx'),
    ('cut.gpx', b'<gpx version="1.1"><wpt lat="1" lon="2"><name>A', 1, 'cut.gpx'),
    ('deep.geojson', b'[' * 200_000, 1, 'deep.geojson'),
]


def hostile_source(name, content, status, says):
    def case(program, folder):
        project, _ = make_ground(program, folder)
        path = os.path.join(folder, name)
        write_bytes(path, content)
        before = dump(project)
        result = program.run('import', project, path, status=status)
        assert says in result.err, result
        equal(dump(project), before, 'the project')
    return case


def cut_in_half(path):
    write_bytes(path, read_bytes(path)[:os.path.getsize(path) // 2])


def make_text(path):
    write_bytes(path, b'Dear all, this is a letter and no project, however long it gets.\n' * 40)


def make_empty(path):
    write_bytes(path, b'')


def make_folder(path):
    os.remove(path)
    os.mkdir(path)


def make_newer(path):
    import sqlite3
    with sqlite3.connect(path) as db:
        db.execute("UPDATE settings SET value = '99' WHERE key = 'schema'")
    db.close()


def hostile_project(spoil, says):
    """Refused with exit status 3, the file named, and not a byte changed."""
    def case(program, folder):
        project, tables = make_ground(program, folder)
        spoil(project)
        before = read_bytes(project) if os.path.isfile(project) else None
        for words in (['due', project], ['check', project], ['import', project, tables['stations']]):
            result = program.run(*words, status=3)
            assert project in result.err and says in result.err, result
        if before is not None:
            equal(read_bytes(project), before, 'the file')
    return case


def locked_project(program, folder):
    import sqlite3
    project, tables = make_ground(program, folder)
    path = write_csv(os.path.join(folder, 'm.csv'), 'station', [['M']])
    holder = sqlite3.connect(project, isolation_level=None)
    holder.execute('BEGIN EXCLUSIVE')
    result = program.run('import', project, path, status=3, env={'TAPETUM_BUSY_MS': '200'})
    assert 'in use' in result.err, result
    holder.execute('ROLLBACK')
    holder.close()
    program.run('import', project, path)


def hostile_card(program, folder):
    """Garbage with picture names is kept aside; links out of the card are not followed."""
    project, _ = make_ground(program, folder)
    card = make_card(program, folder, 3)
    picture = one_picture(program)
    outside = os.path.join(folder, 'secret.JPG')
    write_bytes(outside, picture)
    for name, content in (('ff.JPG', b'\xff' * 3000), ('zero.JPG', b''), ('text.CR2', b'not raw at all'), ('cut.JPG', picture[:900])):
        write_bytes(os.path.join(card, name), content)
    os.symlink(outside, os.path.join(card, 'link.JPG'))
    os.symlink(folder, os.path.join(card, 'loop'))
    result = program.json('intake', project, '--deployment', 'D1', card, status=1)
    names = {os.path.basename(note['file']) for note in result['unreadable']}
    assert {'ff.JPG', 'zero.JPG', 'text.CR2'} <= names, names
    assert not any('secret' in path or 'link' in path for path in list_tree(os.path.join(folder, 'pictures'))), 'followed a link'
    equal(program.problems(project, '--pictures'), [], 'problems')


def outside_pictures(program, folder):
    project, _ = make_ground(program, folder)
    card = make_card(program, folder, 1)
    for where in ('../outside', '/tmp/outside', 'a/../../b'):
        program.run('intake', project, '--deployment', 'D1', '--pictures', where, card, status=2)
    assert not os.path.exists(os.path.join(os.path.dirname(folder), 'outside'))


def file_too_large(program, folder):
    """A picture the disk will not take: a clear message, and the next run goes on."""
    project, _ = make_ground(program, folder)
    card = make_card(program, folder, 4)
    write_bytes(os.path.join(card, 'DCIM', 'IMG_9999.JPG'), one_picture(program) + b'\0' * 3_000_000)

    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (1_000_000, 1_000_000))

    done = subprocess.run([program.path, 'intake', project, '--deployment', 'D1', card], env=program.env, preexec_fn=limit,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, timeout=60)
    equal(done.returncode, 1, 'exit status')
    assert 'IMG_9999' in done.stderr, done.stderr
    equal(program.problems(project), [], 'problems')
    equal(program.json('intake', project, '--deployment', 'D1', card)['frames'], 5, 'frames')


def small_disk(function):
    """A case on a disk of its own, of 48 megabytes: intake keeps 32 of them free for the project."""
    def case(program, folder):
        disk = os.path.join(folder, 'disk')
        os.mkdir(disk)
        if os.geteuid() != 0 or subprocess.run(['mount', '-t', 'tmpfs', '-o', 'size=48m', 'tmpfs', disk], stderr=subprocess.DEVNULL).returncode:
            raise Skip('only root can make a small disk')
        try:
            function(program, folder, disk)
        finally:
            subprocess.run(['umount', '-l', disk], check=True)
    return case


def fill_disk(disk, leave):
    """Leaves @leave bytes free; somebody may still be writing for a moment."""
    path = os.path.join(disk, 'ballast')
    with open(path, 'wb') as file:
        for _ in range(100):
            free = os.statvfs(disk).f_bavail * os.statvfs(disk).f_frsize
            try:
                os.posix_fallocate(file.fileno(), 0, max(1, free - leave))
                return path
            except OSError:
                time.sleep(0.01)
    raise AssertionError('the disk could not be filled')


def fill_meanwhile(program, words, pictures, disk):
    """Runs the command; once some pictures are copied, the disk is full."""
    child = subprocess.Popen([program.path, *words], env=program.env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    while child.poll() is None:
        if os.path.isdir(pictures) and len(list_names(pictures)) > 4:
            child.send_signal(signal.SIGSTOP)
            fill_disk(disk, 0)
            child.send_signal(signal.SIGCONT)
            break
    _, said = child.communicate(timeout=60)
    return child.returncode, said


def list_names(folder):
    return [name for _, _, names in os.walk(folder) for name in names if not name.startswith('.')]


def intake_on_a_full_disk(program, folder, disk):
    project, _ = make_ground(program, disk)
    card = make_card(program, folder, FRAMES)
    before, card_before = dump(project), list_tree(card, times=True)
    words = ['intake', project, '--deployment', 'D1', card]

    ballast = fill_disk(disk, 500_000)
    result = program.run(*words, status=1)
    assert 'space' in result.err and 'pictures' in result.err, result
    os.remove(ballast)
    status, said = fill_meanwhile(program, words, os.path.join(disk, 'pictures'), disk)
    equal(status, 1, 'exit status with the disk full meanwhile')
    assert 'the disk is full' in said, said
    os.remove(ballast)
    equal(program.problems(project), [], 'problems')
    assert dump(project) == before, 'the project after the disk was full'
    originals = set(list_tree(card).values())
    assert all(content in originals for path, content in list_tree(os.path.join(disk, 'pictures')).items()
               if not os.path.basename(path).startswith('.')), 'half a picture under its final name'
    equal(program.json(*words)['frames'], FRAMES, 'frames after there is room')
    equal(program.problems(project, '--pictures'), [], 'problems at the end')
    equal(list_tree(card, times=True), card_before, 'the card')
    equal(leftovers(disk), [], 'leftovers')


def import_on_a_full_disk(program, folder, disk):
    project, _ = make_ground(program, disk)
    path = write_csv(os.path.join(folder, 'big.csv'), 'station,notes', [['X%04d' % i, 'n' * 200] for i in range(2000)])
    before = dump(project)
    for leave in (0, 8_192, 100_000, 400_000):
        ballast = fill_disk(disk, leave)
        result = program.run('import', project, path, status=1)
        assert 'p.gpkg' in result.err, result
        assert dump(project) == before, 'the project with %d bytes left' % leave
        os.remove(ballast)
        equal(program.problems(project), [], 'problems')
    equal(program.json('import', project, path)['added'], 2000, 'added')


def figure_on_a_full_disk(program, folder, disk):
    project, _ = make_ground(program, folder)
    path = os.path.join(disk, 'a.png')
    program.run('figure', project, 'strip', '-o', path)
    kept = list_tree(disk)
    ballast = fill_disk(disk, 0)
    result = program.run('figure', project, 'strip', '-o', path, '--from', '2024-04-01', status=1)
    assert 'a.png' in result.err, result
    os.remove(ballast)
    equal(list_tree(disk), kept, 'the figure of before')


def at_once(make_words):
    """Three processes do the same at once: whoever loses says so, and it is done once."""
    def case(program, folder):
        words = make_words(program, folder)
        project, spare = os.path.join(folder, 'p.gpkg'), os.path.join(folder, 'spare.gpkg')
        shutil.copy(project, spare)
        program.run(*words)
        new, tree = without_history(dump(project)), list_tree(os.path.join(folder, 'pictures'))
        for _ in range(5):
            shutil.copy(spare, project)
            shutil.rmtree(os.path.join(folder, 'pictures'), ignore_errors=True)
            children = [program.start(*words) for _ in range(3)]
            statuses = [child.wait(60) for child in children]
            assert set(statuses) <= {0, 1, 3}, statuses
            equal(program.problems(project, '--pictures') if tree else program.problems(project), [], 'problems')
            program.run(*words)
            for table in ('frames', 'triggers', 'observations', 'stations'):
                equal(len(dump(project)[table]), len(new[table]), table)
            equal(list_tree(os.path.join(folder, 'pictures')), tree, 'pictures')
    return case


GROUPS = {
    'steps': [
        ('new: every step', new_project_failing),
        ('import of a table: every step', fail_every_step(words_import)),
        ('import of frames: every step', fail_every_step(words_import_frames)),
        ('import of waypoints: every step', fail_every_step(words_import_gpx)),
        ('intake: every step', fail_every_step(words_intake)),
        ('import of a field sheet: every step', fail_every_step(words_import_sheet)),
        ('figure: every step', fail_every_step(words_figure)),
        ('visit sheet: every step', fail_every_step(words_sheet)),
        ('a figure that fails keeps the old one', figure_failing_keeps_the_old),
    ],
    'kill': [
        ('kill -9: intake', kill_often(words_big_intake, 'frames', FRAMES)),
        ('kill -9: import', kill_often(words_big_import, 'observations', 4000)),
        ('kill -9: nothing copied twice', kill_copies_nothing_twice),
        ('three at once: intake', at_once(words_big_intake)),
        ('three at once: import', at_once(words_big_import)),
    ],
    'hostile': [(name, hostile_source(name, content, status, says)) for name, content, status, says in HOSTILE] + [
        ('project: cut in half', hostile_project(cut_in_half, 'damaged')),
        ('project: a letter', hostile_project(make_text, 'is not a Tapetum project')),
        ('project: empty', hostile_project(make_empty, 'not a Tapetum project')),
        ('project: a folder', hostile_project(make_folder, 'is not a file')),
        ('project: newer', hostile_project(make_newer, 'newer version')),
        ('project: locked', locked_project),
        ('card: garbage and links', hostile_card),
        ('pictures outside the folder', outside_pictures),
        ('a picture too large', file_too_large),
        ('full disk: intake', small_disk(intake_on_a_full_disk)),
        ('full disk: import', small_disk(import_on_a_full_disk)),
        ('full disk: figure', small_disk(figure_on_a_full_disk)),
    ],
}


if __name__ == '__main__':
    sys.exit(run_cases(GROUPS[sys.argv[2]], sys.argv[1:2]))
