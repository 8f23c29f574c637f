"""Films made without any video library: gray frames, uncompressed (Y800), in an AVI.

The layout is RIFF's (Multimedia Programming Interface and Data Specifications 1.0, 1991), the headers those of
AVI 1.0, from memory; FFmpeg reads them.
"""

import struct

import picture

FRAMES_A_SECOND = 10
GAP = 40  # pixels of shelf between labels


def chunk(name, data):
    return name + struct.pack("<I", len(data)) + data + b"\0" * (len(data) % 2)


def head(width, height, frames):
    size = width * height
    main = struct.pack("<14I", 1000000 // FRAMES_A_SECOND, 0, 0, 0x10, frames, 0, 1, size, width, height, 0, 0, 0, 0)
    stream = struct.pack("<4s4sIHHIIIIIIII4H", b"vids", b"Y800", 0, 0, 0, 0, 1, FRAMES_A_SECOND, 0, frames, size, 0, 0,
                         0, 0, width, height)
    form = struct.pack("<IiiHH4sIiiII", 40, width, height, 1, 8, b"Y800", size, 0, 0, 0, 0)
    streams = chunk(b"LIST", b"strl" + chunk(b"strh", stream) + chunk(b"strf", form))
    return chunk(b"LIST", b"hdrl" + chunk(b"avih", main) + streams)


def save(path, frames):
    """Frames of one size whose width is a multiple of four; returns the path."""
    first = frames[0]
    size = first.width * first.height
    index = b"".join(struct.pack("<4sIII", b"00db", 0x10, 4 + at * (size + 8), size) for at in range(len(frames)))
    movie = 4 + len(frames) * (size + 8)
    header = head(first.width, first.height, len(frames))
    with open(path, "wb") as out:
        out.write(b"RIFF" + struct.pack("<I", 4 + len(header) + 8 + movie + 8 + len(index)) + b"AVI " + header)
        out.write(b"LIST" + struct.pack("<I", movie) + b"movi")
        for frame in frames:
            out.write(chunk(b"00db", bytes(frame.pixels)))
        out.write(chunk(b"idx1", index))
    return path


def row_of(pages):
    """Labels side by side on a white shelf."""
    across, high = GAP, max(page.height for page in pages) + 2 * GAP
    scene = picture.Gray((sum(page.width + GAP for page in pages) + GAP + 3) // 4 * 4, high)
    for page in pages:
        scene.paste(page, across, GAP)
        across += page.width + GAP
    return scene


def view_of(scene, x, width, height):
    """The part of a scene that a camera sees which looks at it squarely."""
    view = picture.Gray(width, height)
    for row in range(height):
        at = row * scene.width + x
        view.pixels[row * width:(row + 1) * width] = scene.pixels[at:at + width]
    return view


def views_along(scene, width, step=16, rest=2):
    """From left to right, `step` pixels a frame, standing for `rest` frames at each end."""
    along = [*[0] * rest, *range(0, scene.width - width + 1, step), *[scene.width - width] * rest]
    return [view_of(scene, x, width, scene.height) for x in along]


def cut(path, share, to):
    """As much of a film as was written before the card was pulled."""
    data = path.read_bytes()
    to.write_bytes(data[:int(len(data) * share)])
    return to
