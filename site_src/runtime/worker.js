// Python in a worker: loads Pyodide with the handbook compiled into it, then passes JSON text through.
import { loadPyodide } from "./pyodide/pyodide.mjs";
import { lock, python, total } from "./manifest.js";

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
  const pyodide = await loadPyodide({
    stdLibURL: new URL(python, import.meta.url).href, // the handbook's own modules among them
    lockFileContents: lock,
    packageBaseUrl: new URL(".", import.meta.url).href,
  });
  return pyodide.pyimport("site_src.calculators.door").reply;
}

try {
  const reply = await start();
  self.onmessage = (event) => postMessage(reply(event.data));
  say({ ready: true });
} catch (error) {
  say({ failed: error.message });
}
