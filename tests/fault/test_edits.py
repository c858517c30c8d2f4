"""What the window writes, with every writing step failing once: a visit, one that moves units, setting out, naming and
what else is done while pictures are sorted, undo, redo.

Afterwards the project is wholly before or wholly after, and the same can be done again at once."""

import os
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'batch'))
import samples  # noqa: E402
from terminal import dump, equal, run_cases, without_history  # noqa: E402

MOST_STEPS = 500

# What a visit can take: another card, and cells that fit the camera (4 in series, 2 strings).
SHELF = {'units': ('unit,kind,cell_size', [['C1', 'camera', 'AA'], ['M2', 'card', '']]),
         'stock': ('item,what,cell_size,chemistry,pieces', [['A1', 'cells', 'AA', 'lithium', '20']])}


# Two triggers of two frames, and what a first person said of them.
FRAMES = {'frames': ('frame,deployment,file,camera_time', [['f%d' % k, 'D2', 'f%d.jpg' % k, '2024-04-02T10:0%d:0%d' % divmod(k, 2)] for k in range(4)]),
          'observations': ('observation,deployment,start,end,type,identified_by,count', [
              ['O-f1', 'D2', '2024-04-02T10:00:00', '2024-04-02T10:00:01', 'blank', 'A. Guide', ''],
              ['O-f2', 'D2', '2024-04-02T10:01:00', '2024-04-02T10:01:01', 'animal', 'A. Guide', '1']])}


# What a decision gets anew each time: its code, and when it was made.
ANEW = {'observations': {'observation', 'identified_at'}, 'frame_marks': {'at'}}


def drive(program, *words):
    done = subprocess.run([program.extra[0], *map(str, words)], env=program.env, capture_output=True, text=True, timeout=60)
    assert done.returncode in (0, 1), done
    return done


def make_ground(program, folder, before):
    project = program.new(os.path.join(folder, 'p.gpkg'))
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'tables')).values())
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'shelf'), SHELF).values())
    program.run('import', project, *samples.write_tables(os.path.join(folder, 'frames'), FRAMES).values())
    for word in before:
        equal(drive(program, word, project, 0).returncode, 0, word)
    return project


def look_at(program, project, states, what):
    equal(program.problems(project), [], 'problems ' + what)
    content = dump(project, ANEW)
    assert content in states, 'neither wholly before nor wholly after ' + what
    return content


def fail_every_step(word, before):
    def case(program, folder):
        project = make_ground(program, folder, before)
        spare, tried = os.path.join(folder, 'spare.gpkg'), os.path.join(folder, 'tried.gpkg')
        shutil.copy(project, spare)
        equal(drive(program, word, project, 0).returncode, 0, word)
        old, new = dump(spare, ANEW), dump(project, ANEW)
        assert old != new, '%s does nothing' % word

        failed = 0
        for step in range(1, MOST_STEPS):
            shutil.copy(spare, tried)
            done = drive(program, word, tried, step)
            content = look_at(program, tried, (old, new), 'after step %d' % step)
            equal(content == new, done.returncode == 0, 'what was said and what was done at step %d' % step)
            if done.returncode == 0:
                break
            assert 'on purpose' in done.stderr, done
            failed += 1

            shutil.copy(spare, tried)
            again = drive(program, word, tried, step, 'again')
            equal((again.returncode, again.stdout.split()), (0, ['failed', 'done']), 'again after step %d' % step)
            look_at(program, tried, (new,), 'again after step %d' % step)
        assert failed >= 3, 'only %d steps failed: this tests nothing' % failed
        equal([name for name in os.listdir(folder) if name.endswith(('-journal', '-wal', '-shm'))], [], 'leftovers')
    return case


def undo_is_exact(word):
    """Undo brings every row back, redo brings it on again, through several rounds."""
    def case(program, folder):
        project = make_ground(program, folder, [])
        old = without_history(dump(project))
        drive(program, word, project, 0)
        new = without_history(dump(project))
        assert old != new
        for turn in range(3):
            equal(drive(program, 'undo', project, 0).returncode, 0, 'undo')
            assert without_history(dump(project)) == old, 'undo %d' % turn
            equal(drive(program, 'redo', project, 0).returncode, 0, 'redo')
            assert without_history(dump(project)) == new, 'redo %d' % turn
        equal(program.problems(project), [], 'problems')
    return case


def main():
    cases = [('every step: ' + word, fail_every_step(word, before))
             for word, before in (('visit', []), ('rig-visit', []), ('set-out', []), ('undo', ['rig-visit']), ('redo', ['rig-visit', 'undo']),
                                  ('decide', []), ('settle', ['decide']), ('mark', []), ('split', ['decide']), ('join', ['decide']),
                                  ('undo', ['decide', 'join']))]
    cases += [('undo and redo: ' + word, undo_is_exact(word)) for word in ('visit', 'rig-visit', 'set-out', 'decide', 'mark', 'split', 'join')]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
