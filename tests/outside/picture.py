"""Pictures made and taken apart without any imaging library: gray pixels in, gray PNG out (ISO/IEC 15948)."""

import struct
import subprocess
import zlib


class Gray:
    """Eight-bit gray pixels, row by row; 255 is white."""

    def __init__(self, width, height, pixels=None):
        self.width, self.height = width, height
        self.pixels = pixels if pixels is not None else bytearray(b"\xff" * (width * height))

    def paste(self, other, x, y):
        """Lays `other` over this; what reaches outside on the right or below is cut off."""
        wide = min(other.width, self.width - x)
        for row in range(min(other.height, self.height - y)):
            at = (y + row) * self.width + x
            self.pixels[at:at + wide] = other.pixels[row * other.width:row * other.width + wide]
        return self

    def save(self, path):
        rows = b"".join(b"\0" + bytes(self.pixels[y * self.width:(y + 1) * self.width]) for y in range(self.height))
        path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header(self.width, self.height))
                         + chunk(b"IDAT", zlib.compress(rows, 1)) + chunk(b"IEND", b""))
        return path


def header(width, height):
    return struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def pages_of(pdf, dpi=300):
    """Every page of a PDF as gray pixels, by poppler."""
    out = subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", pdf], capture_output=True, check=True).stdout
    pages = []
    while out:  # P5, width, height, 255, each ended by one white space, then the pixels
        fields = out.split(maxsplit=4)[:4]
        width, height = int(fields[1]), int(fields[2])
        start = len(b"P5\n%d %d\n255\n" % (width, height))
        pages.append(Gray(width, height, bytearray(out[start:start + width * height])))
        out = out[start + width * height:]
    return pages
