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
    const headers = new Headers(response.headers);
    // Whatever a host calls it: with another type the browser would refuse to compile it.
    if (response.url.endsWith(".wasm")) headers.set("content-type", "application/wasm");
    return new Response(response.body.pipeThrough(counter), { status: response.status, headers });
  };
}

/** Rejects when the WebAssembly cannot be had or compiled: Pyodide only warns, and waits forever. */
function wasmFailure() {
  return new Promise((_, reject) => {
    for (const name of ["instantiate", "instantiateStreaming"]) {
      const plain = WebAssembly[name].bind(WebAssembly);
      WebAssembly[name] = (...given) => {
        const done = plain(...given);
        done.catch(reject);
        return done;
      };
    }
  });
}

async function start() {
  countBytes();
  say({ loading: { received: 0, total } });
  const failure = wasmFailure();
  const loaded = loadPyodide({
    stdLibURL: new URL(python, import.meta.url).href, // the handbook's own modules among them
    lockFileContents: lock,
    packageBaseUrl: new URL(".", import.meta.url).href,
  });
  const pyodide = await Promise.race([loaded, failure]);
  return pyodide.pyimport("site_src.calculators.door").reply;
}

try {
  const reply = await start();
  self.onmessage = (event) => postMessage(reply(event.data));
  say({ ready: true });
} catch (error) {
  say({ failed: error.message });
}
