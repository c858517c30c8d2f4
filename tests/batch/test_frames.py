"""Frames and what is said of them, end to end: found, named, kept beside, listed by card."""

import os
import sys

from terminal import equal, run_cases, write_csv

# Triggers of three frames a second apart; each frame is called by its trigger and a letter. Made up.
CARDS = {'D1': (('a', '2026-05-02T20:00'), ('b', '2026-05-02T23:30'), ('c', '2026-05-03T12:00')),
         'D2': (('d', '2026-05-02T20:10'), ('e', '2026-05-04T04:00'))}


def make_ground(program, folder):
    project = program.new(os.path.join(folder, 'p.gpkg'))
    tables = (('stations', 'station,name,latitude,longitude', [['OTTER', 'Otter bank', '0.5', '115'], ['RIDGE', '', '0.6', '115.1']]),
              ('deployments', 'deployment,station,start,frames_per_trigger', [['D1', 'OTTER', '2026-05-01', '3'], ['D2', 'RIDGE', '2026-05-01', '3']]),
              ('species', 'scientific_name,common_en,common_es', [['Tragulus kanchil', 'Lesser mouse-deer', 'Ciervo ratón'],
                                                                  ['Hemigalus derbyanus', 'Banded civet', '']]),
              ('frames', 'frame,deployment,file,camera_time',
               [['%s%d' % (name, k), deployment, 'pictures/%s%d.jpg' % (name, k), '%s:0%d' % (at, k)]
                for deployment, triggers in CARDS.items() for name, at in triggers for k in range(3)]))
    for name, columns, rows in tables:
        program.run('import', project, write_csv(os.path.join(folder, name + '.csv'), columns, rows))
    return project


def found(program, project, *words):
    return [frame['frame'] for frame in program.json('frames', project, *words)['frames']]


def triggers(program, project, *words):
    """The letters of the triggers found, in order."""
    return ''.join(dict.fromkeys(code[0] for code in found(program, project, *words)))


def contract(program, folder):
    project = make_ground(program, folder)
    program.run('name', project, 'a1', '--type', 'animal', '--species', 'ciervo RATÓN', '--count', '2', '--sex', 'female', '--by', 'Mira',
                '--certainty', '0.7')
    document = program.json('frames', project)
    equal((document['triggers'], document['undecided'], len(document['frames'])), (5, 4, 15), 'how many')
    first = document['frames'][0]
    equal({key: first[key] for key in ('frame', 'file', 'deployment', 'time', 'camera_time', 'blank_score')},
          {'frame': 'a0', 'file': 'pictures/a0.jpg', 'deployment': 'D1', 'time': '2026-05-02T20:00:00+08:00',
           'camera_time': '2026-05-02T20:00:00', 'blank_score': None}, 'the first frame')
    assert isinstance(first['trigger'], int) and first['trigger'] == document['frames'][2]['trigger'] != document['frames'][3]['trigger']
    said = first['observations']
    equal([{key: one[key] for key in ('type', 'scientific_name', 'count', 'sex', 'certainty', 'identified_by', 'opinion')} for one in said],
          [{'type': 'animal', 'scientific_name': 'Tragulus kanchil', 'count': 2, 'sex': 'female', 'certainty': 0.7,
            'identified_by': 'Mira', 'opinion': 1}], 'what was said')
    equal(program.problems(project), [], 'problems')


def filters(program, folder):
    project = make_ground(program, folder)
    program.run('name', project, 'a0', '--type', 'animal', '--species', 'Tragulus kanchil', '--by', 'Mira', '--certainty', '0.4')
    program.run('name', project, 'b0', 'c2', '--type', 'blank', '--by', 'Mira')
    program.run('name', project, 'b1', '--type', 'animal', '--species', 'Banded civet', '--by', 'Jau')
    program.run('name', project, 'c1', '--type', 'blank', '--by', 'Jau')
    for words, wanted in (((), 'adbce'),
                          (('--station', 'RIDGE'), 'de'),
                          (('--station', 'RIDGE', '--station', 'OTTER'), 'adbce'),
                          (('--species', 'lesser mouse-deer'), 'a'),
                          (('--species', 'Hemigalus derbyanus'), ''),  # only beside somebody else's word
                          (('--type', 'blank'), 'bc'),
                          (('--type', 'blank', '--type', 'animal'), 'abc'),
                          (('--undecided',), 'de'),
                          (('--disagreeing',), 'b'),
                          (('--certainty-below', '0.5'), 'a'),
                          (('--certainty-below', '0.4'), ''),
                          (('--batch', 'D2-B01'), 'de'),
                          (('--from', '2026-05-03'), 'ce'),
                          (('--to', '2026-05-02T20:10'), 'a'),
                          (('--hours', '19:00-21:00'), 'ad'),
                          (('--hours', '23:00-05:00'), 'be'),
                          (('--undecided', '--station', 'OTTER'), '')):
        equal(triggers(program, project, *words), wanted, ' '.join(words))
    equal(found(program, project, '--limit', '4'), ['a0', 'a1', 'a2', 'd0'], '--limit')


def opinions(program, folder):
    """The first word counts, the second is kept beside it; rates know only the first."""
    project = make_ground(program, folder)
    program.run('name', project, 'a0', '--type', 'animal', '--species', 'Tragulus kanchil', '--by', 'Mira')
    equal(program.json('name', project, 'a2', '--type', 'blank', '--by', 'Jau'), {'triggers': 1, 'beside': 1}, 'beside')
    equal([(one['identified_by'], one['opinion']) for one in program.json('frames', project)['frames'][0]['observations']],
          [('Mira', 1), ('Jau', 2)], 'both')
    program.run('name', project, 'd0', '--type', 'blank', '--by', 'Mira')
    program.run('name', project, 'd0', '--type', 'animal', '--species', 'Tragulus kanchil', '--by', 'Jau')
    equal([(one['species'], one['detections']) for one in program.json('rates', project)['species'] if one['detections']],
          [('Tragulus kanchil', 1)], 'detections')
    program.run('name', project, 'd0', '--take-back', '--by', 'Mira')
    equal([one['detections'] for one in program.json('rates', project)['species'] if one['detections']], [2], 'once the first is taken back')


def imported(program, folder):
    """A table of observations says no trigger: each gets the one it falls on, also when the frames come later."""
    project = make_ground(program, folder)
    rows = [['O1', 'D1', '2026-05-02T20:00:00', '2026-05-02T20:00:02', 'animal', 'Tragulus kanchil'],  # a, exactly
            ['O2', 'D1', '2026-05-02T23:29:00', '2026-05-02T23:31:00', 'blank', ''],  # round about b
            ['O3', 'D1', '2026-05-03T12:00:01', '', 'animal', 'Hemigalus derbyanus'],  # within c
            ['O4', 'D1', '2026-05-03T13:00:00', '', 'human', ''],  # on nothing
            ['O5', 'D2', '2026-05-02T20:00:00', '', 'blank', '']]  # another deployment's trigger
    table = write_csv(os.path.join(folder, 'o.csv'), 'observation,deployment,start,end,type,scientific_name', rows)
    program.run('import', project, table)
    got = {frame['frame']: [one['observation'] for one in frame['observations']] for frame in program.json('frames', project)['frames']}
    equal([got[name + '0'] for name in 'abcde'], [['O1'], ['O2'], ['O3'], [], []], 'linked')
    equal(program.json('import', project, table)['unchanged'], 5, 'the second time')
    rows[0][2:4] = '2026-05-03T12:00:02', ''
    program.run('import', project, write_csv(os.path.join(folder, 'moved.csv'), 'observation,deployment,start,end,type,scientific_name', rows[:1]))
    got = {frame['frame']: [one['observation'] for one in frame['observations']] for frame in program.json('frames', project)['frames']}
    equal((got['a0'], got['c0']), ([], ['O1', 'O3']), 'moved to another trigger')

    later = program.new(os.path.join(folder, 'later.gpkg'))
    for name in ('stations', 'deployments', 'species', 'o', 'frames'):
        program.run('import', later, os.path.join(folder, name + '.csv'))
    equal(triggers(program, later, '--undecided'), 'de', 'frames after observations')
    equal(program.problems(later), [], 'problems')


def cards(program, folder):
    project = make_ground(program, folder)
    program.run('name', project, 'a0', '--type', 'blank', '--by', 'Mira')
    program.run('name', project, 'a0', '--type', 'human', '--by', 'Jau')
    document = program.json('batches', project)
    equal([{key: one[key] for key in ('batch', 'station', 'frames', 'triggers', 'undecided', 'disagreements', 'scored', 'set_aside')}
           for one in document['batches']],
          [{'batch': 'D2-B01', 'station': 'RIDGE', 'frames': 6, 'triggers': 2, 'undecided': 2, 'disagreements': 0, 'scored': 0, 'set_aside': 0},
           {'batch': 'D1-B01', 'station': 'OTTER', 'frames': 9, 'triggers': 3, 'undecided': 2, 'disagreements': 1, 'scored': 0, 'set_aside': 0}],
          'how far each is')


def refusals(program, folder):
    project = make_ground(program, folder)
    for status, words in ((2, ('frames', project, '--type', 'zebra')), (2, ('frames', project, '--type', '"blank"')), (2, ('frames', project, '--bare')),
                          (2, ('clock', project, 'B', '--undecided')), (1, ('frames', project, '--species', 'Equus zebra')),
                          (1, ('frames', project, '--station', 'NOWHERE')), (1, ('frames', project, '--batch', 'D9-B01')),
                          (2, ('frames', project, '--certainty-below', '1.5')), (2, ('frames', project, '--limit', '0')),
                          (2, ('frames', project, '--blank-first', '--blank-last')), (2, ('frames', project, '--besides')),
                          (2, ('name', project, 'a0')), (2, ('name', project, 'a0', '--type', 'blank', '--take-back')),
                          (1, ('name', project, 'zz', '--type', 'blank')), (1, ('name', project, 'a0', '--type', 'blank', '--species', 'Banded civet')),
                          (1, ('name', project, 'a0', '--type', 'animal', '--species', 'Equus zebra')), (1, ('name', project, 'a0', '--type', 'zebra')),
                          (2, ('name', project, 'a0', '--type', 'animal', '--count', 'many')), (2, ('name', project, 'a0', '--type', 'animal', '--certainty', '70')),
                          (1, ('name', project, 'a0', '--type', 'animal', '--sex', 'both')), (3, ('batches', os.path.join(folder, 'none.gpkg')))):
        done = program.run(*words, status=status)
        assert done.err.strip() and 'CRITICAL' not in done.err, (words, done)
    equal(triggers(program, project, '--undecided'), 'adbce', 'nothing was named')


def main():
    return run_cases([('what frames tell', contract), ('filters', filters), ('two people', opinions), ('observations from a table', imported),
                      ('cards', cards), ('refusals', refusals)])


if __name__ == '__main__':
    sys.exit(main())
