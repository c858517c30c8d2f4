"""Lays out TIFF files piece by piece, and draws small JPEGs, for pictures made up as cameras write them.

Sources: TIFF 6.0 (1992), section 2: header, directory, types, values of up to four bytes in place; type 13 of its
supplement 1 (1995); ITU-T T.81 (1992),
annex B for the markers, F.1.2 for the coding of DC coefficients, table K.3 for their code lengths; Exif 2.32
(CIPA DC-008), 4.5.4 for APP1.
"""

import struct

BYTE, ASCII, SHORT, LONG, RATIONAL, SBYTE, UNDEFINED, SRATIONAL, IFD = 1, 2, 3, 4, 5, 6, 7, 10, 13
FORMATS = {BYTE: 'B', SHORT: 'H', LONG: 'I', RATIONAL: 'II', SBYTE: 'b', SRATIONAL: 'ii', IFD: 'I'}


class Blob:
    """Bytes that lie somewhere in the file."""

    def __init__(self, content):
        self.content, self.at = content, 0

    def size(self):
        return len(self.content)

    def write(self, order):
        return self.content


class At:
    """Where a piece lies, as a LONG, counted from where offsets are counted from."""

    def __init__(self, *pieces):
        self.pieces = pieces


class Inside:
    """A piece as the value of a tag of type UNDEFINED: a maker note."""

    def __init__(self, piece):
        self.piece = piece


def encode(order, kind, value):
    if isinstance(value, bytes):
        return value
    if isinstance(value, str):
        return value.encode() + b'\0'
    numbers = value if isinstance(value, (list, tuple)) else [value]
    if numbers and isinstance(numbers[0], (list, tuple)):
        numbers = [number for pair in numbers for number in pair]
    return struct.pack(order + FORMATS[kind][0] * len(numbers), *numbers)


class Directory:
    """One IFD with its values behind it; @entries: [(tag, type, value)]. @head comes before it: a maker note's."""

    def __init__(self, entries, following=None, head=b'', next_link=True):
        self.entries, self.following, self.head, self.next_link = sorted(entries, key=lambda e: e[0]), following, head, next_link
        self.at = 0

    def table_size(self):
        return len(self.head) + 2 + 12 * len(self.entries) + 4 * self.next_link

    def length_of(self, kind, value):
        return 4 * len(value.pieces) if isinstance(value, At) else 0 if isinstance(value, Inside) else len(encode('<', kind, value))

    def size(self):
        lengths = [self.length_of(kind, value) for _, kind, value in self.entries]
        return self.table_size() + sum(length + length % 2 for length in lengths if length > 4)

    def write(self, order):
        table, rest = self.head + struct.pack(order + 'H', len(self.entries)), b''
        for tag, kind, value in self.entries:
            if isinstance(value, Inside):
                table += struct.pack(order + 'HHII', tag, UNDEFINED, value.piece.size(), value.piece.at)
                continue
            data = b''.join(struct.pack(order + 'I', p.at) for p in value.pieces) if isinstance(value, At) else encode(order, kind, value)
            width = struct.calcsize('=' + FORMATS.get(kind, 'B'))
            table += struct.pack(order + 'HHI', tag, kind, len(data) // width)
            if len(data) <= 4:
                table += data.ljust(4, b'\0')
            else:
                table += struct.pack(order + 'I', self.at + self.table_size() + len(rest))
                rest += data + b'\0' * (len(data) % 2)
        if self.next_link:
            table += struct.pack(order + 'I', self.following.at if self.following else 0)
        return table + rest


def lay_out(order, pieces, start):
    """The bytes of @pieces one after another, the first at @start of where offsets are counted from."""
    at = start
    for piece in pieces:
        piece.at = at
        at += piece.size() + piece.size() % 2
    out = b''
    for piece in pieces:
        content = piece.write(order)
        assert len(content) == piece.size()
        out += content + b'\0' * (len(content) % 2)
    return out


def make_tiff(order, pieces, magic=42, more_head=b''):
    """A whole file; the first of @pieces is its first directory."""
    head = (b'II' if order == '<' else b'MM') + struct.pack(order + 'HI', magic, 8 + len(more_head)) + more_head
    return head + lay_out(order, pieces, len(head))


# Lengths of the codes of T.81 table K.3 for the sizes 0 to 11 of a DC difference.
DC_LENGTHS = (2, 3, 3, 3, 3, 3, 4, 5, 6, 7, 8, 9)


def make_codes():
    codes, code, length = [], 0, DC_LENGTHS[0]
    for wanted in DC_LENGTHS:
        code <<= wanted - length
        length = wanted
        codes.append(format(code, '0%db' % length))
        code += 1
    return codes


DC_CODES = make_codes()
END_OF_BLOCK = '0'  # the only code of the AC table here: every block is flat


def code_difference(difference):
    size = abs(difference).bit_length()
    bits = '' if size == 0 else format(difference if difference > 0 else difference + (1 << size) - 1, '0%db' % size)
    return DC_CODES[size] + bits + END_OF_BLOCK


def to_ycc(red, green, blue):
    """JFIF 1.02: luminance and colour differences, less 128."""
    return (round(0.299 * red + 0.587 * green + 0.114 * blue) - 128,
            round(-0.1687 * red - 0.3313 * green + 0.5 * blue), round(0.5 * red - 0.4187 * green - 0.0813 * blue))


def marker(code, body):
    return struct.pack('>BBH', 255, code, len(body) + 2) + body


def draw_jpeg(width, height, colour, app1=b''):
    """Four flat quarters, so that it shows which way up it is: top left white, top right @colour, bottom left half of it,
    bottom right black. @width and @height: multiples of 16."""
    quarters = [[(255, 255, 255), colour], [tuple(c // 2 for c in colour), (0, 0, 0)]]
    last, bits = [0, 0, 0], []
    for row in range(height // 8):
        for column in range(width // 8):
            wanted = to_ycc(*quarters[2 * row >= height // 8][2 * column >= width // 8])
            for part in range(3):
                bits.append(code_difference(wanted[part] - last[part]))
                last[part] = wanted[part]
    text = ''.join(bits)
    text += '1' * (-len(text) % 8)
    coded = int(text, 2).to_bytes(len(text) // 8, 'big').replace(b'\xff', b'\xff\0')
    lengths = bytes(DC_LENGTHS.count(length) for length in range(1, 17))
    return (b'\xff\xd8' + (marker(0xe1, app1) if app1 else marker(0xe0, b'JFIF\0\1\2\0\0\1\0\1\0\0')) +
            marker(0xdb, b'\0' + b'\x08' * 64) +
            marker(0xc0, struct.pack('>BHHB', 8, height, width, 3) + b''.join(bytes((part, 0x11, 0)) for part in (1, 2, 3))) +
            marker(0xc4, b'\0' + lengths + bytes(range(len(DC_LENGTHS)))) +
            marker(0xc4, b'\x10' + b'\1' + b'\0' * 15 + b'\0') +
            marker(0xda, b'\3\1\0\2\0\3\0\0\x3f\0') + coded + b'\xff\xd9')
