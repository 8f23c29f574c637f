"""What io_faults.cpp wrote down: every call of a run that changed something, in order."""

import collections
import struct

OPEN, WRITE, SYNC, RENAME, TRUNCATE, UNLINK, LINK, FOLDER, ALLOCATE, READ, CLOSE = range(11)
HEAD = struct.Struct("<QQqqQQQQQ")

Entry = collections.namedtuple("Entry", "kind process file offset path second bytes call phase")


def entries(held):
    at = 0
    while at + HEAD.size <= len(held):
        kind, process, file, offset, path_size, second_size, size, call, phase = HEAD.unpack_from(held, at)
        at += HEAD.size
        path = held[at:at + path_size].decode()
        second = held[at + path_size:at + path_size + second_size].decode()
        at += path_size + second_size
        yield Entry(kind, process, file, offset, path, second, held[at:at + size], call, phase)
        at += size


def size_of(entry):
    return HEAD.size + len(entry.path.encode()) + len(entry.second.encode()) + len(entry.bytes)
