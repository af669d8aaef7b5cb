"""Pyodide made smaller, and made ready to start from one classic script; for the pinned version.

Of its exports those are kept that its own JavaScript uses: the others serve dynamic libraries, of
which the handbook has none. Its two modules become functions, because a browser gives a page that
was opened as a file no module worker. Both are done by rule; what does not look as it does in the
pinned version stops the build.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

from site_src.runtime import wasm as binary
from site_src.setup.steps import SetupError

_BINDING = re.compile(r'(\w+)=Module\["\1"\]=wasmExports\["([^"]+)"\];')
_DECLARED = re.compile(r"var (_set_method_docstring,[\w$,]+);")
_LOADER_END = re.compile(r"export\{(\w+) as loadPyodide,\w+ as version\};\s*(//.*\s*)?\Z")
_TRAMPOLINE = re.compile(r"addOnPreRun\((?=function setEmscriptenTrampoline\()")
_MODULE_END = re.compile(r"export default _createPyodideModule;\s*\Z")


def slimmed(script: str, wasm: bytes) -> tuple[str, bytes]:
    """pyodide.asm.mjs and pyodide.asm.wasm without the exports that nothing here uses.

    Errors  SetupError when they are not written as in the pinned version.
    """
    rest = _BINDING.sub("", script)
    uses = Counter(re.findall(r"[\w$]+", rest))  # a name is once in the list of declarations
    unused = {name: export for name, export in _BINDING.findall(script) if uses[name] == 1}
    kept = {export for name, export in _BINDING.findall(script) if name not in unused}
    kept |= {name for pair in re.findall(r'"(\w+)"|wasmExports\.(\w+)', rest) for name in pair}
    kept |= {each.name for each in binary.imports(wasm) if each.module.startswith("GOT.")}
    gone = {name for name, export in unused.items() if export not in kept}
    if not gone:
        raise SetupError("Pyodide's script is not written as expected: no export to leave out.")

    script = _BINDING.sub(lambda bound: "" if bound[1] in gone else bound[0], script)
    script = _replaced(_DECLARED, lambda names: _without(names[1].split(","), gone), script)
    return script, binary.with_exports(wasm, kept)


def _without(names: list[str], gone: set[str]) -> str:
    return f"var {','.join(name for name in names if name not in gone)};"


def as_functions(loader: str, script: str) -> str:
    """JavaScript that defines `pyodideLoader(fetch)` and `createPyodideModule`.

    The module that the latter makes has one function more, `setTrampoline`, which Pyodide calls
    before Python starts: it makes calls faster where the engine can, and an image undoes it.

    loader  pyodide.mjs; the `fetch` that is given to it stands in for the browser's.
    script  pyodide.asm.mjs.
    Errors  SetupError when they are not written as in the pinned version.
    """
    loader = _replaced(_LOADER_END, lambda end: f"return {end[1]};", loader)
    script = _replaced(_TRAMPOLINE, lambda _: "addOnPreRun(Module.setTrampoline=", script)
    script = _replaced(_MODULE_END, lambda _: "return _createPyodideModule;", script)
    script = script.replace("import.meta.url", '"file:///"')  # it only has to be an address
    return (
        f"const pyodideLoader = (fetch) => {{\n{loader}\n}};\n"
        f"const createPyodideModule = (() => {{\n{script}\n}})();\n"
    )


def _replaced(pattern: re.Pattern[str], make: Callable[[re.Match[str]], str], text: str) -> str:
    replaced, count = pattern.subn(make, text)
    if count != 1:
        raise SetupError(f"Pyodide's script is not written as expected: {pattern.pattern}")
    return replaced
