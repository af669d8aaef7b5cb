// Carries the lines of a file to Python, a slice at a time, and puts the verdicts into the page.
// Where a cell ends and what it means is Python's to say: see calculators/jobs.py.
"use strict";

(() => {
  const SLICE = 64; // lines; a few hundredths of a second, so that other questions need not wait
  const LARGEST = 20e6; // bytes; some 200,000 lenses
  const LISTED = 12; // lines that are named beside a count
  const LONGEST = 20_000; // characters of a line that are passed on; Python refuses half of that

  const section = document.getElementById("jobs");
  const form = section.querySelector("form");
  const file = document.getElementById("jobs-file");
  const part = (name) => section.querySelector(`[data-part="${name}"]`);
  const runtime = Runtime.ofPage(document.currentScript.dataset);
  const bench = document.querySelector("[data-calculator=verification]");
  const shown = Number(part("rows").dataset.most);
  let run = null; // the newest, or none yet

  function say(text) {
    part("status").textContent = text;
  }

  function complain(problems) {
    part("problem").textContent = problems.map(({ message }) => message).join(" ");
    part("problem").hidden = problems.length === 0;
    file.toggleAttribute("aria-invalid", problems.length > 0);
  }

  // The file --------------------------------------------------------------------------------

  /** Text in UTF-8, or else as old spreadsheets save it in western Europe. */
  function decoded(bytes) {
    try {
      return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    } catch {
      return new TextDecoder("windows-1252").decode(bytes);
    }
  }

  /** Up to SLICE lines of the text from a place on, and the place after each. */
  function linesFrom(text, place) {
    const lines = [], places = [];
    const end = /\r\n|\r|\n|$/g;
    while (lines.length < SLICE && place < text.length) {
      end.lastIndex = place;
      const found = end.exec(text);
      lines.push(text.slice(place, Math.min(found.index, place + LONGEST)));
      place = found.index + found[0].length;
      places.push(place);
    }
    return { lines, places };
  }

  function save(name, text) {
    const link = document.createElement("a");
    // The mark tells a spreadsheet that this is UTF-8.
    link.href = URL.createObjectURL(new Blob(["\ufeff", ...text], { type: "text/csv" }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  }

  // A run -----------------------------------------------------------------------------------

  async function start() {
    const chosen = file.files[0];
    if (!chosen) return complain([{ message: "Choose a CSV file first." }]);
    if (chosen.size > LARGEST) {
      return complain([{ message: `The file has ${megabytes(chosen.size)} MB; up to ` +
        `${megabytes(LARGEST)} MB are allowed. Divide it, with the first line in each part.` }]);
    }
    const mine = { name: chosen.name, csv: [], counts: {}, unchecked: [], notes: [], urgent: [],
      others: [], next: 1 };
    run = mine;
    complain([]);
    part("outcome").hidden = true;
    part("progress").value = 0;
    showRunning(true);
    say("Checking the file.");
    try {
      const choices = Object.fromEntries(new FormData(form));
      await check(decoded(await chosen.arrayBuffer()), choices, mine);
    } catch (error) { // the file was moved or changed after it was chosen
      if (run === mine) finish(mine, [{ message: `The file cannot be read (${error.message}).` }]);
    }
  }

  async function check(text, choices, mine) {
    const began = performance.now();
    let place = 0, first = 1, head = null;
    do {
      const { lines, places } = linesFrom(text, place);
      const more = lines.length > 0 && places.at(-1) < text.length;
      const answer = await runtime.send({ jobs: { ...choices, head, lines, first, more } });
      if (mine.finished || run !== mine) return; // stopped, or another file was begun
      if (!answer.ok) return finish(mine, answer.problems);
      take(answer, mine);
      place = answer.used ? places[answer.used - 1] : text.length;
      mine.next = first += answer.used;
      head = answer.head;
      part("progress").value = place / text.length;
      part("says").textContent = `Line ${count(first - 1)}`;
    } while (place < text.length);
    const seconds = ((performance.now() - began) / 1000).toFixed(1);
    finish(mine, [], `The file is checked, in ${seconds} seconds`);
  }

  function take(answer, mine) {
    mine.csv.push(answer.csv);
    mine.notes.push(...answer.notes);
    mine.unchecked = [...mine.unchecked, ...answer.unchecked].slice(0, LISTED);
    for (const [name, many] of Object.entries(answer.counts)) {
      mine.counts[name] = (mine.counts[name] ?? 0) + many;
    }
    for (const row of answer.rows) {
      const rows = row.urgent ? mine.urgent : mine.others;
      if (rows.length < shown) rows.push(row);
    }
  }

  function finish(mine, problems, done = "") {
    mine.finished = true;
    showRunning(false);
    complain(problems);
    if (done) showOutcome(mine, done);
  }

  // The page --------------------------------------------------------------------------------

  const count = (number) => number.toLocaleString("en");
  const megabytes = (bytes) => (bytes / 1e6).toFixed(0);

  function showRunning(running) {
    part("run").hidden = !running;
    part("says").textContent = "";
    if (running) showLoading(runtime.state);
  }

  function showLoading({ phase, message }) {
    if (part("run").hidden) return;
    const failed = phase === "failed";
    part("retry").hidden = !failed;
    if (failed) part("says").textContent = `The calculator could not be loaded (${message}).`;
    if (phase === "loading") part("says").textContent = "Loading the calculator.";
  }

  function showOutcome(mine, done) {
    part("done").textContent = `${done}.`;
    part("notes").replaceChildren(...mine.notes.map((note) => element("li", note)));
    for (const place of section.querySelectorAll("[data-count]")) {
      const many = mine.counts[place.dataset.count] ?? 0;
      place.textContent = place.dataset.count === "unchecked"
        ? withLines(many, mine.unchecked) : count(many);
      place.parentElement.hidden = "rare" in place.parentElement.dataset && many === 0;
    }
    const rows = [...mine.urgent, ...mine.others].slice(0, shown);
    part("rows").replaceChildren(...rows.map(tableRow));
    section.querySelector("table").hidden = rows.length === 0;
    part("save").hidden = mine.csv.length === 0;
    part("outcome").hidden = false;
    say(part("done").textContent);
    part("done").focus();
  }

  /** A count with the lines it counts, of which `lines` are the first ones. */
  function withLines(many, lines) {
    if (!lines.length) return count(many);
    const named = `${many > 1 ? "lines" : "line"} ${lines.join(", ")}`;
    return `${count(many)} (${named}${many > lines.length ? " and more" : ""})`;
  }

  /** Takes the reader to the calculator, which fills itself from the address. */
  function showBench() {
    const heading = bench.querySelector("h2");
    heading.tabIndex = -1;
    bench.scrollIntoView();
    heading.focus({ preventScroll: true });
  }

  function tableRow({ cells, fields }) {
    const heads = [...section.querySelectorAll("thead th")].map((head) => head.textContent);
    const row = document.createElement("tr");
    cells.forEach((text, column) => {
      const cell = element(column ? "td" : "th", "");
      cell.dataset.head = heads[column];
      if (!column) cell.scope = "row";
      const inner = element(column === 0 && fields ? "a" : "span", text);
      if (inner.localName === "a") inner.href = `#verification?${new URLSearchParams(fields)}`;
      cell.append(inner);
      row.append(cell);
    });
    return row;
  }

  function element(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
  }

  // Keys ------------------------------------------------------------------------------------

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    start();
  });
  section.addEventListener("click", ({ target }) => {
    if (!target.dataset.template) return;
    save(`${target.dataset.template}.csv`, [document.getElementById(target.dataset.template).textContent]);
  });
  part("rows").addEventListener("click", ({ target, ctrlKey, metaKey, shiftKey }) => {
    if (target.closest("a") && !ctrlKey && !metaKey && !shiftKey) showBench();
  });
  part("stop").addEventListener("click", () => {
    finish(run, [], `Stopped before line ${count(run.next)}`);
  });
  part("retry").addEventListener("click", () => runtime.start());
  part("save").addEventListener("click", () => save(run.name.replace(/(\.\w+)?$/, "-checked.csv"), run.csv));
  addEventListener("pageshow", ({ persisted }) => {
    if (persisted && run && !run.finished) runtime.start(); // it was stopped when the page was left
  });
  runtime.watch(showLoading);
  form.querySelector("fieldset").disabled = false;
})();
