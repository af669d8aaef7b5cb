"""What the build does to Pyodide: exports left out, memory as blocks, archives that hosts know."""

from __future__ import annotations

import gzip
import io
import json
import zipfile
from array import array

import pytest
from hypothesis import given
from hypothesis import strategies as st

from site_src.runtime import wasm as binary
from site_src.runtime.engine import as_functions, slimmed
from site_src.runtime.image import BLOCK, encoded, runs
from site_src.runtime.packing import member, packed
from site_src.setup.steps import SetupError

# A WebAssembly module ---------------------------------------------------------------------------


def number(value: int) -> bytes:
    """LEB128, one more time and in another way than in the code."""
    groups = [value >> shift & 127 for shift in range(0, max(value.bit_length(), 1), 7)]
    return bytes([*(group | 128 for group in groups[:-1]), groups[-1]])


def named(name: str) -> bytes:
    return number(len(name)) + name.encode()


def section(kind: int, *entries: bytes) -> bytes:
    body = number(len(entries)) + b"".join(entries)
    return bytes([kind]) + number(len(body)) + body


def module(exports: tuple[str, ...] = (), segments: tuple[tuple[int, bytes], ...] = ()) -> bytes:
    """A module with an import of each kind."""
    return b"".join(
        [
            b"\0asm\1\0\0\0",
            section(
                binary.IMPORTS,
                named("env") + named("call") + b"\0" + number(300),
                named("env") + named("table") + b"\1\x70\1" + number(5) + number(900),
                named("env") + named("memory") + b"\2\0" + number(480),
                named("GOT.func") + named("needed") + b"\3\x7f\1",
                named("env") + named("thrown") + b"\4\0" + number(2),
                named("env") + named("last") + b"\0" + number(0),
            ),
            section(binary.EXPORTS, *(named(n) + b"\0" + number(200 + len(n)) for n in exports)),
            section(
                binary.DATA,
                *(b"\0\x41" + number(at) + b"\x0b" + number(len(b)) + b for at, b in segments),
            ),
        ]
    )


def exports(wasm: bytes) -> list[str]:
    reader = binary.Reader(dict(binary.sections(wasm))[binary.EXPORTS])
    names = []
    for _ in range(reader.number()):
        names.append(reader.name())
        reader.byte()
        assert reader.number() == 200 + len(names[-1])
    return names


def test_imports_of_every_kind_are_read() -> None:
    assert [each.name for each in binary.imports(module())] == [
        "call", "table", "memory", "needed", "thrown", "last",
    ]  # fmt: skip


def test_exports_are_left_out_and_the_rest_stays() -> None:
    whole = module(("a", "b" * 200, "c"), ((64, b"data"),))
    small = binary.with_exports(whole, {"a", "c"})
    assert exports(small) == ["a", "c"]
    assert small == module(("a", "c"), ((64, b"data"),))


def test_data_segments_are_where_they_say() -> None:
    found = list(binary.data_segments(module(segments=((0, b"ab"), (8000, b"cd")))))
    assert found == [(0, b"ab"), (8000, b"cd")]


def test_a_segment_without_a_fixed_place_is_refused() -> None:
    moved = module(segments=((0, b"ab"),)).replace(b"\0\x41\0\x0b", b"\0\x23\0\x0b")
    with pytest.raises(ValueError, match="not at a fixed place"):
        list(binary.data_segments(moved))


# Pyodide's scripts ------------------------------------------------------------------------------

SCRIPT = (
    "async function _createPyodideModule(){"
    "var _set_method_docstring,_used,_unused,_needed,wasmTable;"
    'function assign(wasmExports){_set_method_docstring=Module["_set_method_docstring"]='
    'wasmExports["set_method_docstring"];_used=Module["_used"]=wasmExports["used"];'
    '_unused=Module["_unused"]=wasmExports["unused"];_needed=Module["_needed"]='
    'wasmExports["needed"];wasmTable=wasmExports["table"]}'
    'addOnPreRun(function setEmscriptenTrampoline(){});look("by_name");wasmExports.dotted();'
    "_used();here(import.meta.url)}export default _createPyodideModule;\n"
)
LOADER = "async function dt(){}export{dt as loadPyodide,U as version};\n//# sourceMappingURL=x\n"
NAMES = ("set_method_docstring", "used", "unused", "needed", "table", "by_name", "dotted", "never")


def test_exports_stay_that_the_script_calls_looks_up_or_links() -> None:
    script, wasm = slimmed(SCRIPT, module(NAMES))
    assert exports(wasm) == ["used", "needed", "table", "by_name", "dotted"]
    assert "var _used,_needed,wasmTable;" in script
    assert "unused" not in script
    assert '_used=Module["_used"]=wasmExports["used"];' in script


def test_both_scripts_become_functions() -> None:
    script = as_functions(LOADER, SCRIPT)
    assert "async function dt(){}return dt;\n};" in script
    assert "return _createPyodideModule;\n})();" in script
    assert "Module.setTrampoline=function setEmscriptenTrampoline" in script
    assert "import.meta" not in script
    assert "export" not in script


@pytest.mark.parametrize(
    ("loader", "script"),
    [
        (LOADER, SCRIPT.replace("export default", "exports =")),
        (LOADER.replace("loadPyodide", "load"), SCRIPT),
        (LOADER, SCRIPT.replace("setEmscriptenTrampoline", "other")),
    ],
)
def test_a_pyodide_that_looks_otherwise_stops_the_build(loader: str, script: str) -> None:
    with pytest.raises(SetupError, match="not written as expected"):
        as_functions(loader, script)


def test_a_pyodide_without_bindings_stops_the_build() -> None:
    with pytest.raises(SetupError, match="no export to leave out"):
        slimmed("export default _createPyodideModule;", module(NAMES))


# The image --------------------------------------------------------------------------------------


def restored(image: bytes, memory: bytes) -> tuple[dict[str, object], bytes]:
    """What worker.js does with an image, in a memory just started."""
    length = int.from_bytes(image[:4], "little")
    head = json.loads(image[4 : 4 + length])
    place = 4 + length
    places = array("I", image[place : place + 8 * head["runs"]])
    content = place + 8 * head["runs"]
    found = bytearray(memory)
    for at, count in zip(places[::2], places[1::2], strict=True):
        size = count * BLOCK
        found[at * BLOCK : at * BLOCK + size] = image[content : content + size]
        content += size
    assert content == len(image)
    return head, bytes(found)


memories = st.lists(
    st.sampled_from([b"\0" * BLOCK, b"a" * BLOCK, b"b" * BLOCK]), min_size=12, max_size=12
).map(b"".join)


@given(wanted=memories, fresh=memories, started=memories, data=st.binary(max_size=40))
def test_an_image_turns_any_started_memory_into_the_wanted_one(
    wanted: bytes, fresh: bytes, started: bytes, data: bytes
) -> None:
    """Wherever the maker's fresh memory is as the module says, any engine's is."""
    wasm = module(segments=((16, data),))
    config, told = json.dumps({"keys": ["é"]}).encode(), {"request": "?", "reply": "!"}
    head = b"\0\0\0\0" + b"".join(
        n.to_bytes(4, "little") for n in (64 + len(config), len(config), 0)
    )
    snapshot = (head.ljust(48, b"\0") + config).ljust(64 + len(config), b"\0") + wanted
    image = encoded(wasm, fresh, snapshot, json.dumps(told))

    known = bytearray(len(wanted))
    known[16 : 16 + len(data)] = data
    here = bytearray(started)
    for block in range(len(wanted) // BLOCK):
        place = slice(block * BLOCK, (block + 1) * BLOCK)
        if fresh[place] == known[place]:
            here[place] = known[place]
    found, memory = restored(image, bytes(here))
    assert memory == wanted
    assert found["config"] == {"keys": ["é"]}
    assert found["canary"] == told


def test_near_runs_are_joined_and_far_ones_are_not() -> None:
    blank, wanted = bytes(BLOCK * 20), bytearray(BLOCK * 20)
    for block in 2, 5, 15:
        wanted[block * BLOCK] = 1
    assert list(runs(blank, blank, bytes(wanted))) == [(2, 4), (15, 1)]
    assert list(runs(blank, blank, blank)) == []


# The archives -----------------------------------------------------------------------------------


@given(st.binary(max_size=2000))
def test_an_archive_is_a_zip_around_a_gzip(content: bytes) -> None:
    archive = packed("memory", content)
    start, end = member(archive)
    assert gzip.decompress(archive[start:end]) == content
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        assert opened.testzip() is None
        assert opened.namelist() == ["memory.gz"]
        assert gzip.decompress(opened.read("memory.gz")) == content
    assert packed("memory", content) == archive
