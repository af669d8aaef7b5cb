// Runs a Python script inside Pyodide and writes the bytes that it returns:
//   node compile.mjs PYODIDE-FOLDER SOURCES.zip SCRIPT.py TARGET.zip
// Compiled inside, because byte code fits only the Python that made it.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, sources, script, target] = process.argv.slice(2);
try {
  const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`));
  // Sets of constants are written in the order of their hashes: one seed, one order.
  const env = { PYTHONHASHSEED: "0" };
  const pyodide = await loadPyodide({ indexURL: `${folder}/`, env });
  const archive = new Uint8Array(readFileSync(sources));
  pyodide.unpackArchive(archive, "zip", { extractDir: "/sources" });
  const compiled = pyodide.runPython(readFileSync(script, "utf8"));
  writeFileSync(target, compiled.toJs());
} catch (error) {
  console.error(error.message); // without the source of Pyodide, which is one line of a megabyte
  process.exit(1);
}
