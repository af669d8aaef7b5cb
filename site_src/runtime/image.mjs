// Writes the memory of a Python that has imported the whole handbook and answered with it:
//   node image.mjs ENGINE-FOLDER PYTHON.zip SCRIPT.py TARGET-FOLDER
// Three files: `fresh`, the memory before Python starts; `snapshot`, in Pyodide's own format; and
// `canary`, what the script returns.
import crypto from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, python, script, target] = process.argv.slice(2);

// The browsers that restore this can do different things, and Python's tables differ with them. All
// that they do not have in common is hidden here, and in the same way by worker.js before it restores.
Object.defineProperty(globalThis, "navigator", { value: { userAgent: "iPhone" } });
delete WebAssembly.Suspending;

// The same bytes each time: no clock and no chance.
Date.now = () => 0;
performance.now = () => 0;
Math.random = () => 0;
crypto.randomFillSync = crypto.webcrypto.getRandomValues = (array) => array.fill(0);

try {
  const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`));
  const { default: createPyodideModule } = await import(pathToFileURL(`${folder}/pyodide.asm.mjs`));
  const options = {
    indexURL: `${folder}/`,
    stdLibURL: python,
    lockFileContents: readFileSync(`${folder}/lock.json`, "utf8"),
    packageBaseUrl: `${folder}/`,
    env: { PYTHONHASHSEED: "0" },
  };
  await new Promise((done, failed) => {
    const onlyCreate = async (settings) => {
      const module = await createPyodideModule(settings);
      writeFileSync(`${target}/fresh`, module.HEAPU8);
      done();
      return new Promise(() => {}); // it is not to go on
    };
    const nothing = new Uint8Array(8);
    loadPyodide({ ...options, createPyodideModule: onlyCreate, _loadSnapshot: nothing }).catch(failed);
  });
  const pyodide = await loadPyodide({ ...options, createPyodideModule, _makeSnapshot: true });
  const canary = pyodide.runPython(readFileSync(script, "utf8"));
  writeFileSync(`${target}/canary`, canary);
  writeFileSync(`${target}/snapshot`, pyodide.makeMemorySnapshot());
} catch (error) {
  console.error(error.message); // without the source of Pyodide, which is one line of a megabyte
  process.exit(1);
}
