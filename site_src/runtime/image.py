"""The start-up image: the memory of a Python that is ready to answer, as the browser restores it.

A WebAssembly module starts with its data segments in memory and zeros elsewhere. The image holds
only the blocks in which the finished memory differs from that, or in which a memory just started
does; all others are right already. This leans on three things of Pyodide that it does not
document, all of them here, in image.mjs and in `restored` of worker.js: `_makeSnapshot`,
`_loadSnapshot` and `API.restoreSnapshot`. So Pyodide's version is pinned, the three engines are
tested, and a worker that cannot restore the image starts without it.

    the length of the head, 4 bytes, little-endian
    the head, JSON: "config", which Pyodide wrote; "canary"; "runs", the number of runs
    where each run begins and how long it is, in blocks of 16 bytes, each 4 bytes
    the runs
"""

from __future__ import annotations

import json
import struct
from array import array
from collections.abc import Iterator

from site_src.runtime.wasm import data_segments

BLOCK = 16
JOINED = 4  # runs with fewer blocks than this between them are one
_SNAPSHOT_HEAD = struct.Struct("<4sIII")  # magic, where the memory starts, length of the JSON, 0
_JSON_AT = 48


def encoded(wasm: bytes, fresh: bytes, snapshot: bytes, canary: str) -> bytes:
    """The image that turns a memory just started into the finished one.

    wasm      the module.
    fresh     its memory before Python starts.
    snapshot  what Pyodide's makeMemorySnapshot gives.
    canary    JSON text of a request and its answer.
    """
    _, start, length, _ = _SNAPSHOT_HEAD.unpack_from(snapshot)
    config = json.loads(snapshot[_JSON_AT : _JSON_AT + length])
    memory = snapshot[start:]
    pieces = list(runs(_at_start(wasm, len(memory)), fresh, memory))
    head = {"config": config, "canary": json.loads(canary), "runs": len(pieces)}
    text = json.dumps(head, sort_keys=True).encode()
    text += b" " * (-len(text) % 4)  # what follows is read as numbers of four bytes
    places = array("I", [number for piece in pieces for number in piece])
    content = (memory[at * BLOCK : (at + count) * BLOCK] for at, count in pieces)
    return b"".join([len(text).to_bytes(4, "little"), text, places.tobytes(), *content])


def _at_start(wasm: bytes, size: int) -> bytes:
    memory = bytearray(size)
    for offset, content in data_segments(wasm):
        memory[offset : offset + len(content)] = content
    return bytes(memory)


def runs(known: bytes, fresh: bytes, wanted: bytes) -> Iterator[tuple[int, int]]:
    """The blocks in which `wanted` or `fresh` is not as `known`: the first, and how many."""
    begun = end = -JOINED
    for block in range(len(wanted) // BLOCK):
        place = slice(block * BLOCK, (block + 1) * BLOCK)
        if wanted[place] == known[place] == fresh[place]:
            continue
        if block >= end + JOINED:
            if end > begun:
                yield begun, end - begun
            begun = block
        end = block + 1
    if end > begun:
        yield begun, end - begun
