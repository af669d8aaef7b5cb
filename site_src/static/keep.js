// The page "Keep on this device". Its sentences stand in the page; this shows those that hold.
"use strict";

(() => {
  const section = document.getElementById("keep");
  const scope = new URL(`${section.dataset.root}.`, location.href).href;
  const MARK = `handbook kept ${scope}`; // remembers that there was a copy
  const part = (name) => section.querySelector(`[data-part="${name}"]`);
  const megabytes = (bytes) => (bytes / 1e6).toFixed(1);

  function show(state) {
    for (const each of section.querySelectorAll("[data-state]")) {
      each.hidden = each.dataset.state !== state;
    }
    part("says").textContent = part(`${state}-says`)?.textContent ?? "";
  }

  function complain(sentence) {
    part("problem").textContent = sentence;
    part("problem").hidden = sentence === "";
  }

  /** A message to the worker, and its reply. */
  function ask(worker, message) {
    return new Promise((resolve) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = (event) => resolve(event.data);
      worker.postMessage(message, [channel.port2]);
    });
  }

  async function look() {
    const registration = await navigator.serviceWorker.getRegistration(scope);
    if (registration?.scope !== scope || !registration.active) return showNone();
    show("reading");
    const copy = await ask(registration.active, "read back");
    const whole = copy.date && copy.wrong.length === 0;
    part("edition").textContent = copy.edition ?? "not known";
    part("date").textContent = copy.date ? day(copy.date) : "not known";
    part("size").textContent = `${megabytes(copy.bytes)} MB in ${copy.files} files`;
    part("checked").textContent = whole
      ? "verified by reading every entry back"
      : `damaged: ${copy.wrong.length} of ${copy.files} files are missing or changed ` +
        `(${copy.wrong.slice(0, 3).join(", ")}). Remove the copy, then keep it again.`;
    await showLasting();
    if (whole) remember(copy);
    show("kept");
  }

  async function showLasting() {
    part("lasting").textContent = (await navigator.storage?.persisted?.())
      ? "the browser has promised not to clear it by itself"
      : "the browser may clear it, when the device runs short of room or after a time without use";
  }

  function showNone() {
    const had = JSON.parse(localStorage.getItem(MARK));
    part("lost").hidden = !had;
    part("none-says").hidden = Boolean(had);
    if (had) part("had").textContent = `edition ${had.edition}, kept on ${day(had.date)}`;
    show("none");
    if (had) part("says").textContent = part("lost").textContent;
  }

  function remember({ edition, date }) {
    localStorage.setItem(MARK, JSON.stringify({ edition, date }));
  }

  function day(date) {
    return new Date(date).toLocaleDateString("en-GB", { dateStyle: "long" });
  }

  async function keep() {
    complain("");
    show("keeping");
    part("progress").value = 0;
    navigator.storage?.persist?.().then(showLasting); // some browsers ask, and wait for an answer
    try {
      const registration = await navigator.serviceWorker.register(`${scope}sw.js`,
        { scope, updateViaCache: "none" });
      // Where another page is open, a removed worker stays on, and the browser takes it up again.
      if (registration.active) await ask(registration.active, "keep");
      else await activated(registration.installing);
    } catch (error) {
      if (part("problem").hidden) complain(`The browser refused (${error.message}).`);
      return showNone();
    }
    return part("problem").hidden ? look() : showNone();
  }

  function activated(worker) {
    return new Promise((resolve, reject) => {
      const settle = () => {
        if (worker.state === "activated") resolve();
        if (worker.state === "redundant") reject(new Error("the copy could not be finished"));
      };
      worker.addEventListener("statechange", settle);
      settle();
    });
  }

  async function remove() {
    const registration = await navigator.serviceWorker.getRegistration(scope);
    await ask(registration.active, "remove");
    localStorage.removeItem(MARK);
    location.reload();
  }

  function listen({ data }) {
    if (data.failed) complain(data.failed);
    if (!data.kept) return;
    part("progress").value = data.kept / data.total;
    part("amount").textContent = `${megabytes(data.kept)} of ${megabytes(data.total)} MB`;
  }

  if (location.protocol === "file:") show("file");
  else if (navigator.serviceWorker) {
    navigator.serviceWorker.onmessage = listen;
    part("keep").addEventListener("click", keep);
    part("remove").addEventListener("click", remove);
    look().catch(() => show("unable")); // storage is switched off, as in some private windows
  } else show(location.protocol === "http:" ? "plain" : "unable");
})();
