"""Scores for empty triggers, end to end, on the demo's pictures: those say themselves what they show."""

import os
import shutil
import sys

from terminal import equal, run_cases


def choose_batch(program, project):
    """A batch of some thirty triggers, so that it is quick."""
    batches = [one for one in program.json('batches', project)['batches'] if one['triggers'] >= 30]
    return min(batches, key=lambda one: (one['triggers'], one['batch']))


def first_frames(program, project, batch):
    return program.json('frames', project, '--batch', batch, '--blank-first')['frames']


def is_empty(frame):
    return {one['type'] for one in frame['observations']} == {'blank'}


def one_batch(program, folder):
    project = program.demo(os.path.join(folder, 'demo'))
    batch = choose_batch(program, project)
    got = program.json('score', project, '--batch', batch['batch'])
    equal(got, {'triggers': batch['triggers'], 'scored': batch['triggers'], 'without_picture': 0, 'too_little': 0}, 'first')
    equal(program.json('score', project, '--batch', batch['batch'])['triggers'], 0, 'the second time')

    frames = first_frames(program, project, batch['batch'])
    scores = [frame['blank_score'] for frame in frames]
    assert all(0 <= score <= 1 for score in scores), scores
    equal(scores, sorted(scores, reverse=True), 'probably empty first')
    told = [is_empty(frame) for frame in frames if frame['observations']]
    pairs = [(i, j) for i in range(len(told)) for j in range(len(told)) if told[i] and not told[j]]
    assert len(pairs) >= 50, len(pairs)
    right = sum(i < j for i, j in pairs) / len(pairs)
    assert right >= 0.95, '%.3f of pairs in order' % right  # drawn pictures: easier than real ones

    pictures = os.path.join(os.path.dirname(project), os.path.dirname(frames[0]['file']))
    shutil.move(pictures, pictures + '-away')
    gone = program.json('score', project, '--batch', batch['batch'], '--again', status=1)
    equal((gone['scored'], gone['without_picture']), (0, batch['triggers']), 'pictures away')
    equal([frame['blank_score'] for frame in first_frames(program, project, batch['batch'])], scores, 'scores are kept')
    shutil.move(pictures + '-away', pictures)
    program.run('score', project, '--batch', batch['batch'], '--again')
    equal([frame['blank_score'] for frame in first_frames(program, project, batch['batch'])], scores, 'the same again')
    equal(program.problems(project), [], 'problems')


def refusals(program, folder):
    project = program.new(os.path.join(folder, 'p.gpkg'))
    equal(program.json('score', project)['triggers'], 0, 'an empty project')
    assert program.run('score', project).out.strip(), 'it says so in words'
    for status, words in ((1, ('score', project, '--batch', 'NOWHERE')), (2, ('score', project, '--blank-first')),
                          (3, ('score', os.path.join(folder, 'none.gpkg')))):
        done = program.run(*words, status=status)
        assert done.err.strip() and 'CRITICAL' not in done.err, (words, done)


def main():
    return run_cases([('one batch', one_batch), ('refusals', refusals)])


if __name__ == '__main__':
    sys.exit(main())
