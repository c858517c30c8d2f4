"""Field sheets: the table written for a visit, filled in and brought back."""

import csv
import os
import shutil
import sys

from terminal import dump, equal, query, run_cases, without_history, write_csv

COLUMNS = ('station,at,people,found,camera_clock,true_clock,frames_on_card,left,visit_notes,unit,label,kind,state,volts,percent,'
           'action,replacement,cause,notes').split(',')


def read_sheet(path):
    with open(path, encoding='utf-8', newline='') as file:
        reader = csv.DictReader(file)
        return reader.fieldnames, list(reader)


def make_sheet(program, folder, station):
    """A copy of the demo and the blank sheet of one of its stations; both are made once."""
    shared = os.path.join(os.path.dirname(folder), 'shared')
    if not os.path.exists(shared):
        made = program.demo(shared)
        program.run('sheet', made, 'visit', '--station', station, '-o', os.path.join(shared, 'visit.pdf'))
    project = shutil.copy(os.path.join(shared, 'kelabau.gpkg'), folder)
    shutil.copy(os.path.join(shared, 'visit.csv'), folder)
    columns, rows = read_sheet(os.path.join(folder, 'visit.csv'))
    equal(columns, COLUMNS, 'columns')
    assert len(rows) >= 7, 'a rig of %d units' % len(rows)
    return project, rows


def write_sheet(folder, rows):
    return write_csv(os.path.join(folder, 'filled.csv'), COLUMNS, [[row[column] for column in COLUMNS] for row in rows])


def fill_in(rows):
    """What a hand would write: the card swapped, the cells of the camera renewed, a reading for the rest."""
    rows[0].update(people='Mira', found='dead', camera_clock='2026-06-12T09:58:10', true_clock='2026-06-12T10:00', frames_on_card='96')
    for row in rows:
        row['at'] = '2026-06-12T10:00'
        if row['kind'] == 'camera':
            row.update(percent='40', action='swapped', state='working')
        elif row['kind'] == 'pack':
            row.update(percent='0', state='dead', action='charged', cause='age')
        elif row['kind'] == 'card':
            row.update(action='swapped', replacement=row['unit'])
        elif row['kind'] != 'housing':
            row.update(percent='55')
    return rows


def filled(program, folder):
    project, rows = make_sheet(program, folder, 'SALT')
    path = write_sheet(folder, fill_in(rows))
    before = dump(project)
    old_due = {row['station']: row for row in program.json('due', project)['stations']}['SALT']

    dry = program.json('import', project, path, '--dry-run')
    assert dump(project) == before, 'a dry run wrote'
    done = program.json('import', project, path)
    equal((done['added'], done['refused']), (dry['added'], []), 'taken')
    equal(done['added'], 1 + len(rows) - 1 + 1, 'the visit, a reading for each unit but the housing, an entry in a log')
    visit = query(project, "SELECT people, found, camera_clock, true_clock, frames_on_card FROM visits WHERE at = '2026-06-12T02:00:00.000Z'")
    equal(visit, [('Mira', 'dead', '2026-06-12T09:58:10', '2026-06-12T02:00:00.000Z', 96)], 'visit')
    equal(query(project, "SELECT what, cause FROM unit_log WHERE at = '2026-06-12T02:00:00.000Z'"), [('failure', 'age')], 'log')
    new_due = {row['station']: row for row in program.json('due', project)['stations']}['SALT']
    assert new_due['p_down'] < old_due['p_down'], 'the forecast knows of the visit'

    after = dump(project)
    again = program.json('import', project, path)
    equal((again['added'], again['updated'], again['refused']), (0, 0, []), 'second time')
    assert without_history(dump(project)) == without_history(after), 'the second time changed something'
    equal(program.problems(project), [], 'problems')


def blank(program, folder):
    """A sheet nobody filled in: a word about it, no error, nothing changed."""
    project, rows = make_sheet(program, folder, 'SALT')
    before = without_history(dump(project))
    done = program.run('import', project, os.path.join(folder, 'visit.csv'))

    assert '0 added, 0 updated, 0 unchanged, 0 refused' in done.out, done
    assert 'not filled in' in done.err, done
    equal(without_history(dump(project)), before, 'content')


def moved(program, folder):
    """A card that came home full is replaced: the fittings meet at the visit."""
    project, rows = make_sheet(program, folder, 'SALT')
    card = next(row for row in rows if row['kind'] == 'card')
    spare = query(project, "SELECT unit FROM units WHERE kind = 'card' AND retired IS NULL AND id NOT IN"
                           " (SELECT unit_id FROM fittings WHERE to_at IS NULL) ORDER BY unit")[0][0]
    card.update(at='2026-06-12T10:00', action='swapped', replacement=spare)
    program.json('import', project, write_sheet(folder, rows))
    fitted = query(project, 'SELECT u.unit, f.from_at, f.to_at FROM fittings f JOIN units u ON u.id = f.unit_id WHERE'
                            " '2026-06-12T02:00:00.000Z' IN (f.from_at, f.to_at) ORDER BY f.from_at")
    equal([(unit, to) for unit, _, to in fitted], [(card['unit'], '2026-06-12T02:00:00.000Z'), (spare, None)], 'fittings')
    equal(query(project, 'SELECT u.unit FROM readings r JOIN units u ON u.id = r.replacement_id'), [(spare,)], 'replacement')


# Changes to a filled-in sheet: kind of unit, cells, column, a piece of the reason.
REFUSED = (
    ('camera', {'percent': '130'}, 'percent', '100'),
    ('camera', {'unit': 'K-99'}, 'unit', 'K-99'),
    ('card', {'replacement': 'P-04'}, 'replacement', 'another kind'),
    ('camera', {'action': 'eaten'}, 'action', 'eaten'),
    ('pack', {'cause': 'rain'}, 'cause', 'rain'),
)


def refused(kind, cells, column, piece):
    def case(program, folder):
        project, rows = make_sheet(program, folder, 'SALT')
        fill_in(rows)
        number, row = next((i, row) for i, row in enumerate(rows) if row['kind'] == kind)
        row.update(cells)
        before = dump(project)
        said = program.json('import', project, write_sheet(folder, rows), status=1)
        equal([(one['file'], one['line'], one['column'], one['kept']) for one in said['refused']],
              [('filled.csv', number + 2, column, False)], 'refused')
        assert piece in said['refused'][0]['reason'], said
        equal(dump(project), before, 'content')
    return case


def future(program, folder):
    """The demo's clock stands at 17:00 on 12 June."""
    project, rows = make_sheet(program, folder, 'SALT')
    for row in fill_in(rows):
        row['at'] = '2026-06-12T17:01'
    said = program.json('import', project, write_sheet(folder, rows), status=1)
    equal([(one['line'], one['column']) for one in said['refused']], [(2, 'at')], 'refused')
    assert 'future' in said['refused'][0]['reason'], said


def main():
    cases = [('a sheet filled in, twice', filled), ('a blank sheet', blank), ('a card moved', moved), ('in the future', future)]
    cases += [('refused: %s of a %s' % (column, kind), refused(kind, cells, column, piece)) for kind, cells, column, piece in REFUSED]
    return run_cases(cases)


if __name__ == '__main__':
    sys.exit(main())
