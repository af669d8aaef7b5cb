// Starts Python in a worker and passes questions to it. Loaded before calculator.js, which uses it.
"use strict";

/**
 * One worker for the page, started on first need; requests wait until it is ready.
 *
 * It is started with the image of a finished memory; when that fails, in the plain way. A worker
 * that breaks is replaced and asked once more; what breaks that one too is refused.
 */
class Runtime {
  #root;
  #address; // of the worker's script
  #way = "image";
  #worker = null;
  #ready = false;
  #starts = 0; // only the newest start counts
  #patience = null;
  #next = 1;
  #waiting = new Map(); // id -> {request, resolve, repeated}
  #watchers = new Set();
  state = { phase: "idle", received: 0, total: 0, message: "" };

  static #ofPage;
  static PATIENCE = 20_000; // ms without a sign from a start until it is given up
  static BROKEN = "The calculator broke off at these entries, twice. They are kept; please change one " +
    "of them, and tell whoever gave you this handbook.";

  constructor(root, address) {
    this.#root = root;
    this.#address = new URL(address, document.baseURI).href;
  }

  watch(watcher) {
    this.#watchers.add(watcher);
  }

  start() {
    if (this.state.phase === "loading" || this.#ready) return;
    this.#way = "image";
    this.#open();
  }

  stop() {
    this.#starts++;
    clearTimeout(this.#patience);
    this.#worker?.terminate();
    this.#worker = null;
    this.#ready = false;
    this.#tell({ phase: "idle" });
  }

  /** The one that the scripts of a page share; their elements say where its worker is. */
  static ofPage({ root, worker }) {
    return (this.#ofPage ??= new Runtime(root, root + worker));
  }

  /** The answer to the fields; `column` says which width its figures are for, without it both. */
  ask(calculator, fields, column) {
    return this.send({ calculator, root: this.#root, fields, column });
  }

  /** Resolves with the reply; a request sent while loading is answered when ready. */
  send(question) {
    const id = this.#next++;
    const request = JSON.stringify({ id, ...question });
    return new Promise((resolve) => {
      this.#waiting.set(id, { request, resolve, repeated: false });
      if (this.#ready) this.#worker.postMessage(request);
      else if (this.state.phase !== "failed") this.start();
    });
  }

  get isWaiting() {
    return this.#waiting.size > 0;
  }

  async #open() {
    const start = ++this.#starts;
    const isCurrent = () => start === this.#starts;
    this.#tell({ phase: "loading", received: 0, message: "" });
    try {
      if (typeof WebAssembly !== "object") throw new Error("this browser has no WebAssembly");
      if (typeof DecompressionStream !== "function") throw new Error("this browser is too old");
      const worker = await (location.protocol === "file:" ? this.#fromFiles() : this.#fromHost());
      if (!isCurrent()) return worker.terminate();
      this.#worker = worker;
      this.#expectSign();
      worker.onmessage = (event) => isCurrent() && this.#receive(JSON.parse(event.data));
      worker.onerror = (event) => {
        event.preventDefault();
        if (isCurrent()) this.#fail(event.message || "a file is missing");
      };
    } catch (error) {
      if (isCurrent()) this.#fail(error.message);
    }
  }

  async #fromHost() {
    return new Worker(this.#address, { name: this.#way });
  }

  /** A page opened as a file may read no file, but it may run scripts, and these hold the files. */
  async #fromFiles() {
    await script(this.#address);
    const files = startRuntime.files;
    const payloads = {};
    self.takePayload = (name, text) => {
      payloads[name] = bytesOf(text).buffer;
    };
    for (const name of ["engine", this.#way === "image" ? "image" : "python"]) {
      const file = files[name].name.replace(/(.*)\.zip$/, "stick/$1.js");
      await script(new URL(file, this.#address));
    }
    const text = `(${startRuntime})(${JSON.stringify(files)})`;
    const address = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
    const worker = new Worker(address, { name: this.#way });
    worker.postMessage(payloads, Object.values(payloads));
    return worker;
  }

  #receive(message) {
    if (message.loading) {
      this.#tell({ phase: "loading", ...message.loading });
      this.#expectSign();
    } else if (message.failed) {
      this.#fail(message.failed);
    } else if (message.ready) {
      clearTimeout(this.#patience);
      this.#ready = true;
      this.#tell({ phase: "ready" });
      for (const { request } of this.#waiting.values()) this.#worker.postMessage(request);
    } else {
      const waiting = this.#waiting.get(message.id);
      this.#waiting.delete(message.id);
      waiting?.resolve(message);
    }
  }

  /** A start that goes silent is given up; a plain one that has all its files is left to come. */
  #expectSign() {
    clearTimeout(this.#patience);
    const { received, total } = this.state;
    const whole = received > 0 && received === total;
    if (whole && this.#way === "plain") return;
    const silence = whole ? "it does not start" : "nothing more has come";
    this.#patience = setTimeout(() => this.#fail(silence), Runtime.PATIENCE);
  }

  /** Tries again where there is something left to try, and else says so. */
  #fail(message) {
    const again = this.#ready || this.#way === "image";
    if (this.#ready) this.#refuseRepeated();
    this.stop();
    if (again) console.warn(`Python is started again, the plain way: ${message}.`);
    this.#way = "plain";
    if (again) this.#open();
    else this.#tell({ phase: "failed", message });
  }

  /** What waits when a worker breaks may have broken it: it is asked once more, and then refused. */
  #refuseRepeated() {
    for (const [id, each] of this.#waiting) {
      if (each.repeated) {
        this.#waiting.delete(id);
        each.resolve({ ok: false, problems: [{ field: "", message: Runtime.BROKEN }] });
      }
      each.repeated = true;
    }
  }

  #tell(change) {
    Object.assign(this.state, change);
    for (const watcher of this.#watchers) watcher(this.state);
  }
}

/** Runs the script at an address. */
function script(address) {
  return new Promise((resolve, reject) => {
    const element = document.createElement("script");
    element.src = address;
    element.onload = resolve;
    element.onerror = () => reject(new Error("a file is missing"));
    document.head.append(element);
  });
}

/** The bytes that a text in base64 stands for. */
function bytesOf(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const binary = atob(text);
  const bytes = new Uint8Array(binary.length);
  for (let at = 0; at < binary.length; at++) bytes[at] = binary.charCodeAt(at);
  return bytes;
}
