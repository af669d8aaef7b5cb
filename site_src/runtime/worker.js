// Python in a worker: loads Pyodide and the handbook's own Python, then passes JSON text through.
import { loadPyodide } from "./pyodide/pyodide.mjs";
import { bundle, total } from "./manifest.js";

const say = (message) => postMessage(JSON.stringify(message));

/** Counts the bytes of everything fetched, as they arrive; the responses stay streams. */
function countBytes() {
  const plainFetch = self.fetch.bind(self);
  let received = 0;
  self.fetch = async (...request) => {
    const response = await plainFetch(...request);
    if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
    const counter = new TransformStream({
      transform(chunk, controller) {
        received += chunk.byteLength;
        say({ loading: { received: Math.min(received, total), total } });
        controller.enqueue(chunk);
      },
    });
    const { status, headers } = response;
    return new Response(response.body.pipeThrough(counter), { status, headers });
  };
}

async function start() {
  countBytes();
  say({ loading: { received: 0, total } });
  const archive = fetch(new URL(bundle, import.meta.url)).then((response) => response.arrayBuffer());
  archive.catch(() => {}); // reported below, when it is awaited
  const pyodide = await loadPyodide();
  pyodide.unpackArchive(await archive, "zip", { extractDir: "/handbook" });
  pyodide.runPython("import sys; sys.path.insert(0, '/handbook')");
  return pyodide.pyimport("site_src.calculators.door").reply;
}

try {
  const reply = await start();
  self.onmessage = (event) => postMessage(reply(event.data));
  say({ ready: true });
} catch (error) {
  say({ failed: error.message });
}
