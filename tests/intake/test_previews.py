"""Pictures of many makers, on screen: the right JPEG of those inside, the right way up, the right colours.

    test_previews.py TAPETUM PREVIEW-DRIVER

The pictures are made up by tests/data/cameras: four flat quarters whose colours tell which way up a picture is. What each
Exif orientation does is Exif 2.32 (CIPA DC-008-2019) 4.6.5, tag 274.
"""

import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.join(HERE, '..', 'batch'), os.path.join(HERE, '..', 'data', 'cameras')]
import make_cameras  # noqa: E402
from terminal import equal, run_cases  # noqa: E402

# Which stored quarter (0 top left, 1 top right, 2 bottom left, 3 bottom right) is seen in each place.
SEEN = {1: (0, 1, 2, 3), 2: (1, 0, 3, 2), 3: (3, 2, 1, 0), 4: (2, 3, 0, 1),
        5: (0, 2, 1, 3), 6: (2, 0, 3, 1), 7: (3, 1, 2, 0), 8: (1, 3, 0, 2)}

# Flat colours in a JPEG come back but for rounding, once in coding and once in decoding.
NEAR = 3


def show(program, size, paths):
    """{file name: columns after the path}"""
    done = subprocess.run([program.extra[0], str(size), *paths], env=program.env, capture_output=True, text=True, check=False)
    equal((done.returncode, done.stderr), (0, ''), 'preview-driver')
    return {os.path.basename(line.split('\t')[0]): line.split('\t')[1:] for line in done.stdout.splitlines()}


def check_quarters(name, columns, camera):
    stored = ((255, 255, 255), camera.colour, tuple(c // 2 for c in camera.colour), (0, 0, 0))
    for place, quarter in enumerate(SEEN[camera.orientation]):
        seen = tuple(bytes.fromhex(columns[5 + place]))
        assert max(abs(a - b) for a, b in zip(seen, stored[quarter])) <= NEAR, (name, place, seen, stored[quarter])


def upright(size, orientation):
    return (size[1], size[0]) if orientation >= 5 else size


def fit(size, longer):
    """@size shrunk so that its longer side is @longer; 0 is as it is."""
    most = max(size)
    if longer == 0 or most <= longer:
        return size
    return tuple((side * longer + most // 2) // most for side in size)


def check_all(program, folder, sizes):
    told = {picture['file']: picture for picture in make_cameras.write_all(folder)}
    cameras = {name: camera for name, _, camera in make_cameras.FILES}
    assert sum(picture['kind'] == 'raw' for picture in told.values()) >= 8, told
    for size in sizes:
        shown = show(program, size, [os.path.join(folder, name) for name in told])
        for name, picture in told.items():
            columns, camera = shown[name], cameras[name]
            assert len(columns) == 9, (name, columns)
            large, small = picture['large'], picture['small']
            whole = large if max(large) > 0 else small
            # a JPEG's thumbnail here has another shape than the picture, and no bars: it is not trusted
            used = small if picture['kind'] == 'raw' and max(small) >= size > 0 else whole
            equal(tuple(map(int, columns[:2])), upright(fit(used, size), camera.orientation), '%s at %d' % (name, size))
            equal(tuple(map(int, columns[2:4])), upright(whole, camera.orientation), name + ': the whole')
            equal(columns[4], '0', name + ': partial')
            check_quarters(name, columns, camera)


def every_makers_picture_is_shown(program, folder):
    check_all(program, os.path.join(folder, 'made'), (0, 100, 160, 320, 2048))


def large_ones_too(program, folder):
    """Where the library's own list of what is inside is enough, and nobody looks through the bytes."""
    kept = make_cameras.LARGE, make_cameras.Camera.jpeg.__defaults__
    make_cameras.LARGE = (1280, 960)
    make_cameras.Camera.jpeg.__defaults__ = ((1280, 960), b'')
    try:
        folder = os.path.join(folder, 'made')
        told = {picture['file']: picture for picture in make_cameras.write_all(folder)}
        cameras = {name: camera for name, _, camera in make_cameras.FILES}
        shown = show(program, 0, [os.path.join(folder, name) for name in told])
        n_large = 0
        for name, columns in shown.items():
            check_quarters(name, columns, cameras[name])
            n_large += sorted(map(int, columns[:2])) == [960, 1280]
        assert n_large >= len(told) - 2, shown
    finally:
        make_cameras.LARGE, make_cameras.Camera.jpeg.__defaults__ = kept


def every_orientation(program, folder):
    for orientation in range(1, 9):
        for name, write, camera in make_cameras.FILES:
            if name in ('CANON.JPG', 'NIKON.NEF', 'SONY.ARW'):
                was, camera.orientation = camera.orientation, orientation
                path = os.path.join(folder, '%d-%s' % (orientation, name))
                with open(path, 'wb') as file:
                    file.write(write(camera))
                for size in (0, 120):
                    check_quarters(path, show(program, size, [path])[os.path.basename(path)], camera)
                camera.orientation = was


def cut_anywhere_is_borne(program, folder):
    """What is left of a RAW picture is shown or refused, in words, and nobody dies."""
    n_shown = n_refused = 0
    for picture in make_cameras.write_all(os.path.join(folder, 'made')):
        with open(os.path.join(folder, 'made', picture['file']), 'rb') as file:
            content = file.read()
        paths = []
        for tenth in range(1, 10):
            paths.append(os.path.join(folder, '%d-%s' % (tenth, picture['file'])))
            with open(paths[-1], 'wb') as file:
                file.write(content[:len(content) * tenth // 10])
        for columns in show(program, 320, paths).values():
            assert len(columns) == 9 or (len(columns) == 1 and len(columns[0]) > 20), columns
            n_shown += len(columns) == 9
            n_refused += len(columns) == 1
    assert n_shown > 20 and n_refused > 20, (n_shown, n_refused)


def main():
    return run_cases([
        ("every maker's picture is shown", every_makers_picture_is_shown),
        ('large ones too', large_ones_too),
        ('every orientation', every_orientation),
        ('cut short, borne', cut_anywhere_is_borne),
    ])


if __name__ == '__main__':
    sys.exit(main())
