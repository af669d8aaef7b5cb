"""How long a first answer takes in each engine, against Pyodide as it is published.

python -m tests.benchmarks.start [rounds]

Both start a worker and ask it for the same answer, in turn, on the same machine and in the same
run, with nothing kept from one page to the next. The time runs from the start of the worker until
the answer is laid out in the page. Also printed: what a first calculator fetches, the memory of
Chromium's renderer, and how long an answer takes on its page of the handbook once all is loaded:
from an entry until the page is laid out, and until a frame that shows it is done. The same is then
done with answers that the page already holds: what is left is the browser's share.
"""

from __future__ import annotations

import gzip
import json
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from statistics import median, quantiles
from threading import Thread

from build import build_site
from site_src.calculators import CALCULATORS
from site_src.runtime.bundle import Runtime, make_runtime
from site_src.runtime.pyodide_package import fetch
from site_src.runtime.sources import write_sources
from site_src.serve import Handler, Server
from site_src.setup.steps import CACHE, ROOT
from tests.engines.conftest import START
from tests.engines.engine import Engine

CALCULATOR = CALCULATORS["cylinder-from-two-readings"]
PAGE = "read/number-line.html"
GAP = 2.0  # seconds between two pages: an engine goes on compiling for a while
WARMING, WARM_ANSWERS = 100, 200  # an engine compiles what runs often better, in the background

_PAGE = """<!doctype html><title>Start</title><div id="answer"></div>
<script src="runtime.js"></script>
<script>
const place = document.getElementById("answer");
function show(reply) {
  if (!reply.ok) throw new Error(reply.message);
  place.innerHTML = reply.html;
  return place.offsetHeight;
}
async function first(ask) {
  const began = performance.now();
  show(await ask());
  window.took = performance.now() - began;
}
const calculator = CALCULATOR, fields = FIELDS, column = "wide";
ASK
window.ask = ask;
</script>"""

# Entries one after the other, each once the frame with the answer before it is done.
_ENTRIES = """async (slug, name, times) => {
    const section = document.getElementById(slug);
    const input = section.querySelector(`[name=${name}]`);
    const answer = section.querySelector(".answer");
    const changed = () => new Promise((done) => {
        const observer = new MutationObserver(() => { observer.disconnect(); done(); });
        observer.observe(answer, {childList: true});
    });
    const frame = () => new Promise((done) => requestAnimationFrame(() => {
        const {port1, port2} = new MessageChannel();
        port1.onmessage = done;
        port2.postMessage("after the frame");
    }));
    const taken = [];
    for (let count = 1; count <= times; count++) {
        const put = changed();
        input.value = (count % 100) / 8; // another count, and another drawing
        const began = performance.now();
        input.dispatchEvent(new Event("input", {bubbles: true}));
        await put;
        document.body.offsetHeight;
        const laid = performance.now();
        await frame();
        taken.push([laid - began, performance.now() - began]);
    }
    window.taken = taken;
}"""

# Once `keptOnly` is set, a question is answered with what Python said to it before.
_KEEP_ANSWERS = """() => {
    const kept = new Map(), ask = Runtime.prototype.ask;
    Runtime.prototype.ask = async function (...question) {
        const key = JSON.stringify(question);
        if (!self.keptOnly) kept.set(key, await ask.apply(this, question));
        return kept.get(key);
    };
}"""

_OURS = """const runtime = new Runtime("", "WORKER");
const ask = () => runtime.ask(calculator, fields, column);"""

_STOCK = """let worker;
const ask = () => new Promise((resolve) => {
  worker ??= new Worker("stock.js", {type: "module"});
  worker.onmessage = (event) => resolve(JSON.parse(event.data));
  worker.postMessage(JSON.stringify({id: 1, calculator, root: "", fields, column}));
});"""

_STOCK_WORKER = """import { loadPyodide } from "./pyodide/pyodide.mjs";
async function start() {
  const [pyodide, sources] = await Promise.all([
    loadPyodide(),
    fetch("sources.zip").then((response) => response.arrayBuffer()),
  ]);
  pyodide.unpackArchive(sources, "zip", { extractDir: "/sources" });
  pyodide.runPython("import sys; sys.path.insert(0, '/sources')");
  return pyodide.pyimport("site_src.calculators.door").reply;
}
const reply = start();
self.onmessage = async (event) => postMessage((await reply)(event.data));
"""


class _Uncached(Handler):
    extensions_map = {  # noqa: RUF012 - the base class keeps it so
        **Handler.extensions_map,
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
    }

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()


def main(rounds: int) -> None:
    """Measures and prints."""
    runtime = make_runtime(fetch(CACHE), CACHE)
    print(f"A first calculator fetches {fetched(runtime) / 1e6:.2f} MB, scripts counted as gzip.")
    with tempfile.TemporaryDirectory() as temporary, hosted(Path(temporary), runtime) as host:
        build_site(Path(temporary) / "handbook")
        page = f"{host}handbook/{PAGE}#{CALCULATOR.slug}"
        for name, start in START.items():
            folder = Path(temporary) / name
            folder.mkdir()
            with start(folder) as engine:
                measure_first(engine, host, rounds)
                measure_warm(engine, page)


def fetched(runtime: Runtime) -> int:
    """Bytes over the network, when the host packs its scripts and leaves the archives alone."""
    archives = [file for name, file in runtime.files.items() if name.startswith(("eng", "image"))]
    return sum(map(len, archives)) + len(gzip.compress(runtime.files[runtime.worker], mtime=0))


@contextmanager
def hosted(folder: Path, runtime: Runtime) -> Iterator[str]:
    """Both pages on a server that forbids caching."""
    runtime.write(folder)
    shutil.copyfile(ROOT / "site_src" / "static" / "runtime.js", folder / "runtime.js")
    shutil.copytree(fetch(CACHE), folder / "pyodide")
    write_sources(folder / "sources.zip")
    (folder / "stock.js").write_text(_STOCK_WORKER, "utf-8")
    fields = json.dumps(CALCULATOR.examples[0].given)
    for name, ask in (("ours", _OURS.replace("WORKER", runtime.worker)), ("stock", _STOCK)):
        page = _PAGE.replace("CALCULATOR", json.dumps(CALCULATOR.slug)).replace("FIELDS", fields)
        (folder / f"{name}.html").write_text(page.replace("ASK", ask), "utf-8")
    serving = Server(("127.0.0.1", 0), partial(_Uncached, directory=str(folder)))
    thread = Thread(target=serving.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{serving.server_port}/"
    finally:
        serving.shutdown()
        thread.join()
        serving.server_close()


def measure_first(engine: Engine, host: str, rounds: int) -> None:
    """First answers of both, in turn."""
    times: dict[str, list[float]] = {"stock": [], "ours": []}
    memory: dict[str, list[float]] = {"stock": [], "ours": []}
    for _ in range(rounds):
        for name, taken in times.items():
            engine.open(f"{host}{name}.html")
            engine.evaluate("() => { first(ask); }")
            engine.expect(True, "() => window.took !== undefined")
            taken.append(engine.evaluate("() => took"))
            time.sleep(GAP)
            memory[name].append(renderers())  # what the start alone has needed is given back by now
    stock, ours = (median(times[name]) for name in ("stock", "ours"))
    print(
        f"{engine.name}: first answer {ours:.0f} ms ({min(times['ours']):.0f} to "
        f"{max(times['ours']):.0f}), stock {stock:.0f} ms: {ours / stock:.2f} of it"
    )
    if engine.name == "Chromium":
        held = {name: median(values) for name, values in memory.items()}
        print(f"  renderer's memory {held['ours']:.0f} MB, stock {held['stock']:.0f} MB")


def measure_warm(engine: Engine, page: str) -> None:
    """Answers on the page of the handbook, from Python and from what the page kept of it."""
    engine.open(page)
    engine.evaluate(_KEEP_ANSWERS)
    entries = f"(...given) => {{ ({_ENTRIES})(...given); }}"  # it is not waited for
    for whose in ("Python's", "a kept"):
        engine.evaluate(entries, CALCULATOR.slug, "second", WARMING + WARM_ANSWERS)
        engine.expect(True, "() => window.taken !== undefined")
        laid, shown = zip(*engine.evaluate("() => taken")[WARMING:], strict=True)
        for what, taken in (("laid out", laid), ("shown", shown)):
            high = quantiles(taken, n=20)[-1]
            print(f"  {whose} answer {what} in {median(taken):.1f} ms, 95 % within {high:.1f} ms")
        engine.evaluate("() => { window.taken = undefined; self.keptOnly = true; }")


def renderers() -> float:
    """The megabytes of Chromium's renderers on this machine, shared pages counted in part.

    Another Chromium on the machine counts too: end it first.
    """
    kilobytes = 0
    for process in Path("/proc").glob("[0-9]*"):
        try:
            if b"--type=renderer" in (process / "cmdline").read_bytes():
                lines = (process / "smaps_rollup").read_text("ascii").splitlines()
                kilobytes += next(int(line.split()[1]) for line in lines if line[:4] == "Pss:")
        except OSError:
            continue  # it has ended
    return kilobytes / 1024


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
