// Python in a worker: starts Pyodide, then passes JSON text through. The build puts this into one
// function, after `pyodideLoader(fetch)`, `createPyodideModule` and `FILES` (engine.py, bundle.py).
//
// The name of the worker is the way to start. "image" puts a finished memory in place; "plain" lets
// Python start and import, by documented means only.
const say = (message) => postMessage(JSON.stringify(message));
const wanted = { image: ["engine", "image"], plain: ["engine", "python"] }[self.name];
const total = wanted.reduce((sum, file) => sum + FILES[file].size, 0);
let received = 0;

/** The bytes of a file as a stream, counted as they come: those handed over, or from the host. */
async function fetched(file, handed) {
  const count = new TransformStream({
    transform(chunk, controller) {
      received += chunk.byteLength;
      say({ loading: { received, total } });
      controller.enqueue(chunk);
    },
  });
  const response = handed ? new Response(handed) : await fetch(new URL(FILES[file].name, self.location));
  if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
  return response.body.pipeThrough(count);
}

/** The gzip that stands in a zip, unpacked and its sum checked by the browser itself. */
function unpacked(stream, { start, end }) {
  let at = 0;
  const member = new TransformStream({
    transform(chunk, controller) {
      const part = chunk.subarray(Math.max(0, start - at), Math.max(0, end - at));
      at += chunk.byteLength;
      if (part.byteLength) controller.enqueue(part);
    },
  });
  return stream.pipeThrough(member).pipeThrough(new DecompressionStream("gzip"));
}

const bytesOf = async (stream) => new Uint8Array(await new Response(stream).arrayBuffer());

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

/** Puts the image into the memory of a module just started; its layout is told in image.py. */
function restored(memory, image) {
  const numbers = new DataView(image.buffer);
  const length = numbers.getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(image.subarray(4, 4 + length)));
  let place = 4 + length;
  let content = place + 8 * head.runs;
  for (; head.runs > 0; head.runs--, place += 8) {
    const bytes = 16 * numbers.getUint32(place + 4, true);
    memory.set(image.subarray(content, content + bytes), 16 * numbers.getUint32(place, true));
    content += bytes;
  }
  return head;
}

/** What Pyodide asks for: its WebAssembly, and the standard library, which an image already holds. */
function answering(engine, python) {
  return async (address) => {
    if (!String(address).endsWith(".wasm")) {
      return new Response(python && unpacked(await python, FILES.python));
    }
    const headers = { "content-type": "application/wasm" };
    return new Response(unpacked(await engine, FILES.engine), { headers });
  };
}

async function start(handed = {}) {
  say({ loading: { received, total } });
  const [engine, other] = wanted.map((file) => fetched(file, handed[file]));
  const options = {
    createPyodideModule,
    indexURL: "file:///", // a place from which nothing is ever fetched, see `answering`
    packageBaseUrl: "file:///",
    lockFileContents: FILES.lock,
  };
  self.importScripts = undefined; // Pyodide refuses classic workers, which it tells by this
  const failure = wasmFailure();
  const load = (python, more) =>
    Promise.race([pyodideLoader(answering(engine, python))({ ...options, ...more }), failure]);
  if (self.name === "plain") {
    return doorOf(await load(other, { stdLibURL: "file:///python.zip" }));
  }

  // As image.mjs has it: without these the function table has the entries that the image knows.
  Object.defineProperty(self, "navigator", { value: { userAgent: "iPhone" }, configurable: true });
  delete WebAssembly.Suspending;
  const image = other.then((stream) => bytesOf(unpacked(stream, FILES.image)));
  image.catch(() => {}); // it is awaited below
  let head;
  const pyodide = await load(null, {
    _loadSnapshot: new Uint8Array(8), // a stand-in: the image is put in place by restoreSnapshot
    createPyodideModule: async (settings) => {
      const module = await createPyodideModule(settings);
      const content = await image;
      module.API.restoreSnapshot = () => {
        head = restored(module.HEAPU8, content);
        delete self.navigator; // the browser's own again
        module.setTrampoline();
        return head.config;
      };
      return module;
    },
  });
  const reply = doorOf(pyodide);
  if (reply(head.canary.request) !== head.canary.reply) throw new Error("the image is not right");
  return reply;
}

const doorOf = (pyodide) => pyodide.pyimport("site_src.calculators.door").reply;

async function run(handed) {
  try {
    const reply = await start(handed);
    self.onmessage = (event) => {
      try {
        postMessage(reply(event.data));
      } catch (error) {
        say({ failed: error.message });
      }
    };
    say({ ready: true });
  } catch (error) {
    say({ failed: error.message });
  }
}

if (self.location.protocol === "blob:") self.onmessage = (event) => run(event.data);
else run();
