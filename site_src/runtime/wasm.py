"""As much of the WebAssembly binary format as the build needs: sections, imports, exports, data.

The format is chapter 5 of the WebAssembly Core Specification, version 2.0.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from typing import NamedTuple

HEADER = 8  # magic number and version
IMPORTS, EXPORTS, DATA = 2, 7, 11  # section numbers
_FUNCTION, _TABLE, _MEMORY, _GLOBAL, _TAG = range(5)
_I32_CONST = 0x41


class Import(NamedTuple):
    """A name that a module asks for, and of which other module."""

    module: str
    name: str


class Segment(NamedTuple):
    """Bytes that are in memory when a module starts, and where."""

    offset: int
    content: bytes


class Reader:
    """Reads the format's numbers and names from the front of some bytes."""

    def __init__(self, body: bytes) -> None:
        self.body = body
        self.at = 0

    def byte(self) -> int:
        self.at += 1
        return self.body[self.at - 1]

    def number(self, *, signed: bool = False) -> int:
        """A number in LEB128."""
        value = shift = 0
        while True:
            byte = self.byte()
            value |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                return value - (1 << shift) if signed and byte & 64 else value

    def take(self, length: int) -> bytes:
        self.at += length
        return self.body[self.at - length : self.at]

    def name(self) -> str:
        return self.take(self.number()).decode()


def sections(wasm: bytes) -> Iterator[tuple[int, bytes]]:
    """The number and the body of every section."""
    reader = Reader(wasm)
    reader.take(HEADER)
    while reader.at < len(wasm):
        yield reader.byte(), reader.take(reader.number())


def imports(wasm: bytes) -> Iterator[Import]:
    """All that a module asks for."""
    reader = Reader(dict(sections(wasm))[IMPORTS])
    for _ in range(reader.number()):
        yield Import(reader.name(), reader.name())
        kind = reader.byte()
        if kind in (_TABLE, _GLOBAL, _TAG):
            reader.byte()  # the type of an entry or a value; how a tag is thrown
        if kind in (_FUNCTION, _TAG):
            reader.number()
        elif kind == _GLOBAL:
            reader.byte()
        else:
            has_most = reader.number() & 1
            for _ in range(1 + has_most):
                reader.number()


def with_exports(wasm: bytes, kept: Container[str]) -> bytes:
    """The module with those of its exports that are named in `kept`."""
    parts = [wasm[:HEADER]]
    for section, body in sections(wasm):
        new = _exports(body, kept) if section == EXPORTS else body
        parts += [bytes([section]), _number(len(new)), new]
    return b"".join(parts)


def _exports(body: bytes, kept: Container[str]) -> bytes:
    reader = Reader(body)
    entries = []
    for _ in range(reader.number()):
        start = reader.at
        name = reader.name()
        reader.byte()
        reader.number()
        if name in kept:
            entries.append(body[start : reader.at])
    return _number(len(entries)) + b"".join(entries)


def _number(value: int) -> bytes:
    digits = bytearray()
    while value > 127:
        digits.append(value & 127 | 128)
        value >>= 7
    return bytes([*digits, value])


def data_segments(wasm: bytes) -> Iterator[Segment]:
    """What the module puts into its memory when it starts.

    Errors  ValueError for a segment at an offset that is not a plain number.
    """
    reader = Reader(dict(sections(wasm))[DATA])
    for _ in range(reader.number()):
        flags, instruction = reader.byte(), reader.byte()
        if (flags, instruction) != (0, _I32_CONST):
            raise ValueError("a data segment is not at a fixed place")
        offset = reader.number(signed=True)
        reader.byte()  # the end of the expression
        yield Segment(offset, reader.take(reader.number()))
