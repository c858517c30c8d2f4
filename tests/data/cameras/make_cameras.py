"""Writes small pictures as the cameras of many makers write them: RAW files with JPEGs inside, and JPEGs with maker notes.

    python3 make_cameras.py FOLDER      writes them, and prints a line for each: file name, kind (raw or jpeg), width and
                                        height of the largest JPEG inside, width and height of a smaller one (0 0: none)

For a test in Python: `import make_cameras; make_cameras.write_all(folder)`, the same as a list of dictionaries. The same
files have the same bytes on every run. No camera took them: serial numbers, times and pixels are made up, the models are
called after their format. exiv2's previews find every JPEG inside but the DNG's, which they hand out wrapped as a TIFF.
Every JPEG shows four flat quarters, as stored and before Exif's orientation: top left white, top right the maker's colour (in
the dictionary), bottom left half as bright, bottom right black. The sensor data are noise without meaning, since nobody here
develops them.

Sources. TIFF 6.0 for the files; Exif 2.32 (CIPA DC-008) 4.6 for their tags; TIFF/EP (ISO 12234-2) for directories below
tag 0x014a; DNG 1.4 (Adobe, 2012), chapter 4 for that format. The makers publish no description of the rest: heads of ORF,
RW2, RAF and CR2, and numbers and types of tags in maker notes, are as the tag tables printed by `exiv2` and `exiftool -listx`
name them, which others have worked out (no other source). The three notes of field cameras are of their
maker's own papers (RCNX_MN10 and later), as the tables of exiftool retell them. The layout of each file, and which tags it
has, are our own choice.
"""

import os
import random
import struct
import sys

from tiff import (ASCII, BYTE, IFD, LONG, RATIONAL, SBYTE, SHORT, SRATIONAL, UNDEFINED, At, Blob, Directory, Inside, draw_jpeg,
                  lay_out, make_tiff)

RAW_WIDTH, RAW_HEIGHT = 64, 48
LARGE, SMALL = (640, 480), (160, 112)


class Camera:
    """What a picture of it says of itself."""

    def __init__(self, name, make, model, colour, date, subsec=None, offset=None, serial=None, orientation=1, flash=0,
                 temperature=None, body_serial=None, order='<'):
        self.name, self.make, self.model, self.colour, self.order = name, make, model, colour, order
        self.date, self.subsec, self.offset, self.orientation, self.flash = date, subsec, offset, orientation, flash
        self.serial, self.body_serial, self.temperature = serial, body_serial, temperature

    def jpeg(self, size=LARGE, app1=b''):
        return draw_jpeg(*size, self.colour, app1)

    def small(self):
        return self.jpeg(SMALL)


def exif_tags(camera, note=None):
    tags = [
        (0x829a, RATIONAL, [(1, 250)]), (0x829d, RATIONAL, [(28, 10)]), (0x8827, SHORT, 400), (0x9000, UNDEFINED, b'0231'),
        (0x9003, ASCII, camera.date), (0x9004, ASCII, camera.date), (0x9209, SHORT, camera.flash),
        (0xa002, LONG, LARGE[0]), (0xa003, LONG, LARGE[1]),
    ]
    if camera.subsec:
        tags += [(0x9291, ASCII, camera.subsec), (0x9292, ASCII, camera.subsec)]
    if camera.offset:
        tags += [(0x9011, ASCII, camera.offset), (0x9012, ASCII, camera.offset)]
    if camera.temperature is not None:
        tags += [(0x9400, SRATIONAL, [(round(camera.temperature * 10), 10)])]
    if camera.body_serial:
        tags += [(0xa431, ASCII, camera.body_serial)]
    if note is not None:
        tags += [(0x927c, UNDEFINED, Inside(note))]
    return tags


def main_tags(camera):
    return [(0x010f, ASCII, camera.make), (0x0110, ASCII, camera.model), (0x0112, SHORT, camera.orientation),
            (0x0132, ASCII, camera.date)]


def raw_strip(camera):
    return Blob(random.Random(camera.name).randbytes(RAW_WIDTH * RAW_HEIGHT * 2))


def raw_tags(strip):
    """The sensor's data, not compressed, as TIFF/EP has a colour filter array."""
    return [(0x00fe, LONG, 0), (0x0100, LONG, RAW_WIDTH), (0x0101, LONG, RAW_HEIGHT), (0x0102, SHORT, 16), (0x0103, SHORT, 1),
            (0x0106, SHORT, 32803), (0x0111, LONG, At(strip)), (0x0115, SHORT, 1), (0x0116, LONG, RAW_HEIGHT),
            (0x0117, LONG, strip.size()), (0x828d, SHORT, [2, 2]), (0x828e, BYTE, [0, 1, 1, 2])]


def jpeg_tags(blob):
    return [(0x0201, LONG, At(blob)), (0x0202, LONG, blob.size())]


def strip_tags(blob, size, compression):
    return [(0x0100, LONG, size[0]), (0x0101, LONG, size[1]), (0x0102, SHORT, [8, 8, 8]), (0x0103, SHORT, compression),
            (0x0106, SHORT, 6), (0x0111, LONG, At(blob)), (0x0115, SHORT, 3), (0x0116, LONG, size[1]), (0x0117, LONG, blob.size())]


# Maker notes. Each is a piece for a tag 0x927c; offsets inside count from the TIFF's start unless it says otherwise.

def note_of_its_own(head, order, entries, start, more=()):
    """A note whose offsets count from @start bytes before its directory: the same bytes wherever it lies."""
    return Blob(head + lay_out(order, [Directory(entries), *more], start))


def canon_note(camera):
    """Second of its burst; a body's number that is no number is the one inside it."""
    serial = (0x000c, LONG, int(camera.serial)) if camera.serial.isdigit() else (0x0096, ASCII, camera.serial)
    shot = [68] + [0] * 8 + [2] + [0] * 24
    return Directory([(0x0001, SHORT, [92] + [0] * 45), (0x0004, SHORT, shot), (0x0006, ASCII, 'Canon made up'),
                      (0x0007, ASCII, 'Firmware Version 1.0.0'), (0x0008, LONG, 1001234), (0x0010, LONG, 0x80000250), serial])


def nikon_note(camera):
    order = '>'
    info = b'0100' + struct.pack(order + '3H', 0, 100, 1234)
    small = Blob(camera.small())
    preview = Directory([(0x0103, SHORT, 6), *jpeg_tags(small)])
    entries = [(0x0001, UNDEFINED, b'0210'), (0x0004, ASCII, 'FINE'), (0x0011, LONG, At(preview)), (0x001d, ASCII, camera.serial),
               (0x00b8, UNDEFINED, info)]
    return Blob(b'Nikon\0\x02\x10\0\0' + make_tiff(order, [Directory(entries), preview, small]))


def sony_note(camera):
    return Directory([(0x0102, LONG, 32), (0xb001, SHORT, 257), (0xb020, ASCII, 'Standard'), (0xb04a, SHORT, 2)],
                     head=b'SONY DSC \0\0\0', next_link=False)


def olympus_note(camera, small=None):
    """Offsets count from the note's own start; @small, a RAW file's preview, lies in the note."""
    equipment = Directory([(0x0000, UNDEFINED, b'0100'), (0x0100, ASCII, 'S0000'), (0x0101, ASCII, camera.serial)])
    preview = [(0x0100, LONG, 1), (0x0101, LONG, At(small)), (0x0102, LONG, small.size())] if small else []
    settings = Directory([(0x0000, UNDEFINED, b'0100'), *preview])
    entries = [(0x0104, BYTE, [1, 0, 0, 0]), (0x2010, IFD, At(equipment)), (0x2020, IFD, At(settings))]
    return note_of_its_own(b'OLYMPUS\0II\x03\0', '<', entries, 12, [equipment, settings] + ([small] if small else []))


def panasonic_note(camera):
    return Directory([(0x0025, UNDEFINED, camera.serial.encode().ljust(16, b'\0')), (0x0026, UNDEFINED, b'0420'),
                      (0x002b, LONG, 3)], head=b'Panasonic\0\0\0', next_link=False)


def pentax_note(camera, preview=None):
    entries = [(0x0001, SHORT, 0x0700), (0x0005, LONG, 0x12b9c), (0x0047, SBYTE, 27), (0x0229, ASCII, camera.serial)]
    if preview:
        entries += [(0x0002, SHORT, SMALL), (0x0003, LONG, preview.size()), (0x0004, LONG, At(preview))]
    return Directory(entries, head=b'AOC\0' + (b'MM' if camera.order == '>' else b'II'))


def fujifilm_note(camera):
    entries = [(0x0000, UNDEFINED, b'0130'), (0x0010, ASCII, camera.serial), (0x1000, ASCII, 'NORMAL '), (0x1101, SHORT, 4)]
    return note_of_its_own(b'FUJIFILM' + struct.pack('<I', 12), '<', entries, 12)


def sigma_note(camera):
    return Directory([(0x0002, ASCII, camera.serial), (0x0005, ASCII, 'A')], head=b'SIGMA\0\0\0\x01\0')


def casio_note(camera):
    return Directory([(0x0002, SHORT, SMALL), (0x3006, ASCII, '1238'), (0x301c, SHORT, 5)], head=b'QVC\0\0\0')


def plain_note(camera):
    """A maker that leaves the note empty of anything known: 24 bytes of its own."""
    return Blob(b'NOTE\0' + bytes(range(19)))


def field_temperature(camera):
    celsius = round(camera.temperature)
    return struct.pack('<hh', round(celsius * 9 / 5 + 32), celsius)


def date_parts(camera):
    """Year, month, day, hour, minute, second."""
    return [int(part) for part in camera.date.replace(' ', ':').split(':')]


def field_note(camera):
    """The first kind, of words of 16 bits; sequence 2 of 3 of event 70000; the serial number in UTF-16."""
    words = [0xf101, 3, 0, 1, 0x2026, 0x0102, int.from_bytes(b'M\0', 'little'), 2, 3, 1, 70000 - 65536]
    date = date_parts(camera)
    words += [date[5], date[4], date[3], date[1], date[2], date[0]]
    words += [0, 4]  # one that is not told, and the moon
    data = struct.pack('<%dH' % len(words), *words)
    data += field_temperature(camera) + camera.serial.encode('utf-16-le').ljust(30, b'\0')
    return Blob(data + struct.pack('<8H', 120, 140, 128, 60, 1, 100, 8500, 0))


def field_note_of_bytes(camera):
    """The second kind: frame 3 of 5."""
    date = date_parts(camera)
    data = b'RECONYXUF\0'.ljust(0x34, b'\0') + b'M' + bytes([3, 5]) + struct.pack('<I', 70001)
    data += bytes(reversed(date[1:])) + struct.pack('<H', date[0]) + bytes([4, 4]) + field_temperature(camera)
    data += b'\1' + struct.pack('<H', 8400) + camera.serial.encode().ljust(15, b'\0') + b'CAMP'.ljust(21, b'\0')
    return Blob(data)


def field_note_of_words(camera):
    """The third kind: frame 1 of 10."""
    data = b'RECONYXH2\0'.ljust(0x34, b'\0') + b'M\0' + struct.pack('<4H', 1, 10, 1, 70002 - 65536)
    data += struct.pack('<6H', *reversed(date_parts(camera))) + struct.pack('<2H', 4, 4) + field_temperature(camera)
    data += struct.pack('<11H', 120, 128, 60, 100, camera.flash, 0, 0, 5, 8400, 8500, 1) + b'CAMP'.ljust(22, b'\0')
    return Blob(data + camera.serial.encode('utf-16-le').ljust(30, b'\0'))


# RAW files.

def make_cr2(camera):
    large, small, strip = Blob(camera.jpeg()), Blob(camera.small()), raw_strip(camera)
    note = canon_note(camera)
    exif = Directory(exif_tags(camera, note))
    raw = Directory([(0x0103, SHORT, 6), (0x0111, LONG, At(strip)), (0x0117, LONG, strip.size())])
    second = Directory([(0x0100, SHORT, 32), (0x0101, SHORT, 24), (0x0102, SHORT, [16, 16, 16]), (0x0103, SHORT, 1),
                        (0x0111, LONG, At(strip)), (0x0115, SHORT, 3), (0x0117, LONG, 32 * 24 * 6)], raw)
    thumb = Directory(jpeg_tags(small), second)
    first = Directory(main_tags(camera) + strip_tags(large, LARGE, 6) + [(0x8769, LONG, At(exif))], thumb)
    pieces = [first, exif, note, thumb, second, raw, small, strip, large]
    # after the head: the format's mark, its version, and where the sensor's directory is
    length = sum(p.size() + p.size() % 2 for p in pieces[:5])
    return make_tiff('<', pieces, more_head=b'CR\2\0' + struct.pack('<I', 16 + length))


def make_nef(camera):
    large, strip, note = Blob(camera.jpeg()), raw_strip(camera), nikon_note(camera)
    pixels = Blob(bytes(32 * 24 * 3))
    exif = Directory(exif_tags(camera, note))
    preview = Directory([(0x00fe, LONG, 1), (0x0103, SHORT, 6), *jpeg_tags(large)])
    raw = Directory(raw_tags(strip))
    first = Directory(main_tags(camera) + strip_tags(pixels, (32, 24), 1) +
                      [(0x00fe, LONG, 1), (0x014a, LONG, At(preview, raw)), (0x8769, LONG, At(exif)), (0x9003, ASCII, camera.date)])
    return make_tiff(camera.order, [first, exif, note, preview, raw, pixels, strip, large])


def make_arw(camera):
    large, small, strip, note = Blob(camera.jpeg()), Blob(camera.small()), raw_strip(camera), sony_note(camera)
    exif = Directory(exif_tags(camera, note))
    raw = Directory(raw_tags(strip))
    thumb = Directory([(0x0103, SHORT, 6), *jpeg_tags(small)])
    first = Directory(main_tags(camera) + jpeg_tags(large) +
                      [(0x00fe, LONG, 1), (0x0103, SHORT, 6), (0x014a, LONG, At(raw)), (0x8769, LONG, At(exif))], thumb)
    return make_tiff('<', [first, exif, note, raw, thumb, small, strip, large])


def make_orf(camera):
    strip, note = raw_strip(camera), olympus_note(camera, Blob(camera.small()))
    exif = Directory(exif_tags(camera, note))
    first = Directory(main_tags(camera) + [t for t in raw_tags(strip) if t[0] not in (0x828d, 0x828e)] + [(0x8769, LONG, At(exif))])
    return make_tiff('<', [first, exif, note, strip], magic=0x4f52)


def make_rw2(camera):
    """The maker's own tags in the first directory; the whole Exif is in the JPEG."""
    large, strip = Blob(camera.jpeg(app1=make_app1(camera, panasonic_note(camera), '<'))), raw_strip(camera)
    exif = Directory([tag for tag in exif_tags(camera) if tag[0] in (0x9000, 0x9003, 0x9004)])
    first = Directory([(0x0001, UNDEFINED, b'0310'), (0x0002, SHORT, RAW_WIDTH), (0x0003, SHORT, RAW_HEIGHT), (0x0004, SHORT, 0),
                       (0x0005, SHORT, 0), (0x0006, SHORT, RAW_HEIGHT), (0x0007, SHORT, RAW_WIDTH), (0x000a, SHORT, 12),
                       (0x0017, SHORT, 400), (0x002e, UNDEFINED, Inside(large)), (0x010f, ASCII, camera.make),
                       (0x0110, ASCII, camera.model), (0x0111, LONG, At(strip)), (0x0112, SHORT, camera.orientation),
                       (0x0117, LONG, strip.size()), (0x8769, LONG, At(exif))])
    return make_tiff('<', [first, exif, strip, large], magic=0x55, more_head=bytes(16))


def make_pef(camera):
    large, small, strip = Blob(camera.jpeg()), Blob(camera.small()), raw_strip(camera)
    note = pentax_note(camera, small)
    exif = Directory(exif_tags(camera, note))
    preview = Directory(strip_tags(large, LARGE, 6)[:4] + jpeg_tags(large))
    thumb = Directory([(0x0103, SHORT, 6), *jpeg_tags(small)], preview)
    first = Directory(main_tags(camera) + raw_tags(strip) + [(0x8769, LONG, At(exif))], thumb)
    return make_tiff('>', [first, exif, note, thumb, preview, small, strip, large])


def make_dng(camera):
    """The flash as TIFF/EP has it, in the first directory."""
    large, strip, pixels = Blob(camera.jpeg()), raw_strip(camera), Blob(bytes(32 * 24 * 3))
    exif = Directory([tag for tag in exif_tags(camera) if tag[0] != 0x9209])
    raw = Directory(raw_tags(strip))
    preview = Directory([(0x00fe, LONG, 1)] + strip_tags(large, LARGE, 7))
    first = Directory(main_tags(camera) + [(0x9209, SHORT, camera.flash)] + strip_tags(pixels, (32, 24), 1) +
                      [(0x00fe, LONG, 1), (0x014a, LONG, At(raw, preview)), (0x8769, LONG, At(exif)), (0xc612, BYTE, [1, 4, 0, 0]),
                       (0xc614, ASCII, camera.model), (0xc62f, ASCII, camera.serial)])
    return make_tiff('<', [first, exif, raw, preview, pixels, strip, large])


def make_raf(camera):
    """A head of its own that tells where the JPEG and the sensor's data are; the whole Exif is in the JPEG."""
    jpeg = camera.jpeg(app1=make_app1(camera, fujifilm_note(camera), '<'))
    strip = raw_strip(camera)
    about = Directory([(0xf001, LONG, RAW_WIDTH), (0xf002, LONG, RAW_HEIGHT), (0xf003, LONG, 16), (0xf007, LONG, At(strip)),
                       (0xf008, LONG, strip.size())])
    raw = make_tiff('<', [Directory([(0xf000, IFD, At(about))]), about, strip])
    sizes = struct.pack('>I', 1) + struct.pack('>HHHH', 0x0100, 4, RAW_HEIGHT, RAW_WIDTH)
    head = b'FUJIFILMCCD-RAW 0201FF000000' + camera.model.encode().ljust(32, b'\0') + b'0100' + bytes(20)
    at = len(head) + 76
    places = [at, len(jpeg), at + len(jpeg), len(sizes), at + len(jpeg) + len(sizes), len(raw)]
    return head + struct.pack('>6I', *places).ljust(76, b'\0') + jpeg + sizes + raw


def make_app1(camera, note, order, dated=True):
    small = Blob(camera.small())
    left_out = (() if dated else (0x9003, 0x9004)) + ((0x9400,) if camera.make == 'RECONYX' else ())
    exif = Directory([tag for tag in exif_tags(camera, note) if tag[0] not in left_out])
    thumb = Directory([(0x0103, SHORT, 6), *jpeg_tags(small)])
    first = Directory(main_tags(camera) + [(0x8769, LONG, At(exif))], thumb)
    pieces = [first, exif] + ([note] if note is not None else []) + [thumb, small]
    return b'Exif\0\0' + make_tiff(order, pieces)


def make_jpeg(note):
    def make(camera):
        return camera.jpeg(app1=make_app1(camera, note(camera) if note else None, camera.order))
    return make


def make_undated(note):
    def make(camera):
        return camera.jpeg(app1=make_app1(camera, note(camera), camera.order, dated=False))
    return make


# File, what makes it, the camera. Times at both ends of the day and the year, fractions of one to six digits, offsets of
# halves and quarters of an hour and none, all ways up, both states of the flash.
FILES = (
    ('CANON.CR2', make_cr2, Camera('cr2', 'Canon', 'Canon CR2', (200, 40, 40), '2025:12:31 23:59:59', '07', None, '123456789', 6, 0x19)),
    ('NIKON.NEF', make_nef, Camera('nef', 'NIKON CORPORATION', 'NIKON NEF', (220, 200, 40), '2026:02:28 05:06:07', '50', '+05:45',
                                   '3004567', 1, 0x10)),
    ('NIKON_M.NEF', make_nef, Camera('nefm', 'NIKON CORPORATION', 'NIKON NEF MM', (220, 180, 40), '2026:02:28 05:06:09', '5', None,
                                     '3004568', 8, 0x1f, order='>')),
    ('SONY.ARW', make_arw, Camera('arw', 'SONY', 'ILCE ARW', (40, 90, 200), '2026:06:01 12:00:00', '123', '-03:30', None, 3, 0x10,
                                  temperature=21.5)),
    ('OLYMPUS.ORF', make_orf, Camera('orf', 'OLYMPUS CORPORATION', 'ORF', (40, 160, 160), '2024:02:29 00:00:00', None, None,
                                     'BHB501234', 1, 0x18)),
    ('PANASON.RW2', make_rw2, Camera('rw2', 'Panasonic', 'DMC-RW2', (120, 60, 160), '2026:03:08 02:30:00', '999', '+08:00',
                                     'F541001010001', 6, 0x10)),
    ('PENTAX.PEF', make_pef, Camera('pef', 'PENTAX', 'PENTAX PEF', (200, 120, 40), '2026:01:01 00:00:01', '25', None, '4801234', 8, 1,
                                    order='>')),
    ('RICOH.DNG', make_dng, Camera('dng', 'RICOH', 'RICOH DNG', (90, 170, 60), '2026:05:14 18:45:30', '123456', '+00:00', '1500042', 1, 1,
                                   temperature=-7.5, body_serial='1500042')),
    ('FUJI.RAF', make_raf, Camera('raf', 'FUJIFILM', 'X-RAF', (60, 140, 90), '2026:05:15 06:07:08', None, '+14:00',
                                  '593038303037 200401 4F3010110000', 3, 0x10)),
    ('CANON.JPG', make_jpeg(canon_note), Camera('canon', 'Canon', 'Canon JPEG', (200, 60, 60), '2026:04:01 06:00:00', '00', '+08:00',
                                                '2031400123', 6, 0x09)),
    ('CANON_P.JPG', make_jpeg(canon_note), Camera('compact', 'Canon', 'Canon compact', (200, 70, 70), '2026:04:01 06:10:00', None, None,
                                                  'GD0012345', 8, 0x18)),
    ('NIKON.JPG', make_jpeg(nikon_note), Camera('nikon', 'NIKON CORPORATION', 'NIKON JPEG', (210, 190, 60), '2026:04:02 06:00:00', '70',
                                                None, '2004321', 1, 0x0f, order='>')),
    ('SONY.JPG', make_jpeg(sony_note), Camera('sony', 'SONY', 'DSC-JPEG', (60, 100, 210), '2026:04:03 06:00:00', None, None, None, 8,
                                              0x10)),
    ('OLYMPUS.JPG', make_jpeg(olympus_note), Camera('olympus', 'OLYMPUS CORPORATION', 'JPEG', (60, 170, 170), '2026:04:04 06:00:00',
                                                    None, None, 'BJ4A00001', 1, 0x41)),
    ('PANASON.JPG', make_jpeg(panasonic_note), Camera('panasonic', 'Panasonic', 'DMC-JPEG', (130, 70, 170), '2026:04:05 06:00:00', '004',
                                                      None, 'S011203040055', 3, 0x18)),
    ('PENTAX.JPG', make_jpeg(pentax_note), Camera('pentax', 'PENTAX', 'PENTAX JPEG', (210, 130, 60), '2026:04:06 06:00:00', None, None,
                                                  '3700099', 1, 0x10, order='>')),
    ('FUJI.JPG', make_jpeg(fujifilm_note), Camera('fujifilm', 'FUJIFILM', 'FinePix JPEG', (70, 150, 100), '2026:04:07 06:00:00', None,
                                                  None, '4A500123', 6, 0x41)),
    ('SIGMA.JPG', make_jpeg(sigma_note), Camera('sigma', 'SIGMA', 'SIGMA JPEG', (150, 150, 60), '2026:04:08 06:00:00', None, None,
                                                '1005678', 1, 0)),
    ('CASIO.JPG', make_jpeg(casio_note), Camera('casio', 'CASIO COMPUTER CO.,LTD.', 'EX-JPEG', (160, 80, 110), '2026:04:09 06:00:00',
                                                None, None, None, 1, 0x19, order='>')),
    ('FIELD1.JPG', make_jpeg(field_note), Camera('field', 'RECONYX', 'FIELD JPEG', (110, 110, 110), '2026:04:10 03:04:05', None, None,
                                                  'H500FF01020304', 1, 0, temperature=-12.0)),
    ('FIELD2.JPG', make_jpeg(field_note_of_bytes), Camera('field2', 'RECONYX', 'FIELD 2', (110, 120, 130), '2026:10:11 12:13:14', None,
                                                          None, 'U800AB9876', 1, 0, temperature=31.0)),
    ('FIELD3.JPG', make_jpeg(field_note_of_words), Camera('field3', 'RECONYX', 'FIELD 3', (130, 120, 110), '2026:12:01 23:00:59', None,
                                                          None, 'H2X0012345', 1, 1, temperature=-3.0)),
    # no date in Exif: only the notes have it
    ('NODATE1.JPG', make_undated(field_note), Camera('undated1', 'RECONYX', 'FIELD JPEG', (100, 110, 110), '2026:04:12 13:14:15', None,
                                                     None, 'H500FF01020305', 1, 0, temperature=9.0)),
    ('NODATE2.JPG', make_undated(field_note_of_bytes), Camera('undated2', 'RECONYX', 'FIELD 2', (100, 110, 120), '2026:11:02 03:04:05',
                                                              None, None, 'U800AB9877', 1, 0, temperature=0.0)),
    ('NODATE3.JPG', make_undated(field_note_of_words), Camera('undated3', 'RECONYX', 'FIELD 3', (120, 110, 100), '2026:07:08 09:10:11',
                                                              None, None, 'H2X0012346', 1, 0, temperature=40.0)),
    ('PLAIN.JPG', make_jpeg(plain_note), Camera('plain', 'Unbranded', 'Trail JPEG', (140, 120, 90), '2026:04:11 06:00:00', None, None,
                                                None, 1, 1, temperature=4.0, body_serial='TC-000123')),
)


def describe(name, camera):
    raw = not name.endswith('.JPG')
    small = name != 'RICOH.DNG'
    large = SMALL if name == 'OLYMPUS.ORF' else LARGE
    return {'file': name, 'kind': 'raw' if raw else 'jpeg', 'large': large, 'small': SMALL if small and large != SMALL else (0, 0),
            'colour': camera.colour, 'orientation': camera.orientation}


def write_all(folder):
    """Writes every picture into @folder, which is made, and tells of each."""
    os.makedirs(folder, exist_ok=True)
    told = []
    for name, make, camera in FILES:
        with open(os.path.join(folder, name), 'wb') as file:
            file.write(make(camera))
        told.append(describe(name, camera))
    return told


if __name__ == '__main__':
    for picture in write_all(sys.argv[1]):
        print(picture['file'], picture['kind'], *picture['large'], *picture['small'], sep='\t')
