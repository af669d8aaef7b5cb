"""What the browser loads to run the handbook's Python; the same bytes for the same sources.

Three archives, each under a name with its hash: `engine`, Pyodide's WebAssembly; `image`, a memory
ready to answer; `python`, the byte code, for a start without the image. One script starts them.
A page that was opened as a file cannot fetch archives, so `stick/` has them once more as scripts.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from site_src.runtime.engine import as_functions, slimmed
from site_src.runtime.image import encoded
from site_src.runtime.packing import member, packed
from site_src.runtime.sources import write_sources
from site_src.setup import node
from site_src.setup.steps import run

HERE = Path(__file__).parent
LOADER, SCRIPT, WASM, LOCK = "pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "lock.json"


@dataclass(frozen=True)
class Runtime:
    """The files of the runtime by their names; `worker` names the script that starts them."""

    worker: str
    files: dict[str, bytes]

    def write(self, folder: Path) -> None:
        """Writes every file below `folder`."""
        for name, content in self.files.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(content)


def make_runtime(pyodide: Path, cache: Path) -> Runtime:
    """The runtime, from the folder that the published Pyodide is in.

    What takes long to make is kept in `cache` until something that it is made of changes.

    Errors  SetupError when Pyodide is not as expected, or the Python cannot be compiled.
    """
    engine = slim_engine(pyodide)
    python = compiled_python(pyodide, cache)
    image = start_up_image(engine, python, cache)
    about: dict[str, object] = {"lock": engine[LOCK].decode()}
    files = {}
    for name, content in {"engine": engine[WASM], "image": image, "python": python}.items():
        archive = _archive(name, content, cache)
        start, end = member(archive)
        hashed = f"{name}-{_digest(archive)[:10]}"
        about[name] = {"name": f"{hashed}.zip", "size": len(archive), "start": start, "end": end}
        files[f"{hashed}.zip"] = archive
        text = b64encode(archive).decode()
        files[f"stick/{hashed}.js"] = f'takePayload("{name}", "{text}");\n'.encode()
    script = _starting_script(engine, about)
    worker = f"worker-{_digest(script)[:10]}.js"
    return Runtime(worker, {**files, worker: script})


def slim_engine(pyodide: Path) -> dict[str, bytes]:
    """Pyodide's own files as the handbook uses them.

    The lock file lists packages; none is used, so an empty one saves a request.
    """
    script, wasm = slimmed((pyodide / SCRIPT).read_text("utf-8"), (pyodide / WASM).read_bytes())
    lock = json.loads((pyodide / "pyodide-lock.json").read_text("utf-8"))
    return {
        LOADER: (pyodide / LOADER).read_bytes(),
        SCRIPT: script.encode(),
        WASM: wasm,
        LOCK: json.dumps({"info": lock["info"], "packages": {}}).encode(),
    }


def _starting_script(engine: dict[str, bytes], about: dict[str, object]) -> bytes:
    """One classic script: a worker runs it; a page that runs it only learns what it would do."""
    functions = as_functions(engine[LOADER].decode(), engine[SCRIPT].decode())
    return (
        f'self.startRuntime = (FILES) => {{\n"use strict";\n{functions}\n'
        f"{(HERE / 'worker.js').read_text('utf-8')}}};\n"
        f"self.startRuntime.files = {json.dumps(about)};\n"
        "if (!self.document) self.startRuntime(self.startRuntime.files);\n"
    ).encode()


def compiled_python(pyodide: Path, cache: Path) -> bytes:
    """The archive of byte code, made by Pyodide itself.

    Errors  SetupError when the Python cannot be compiled.
    """
    made_by = (HERE / "compile.mjs", HERE / "compiled.py")

    def make() -> bytes:
        target = folder / "python.zip"
        _run_node("compiled", made_by[0], pyodide, sources, made_by[1], target)
        return target.read_bytes()

    with tempfile.TemporaryDirectory(dir=cache) as temporary:
        folder = Path(temporary)
        sources = folder / "sources.zip"
        write_sources(sources)
        made_of = [pyodide.name.encode(), *(file.read_bytes() for file in (sources, *made_by))]
        return _kept(cache, "compiled", made_of, make)


def start_up_image(engine: dict[str, bytes], python: bytes, cache: Path) -> bytes:
    """The start-up image.

    Errors  SetupError when Pyodide cannot make it.
    """
    made_by = (HERE / "image.mjs", HERE / "filled.py")

    def make() -> bytes:
        with tempfile.TemporaryDirectory(dir=cache) as temporary:
            folder = Path(temporary)
            for name, content in {**engine, "python.zip": python}.items():
                (folder / name).write_bytes(content)
            _run_node("started", made_by[0], folder, folder / "python.zip", made_by[1], folder)
            fresh, snapshot = ((folder / name).read_bytes() for name in ("fresh", "snapshot"))
            canary = (folder / "canary").read_text("utf-8")
        return encoded(engine[WASM], fresh, snapshot, canary)

    made_of = [*engine.values(), python]
    made_of += [file.read_bytes() for file in (*made_by, HERE / "image.py")]
    return _kept(cache, "memory", made_of, make)


def _archive(name: str, content: bytes, cache: Path) -> bytes:
    made_of = [content, (HERE / "packing.py").read_bytes()]
    return _kept(cache, name, made_of, lambda: packed(name, content))


def _run_node(done: str, *words: Path) -> None:
    command = [str(word) for word in (*node.commands().node, *words)]
    run(command, f"The handbook's Python could not be {done} for the browser:")


def _kept(cache: Path, name: str, made_of: list[bytes], make: Callable[[], bytes]) -> bytes:
    """What `make` gives, from the cache if it was made of the same before."""
    file = cache / f"{name}-{_digest(*made_of)[:16]}"
    if not file.exists():
        content = make()
        for stale in cache.glob(f"{name}-*"):
            stale.unlink(missing_ok=True)
        with tempfile.NamedTemporaryFile(dir=cache, delete=False) as fresh:
            fresh.write(content)
        Path(fresh.name).replace(file)  # whole or not at all: others may build at the same time
    return file.read_bytes()


def _digest(*parts: bytes) -> str:
    return hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()
