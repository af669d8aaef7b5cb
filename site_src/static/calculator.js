// Carries the text of a form to Python and Python's answer back into the page.
// No optics and no prescriptions here: text goes out, HTML comes in.
"use strict";

(() => {
  const WIDE = 560; // px; from here on figures.css shows the wide drawing of a figure
  const PAUSE = 400; // ms between changes of the address: WebKit refuses more than 100 in 30 seconds
  const sections = [...document.querySelectorAll("[data-calculator]")];

  const { MINUS, UNSET, signKey, setSign, takeTypedSign, entryText, fillEntry, nudge, turn, choose } = Entries;

  // One calculator --------------------------------------------------------------------------

  const runtime = Runtime.ofPage(document.currentScript.dataset);

  class Calculator {
    #slug;
    #section;
    #form;
    #inputs;
    #initial; // what the page came with: its worked example
    #wanted = null; // the newest question: its answer alone is shown
    #asking = false;
    #touched = false;
    #committed = true; // the next edit starts a new entry in the history
    #goesOn = false; // what is edited has an entry in the history already
    #addressing = 0; // the timer until the address is changed
    #column; // "narrow" or "wide": which drawings fit
    #shown = null; // the entries and the column of the answer, once it is not the page's own
    #text;

    constructor(section) {
      this.#section = section;
      this.#slug = section.dataset.calculator;
      this.#form = section.querySelector("form");
      this.#inputs = [...this.#form.querySelectorAll("[name]")];
      this.#text = section.querySelector(".as-text").textContent;
      for (const input of this.#inputs) {
        if (input.classList.contains("power")) fillEntry(input, this.#attributeText(input));
      }
      this.#initial = this.#texts();
      this.#form.querySelector("fieldset").disabled = false;
      this.#listen();
      runtime.watch((state) => this.#showLoading(state));
    }

    #find(selector) {
      return this.#section.querySelector(selector);
    }

    #attributeText(input) {
      const key = signKey(input);
      return (key.textContent === MINUS && Number(input.defaultValue) === 0 ? "" : key.textContent) +
        input.defaultValue;
    }

    #listen() {
      const form = this.#form;
      new ResizeObserver(([{ contentRect }]) => this.#measured(contentRect.width))
        .observe(this.#find(".answer"));
      form.addEventListener("focusin", () => runtime.start(), { once: true });
      this.#takeEntriesWhole();
      form.addEventListener("input", (event) => {
        if (event.target.classList.contains("power")) takeTypedSign(event.target);
        if (event.target.classList.contains("nudge-size")) this.#labelNudges();
        else this.#edited(event.target);
      });
      form.addEventListener("change", () => {
        if (!this.#committed) this.#commit(); // Enter has committed already
      });
      form.addEventListener("submit", (event) => event.preventDefault());
      form.addEventListener("keydown", (event) => {
        if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
        event.preventDefault();
        this.#commit({ focus: true });
      });
      // A key of the form takes no focus: leaving a field shows what is wrong with it, and that would
      // move the key away between the press and the release.
      form.addEventListener("mousedown", (event) => {
        if (event.target.closest("button")) event.preventDefault();
      });
      this.#section.addEventListener("click", (event) => {
        const key = event.target.closest("button");
        if (key) this.#press(key);
        const onward = event.target.closest(".onward a"); // the address that it leads to fills the form
        if (onward) document.getElementById(onward.dataset.for).focus();
      });
      form.querySelector(".summary").addEventListener("click", (event) => {
        const link = event.target.closest("a");
        if (!link) return;
        event.preventDefault(); // the address holds the entries
        document.getElementById(link.hash.slice(1)).focus();
      });
    }

    /** What the page came with gives way to the first key, and another power brings its own sign. */
    #takeEntriesWhole() {
      let entered = null;
      let isReplaced = false;
      this.#form.addEventListener("focusin", ({ target }) => {
        entered = target;
      });
      this.#form.addEventListener("click", ({ target }) => {
        const isFirst = target === entered && target.localName === "input";
        if (isFirst && entryText(target) === this.#initial[target.name]) target.select();
        entered = null;
      });
      this.#form.addEventListener("beforeinput", ({ target }) => {
        const { value, selectionStart, selectionEnd } = target;
        isReplaced = value !== "" && selectionStart === 0 && selectionEnd === value.length;
      });
      this.#form.addEventListener("input", ({ target }) => {
        const isNew = isReplaced || target.value === "";
        if (isNew && target.classList.contains("power")) setSign(target, UNSET);
        isReplaced = false;
      });
    }

    #press(key) {
      const input = document.getElementById(key.dataset.for);
      if (key.classList.contains("sign")) {
        setSign(input, key.textContent === MINUS ? "+" : MINUS);
      } else if (key.classList.contains("nudge")) {
        nudge(input, Number(key.dataset.steps));
      } else if (key.classList.contains("turn")) {
        turn(input, Number(key.dataset.steps));
      } else if (key.classList.contains("insert")) {
        input.focus();
        input.setRangeText(` ${key.dataset.insert}${"−+".includes(key.dataset.insert) ? "" : " "}`,
          input.selectionStart, input.selectionEnd, "end");
      } else if (key.classList.contains("clear")) {
        this.#inputs.forEach((cleared) => {
          if (cleared.tagName === "SELECT") cleared.selectedIndex = 0;
          else fillEntry(cleared, "");
        });
        this.#inputs[0].focus();
        this.say("The entries are cleared.");
      } else {
        return this.#act(key);
      }
      this.#edited(input);
      if (key.classList.contains("insert")) return;
      this.#commit({ again: "steps" in key.dataset, quiet: key.classList.contains("clear") });
    }

    #act(key) {
      if (key.classList.contains("retry")) runtime.start();
      if (key.classList.contains("print")) this.#print();
      if (key.dataset.copy === "text") copy(this.#text, this, key);
      if (key.dataset.copy === "address") {
        copy(location.href.split("#")[0] + this.#address(), this, key);
      }
    }

    /** This calculator alone. */
    #print() {
      const marks = [[document.body, "prints-one"], [this.#section, "printed"]];
      for (const [element, mark] of marks) element.classList.add(mark);
      addEventListener("afterprint", () => {
        for (const [element, mark] of marks) element.classList.remove(mark);
      }, { once: true });
      window.print();
    }

    #labelNudges() {
      const size = this.#find(".nudge-size").value === "0.25" ? "¼" : "⅛";
      for (const key of this.#section.querySelectorAll(".nudge")) {
        key.firstElementChild.textContent = (Number(key.dataset.steps) < 0 ? MINUS : "+") + size;
      }
    }

    #texts() {
      return Object.fromEntries(this.#inputs.map((input) => [input.name, entryText(input)]));
    }

    // The address -----------------------------------------------------------------------------

    /** The entries as an address; a choice that is the usual one is left out. */
    #address() {
      const texts = this.#texts();
      const filled = this.#inputs
        .filter((input) => texts[input.name] !== "" && !(input.options?.selectedIndex === 0))
        .map((input) => [input.name, texts[input.name]]);
      return `#${this.#slug}?${new URLSearchParams(filled)}`;
    }

    /** Brings the address up to date, if it is not. */
    writeAddress() {
      if (!this.#addressing) return;
      this.#leaveAddress();
      history[this.#goesOn ? "replaceState" : "pushState"](null, "", this.#address());
      this.#goesOn = !this.#committed;
    }

    #leaveAddress() {
      clearTimeout(this.#addressing);
      this.#addressing = 0;
    }

    /** Takes the entries from the address; an address without any brings the example back. */
    readAddress({ first = false } = {}) {
      this.#leaveAddress();
      const [slug, query] = location.hash.slice(1).split(/\?(.*)/s);
      if (slug === this.#slug && query !== undefined) {
        const texts = Object.fromEntries(new URLSearchParams(query));
        this.#fill(texts);
        this.#ask({ ...Object.fromEntries(this.#inputs.map((i) => [i.name, entryText(i)])),
          ...this.#unknown(texts) }, { settled: true });
        if (first) this.#section.scrollIntoView();
      } else if (location.hash === "" && !first) {
        this.#fill(this.#initial);
        this.#ask(this.#initial, { settled: true });
      }
      this.#committed = true;
      this.#goesOn = false;
    }

    #unknown(texts) {
      const names = new Set(this.#inputs.map((input) => input.name));
      return Object.fromEntries(Object.entries(texts).filter(([name]) => !names.has(name)));
    }

    #fill(texts) {
      for (const input of this.#inputs) {
        const text = texts[input.name] ?? "";
        if (input.tagName !== "SELECT") fillEntry(input, text);
        else if (text === "") input.selectedIndex = 0;
        else choose(input, text);
        if (text && input.closest("details") && text !== this.#initial[input.name]) {
          input.closest("details").open = true;
        }
      }
    }

    // Asking and showing ------------------------------------------------------------------------

    /** A text in words of one's own is asked about when it is whole. */
    #edited(input) {
      if (!input?.classList.contains("text")) this.#ask(this.#texts(), { settled: false });
      this.#committed = false;
      this.#addressing ||= setTimeout(() => this.writeAddress(), PAUSE);
    }

    /** The entry is whole. A key that is pressed again and again is one entry in the history. */
    #commit({ focus = false, again = false, quiet = false } = {}) {
      this.#committed = true;
      this.#ask(this.#texts(), { settled: true, focus, quiet });
      if (!again) this.writeAddress();
      if (!this.#addressing) this.#goesOn = false;
    }

    /** One question at a time; of those that come meanwhile only the newest is asked. */
    async #ask(texts, { settled, focus = false, quiet = false }) {
      this.#touched = true;
      this.#wanted = { texts, column: this.#column, settled, focus, quiet };
      if (this.#asking) return;
      this.#asking = true;
      let asked, answer;
      do {
        asked = this.#wanted;
        const reply = runtime.ask(this.#slug, asked.texts, asked.column);
        this.#showLoading(runtime.state);
        answer = await reply;
      } while (asked !== this.#wanted);
      this.#asking = false;
      if (answer.ok) this.#showAnswer(answer, asked);
      else this.#showProblems(answer.problems, asked);
    }

    #showAnswer(answer, asked) {
      this.#clearProblems();
      this.#find(".summary").hidden = true;
      this.#put(answer, asked);
      this.#find(".strip").innerHTML = this.#find(".headline").innerHTML;
      this.#markStale(false);
      this.#text = answer.text;
      if (asked.settled) this.say(answer.says);
    }

    /** Whoever has gone to a link of the answer with the keyboard stays at it. */
    #put(answer, shown) {
      const place = this.#find(".answer");
      const link = place.contains(document.activeElement) && document.activeElement.getAttribute("href");
      place.innerHTML = answer.html;
      if (link) place.querySelector(`a[href="${link}"]`)?.focus({ preventScroll: true });
      this.#shown = shown;
      this.#fit();
    }

    #measured(width) {
      const column = width < WIDE ? "narrow" : "wide";
      if (column === this.#column) return;
      this.#column = column;
      this.#fit();
    }

    /** The page comes with two drawings of each figure; an answer has the one that fits. */
    async #fit() {
      const shown = this.#shown;
      if (!shown?.column || shown.column === this.#column) return; // without one, it has both
      const fitting = { texts: shown.texts, column: this.#column };
      const answer = await runtime.ask(this.#slug, fitting.texts, fitting.column);
      if (this.#shown === shown) this.#put(answer, fitting);
    }

    /** With `quiet` nothing was entered yet, so nobody has to be told that it is wrong. */
    #showProblems(problems, { settled, focus, quiet }) {
      this.#clearProblems();
      this.#markStale(true);
      this.#find(".strip").textContent = "No answer to these entries";
      const summary = this.#find(".summary");
      summary.hidden = true;
      if (quiet) return;
      const list = document.createElement("ul");
      for (const { field, message } of problems) {
        const input = this.#inputs.find((candidate) => candidate.name === field);
        const entry = document.createElement(input ? "a" : "span");
        entry.textContent = message;
        if (input) {
          entry.href = `#${input.id}`;
          input.setAttribute("aria-invalid", "true");
          if (input.closest("details")) input.closest("details").open = true;
          const place = document.getElementById(`${input.id}-problem`);
          place.textContent = message;
          place.hidden = false;
        }
        list.append(document.createElement("li"));
        list.lastChild.append(entry);
      }
      summary.hidden = !settled; // while typing, the sentence at the field is enough
      if (!settled) return;
      const title = document.createElement("h3");
      title.textContent = problems.length > 1 ? "Some entries need correcting" : "One entry needs correcting";
      summary.replaceChildren(title, list);
      if (focus) summary.focus();
    }

    /** The last answer stays, but it is not the answer to these entries: it cannot be copied. */
    #markStale(stale) {
      this.#find(".stale").hidden = !stale;
      this.#section.classList.toggle("is-stale", stale);
      for (const key of this.#section.querySelectorAll(".copy")) key.disabled = stale;
    }

    #clearProblems() {
      for (const input of this.#inputs) {
        input.removeAttribute("aria-invalid");
        document.getElementById(`${input.id}-problem`).hidden = true;
      }
    }

    #showLoading({ phase, received, total, message }) {
      const failed = phase === "failed";
      this.#find(".loading").hidden = !(this.#touched && (failed || (phase === "loading" && runtime.isWaiting)));
      this.#find(".retry").hidden = !failed;
      this.#find("progress").hidden = failed;
      const megabytes = (bytes) => (bytes / 1e6).toFixed(1);
      this.#find("progress").value = total ? received / total : 0;
      this.#find(".loading-says").textContent = failed
        ? `The calculator could not be loaded (${message}). The page and its worked example still ` +
          "stand, and your entries are kept."
        : `Loading the calculator${total ? `: ${megabytes(received)} of ${megabytes(total)} MB` : ""}. ` +
          "Your entries are kept and answered when it is ready.";
    }

    say(text) {
      this.#find("[role=status]").textContent = text;
    }
  }

  async function copy(text, calculator, key) {
    try {
      await navigator.clipboard.writeText(text);
    } catch { // plain http and file: have no clipboard interface
      const held = document.activeElement;
      const area = document.createElement("textarea");
      area.value = text;
      document.body.append(area);
      area.select();
      document.execCommand("copy");
      area.remove();
      held.focus();
    }
    calculator.say("Copied.");
    key.classList.add("done"); // the style says so beside the button
    setTimeout(() => key.classList.remove("done"), 2000);
  }

  const calculators = sections.map((section) => new Calculator(section));
  for (const calculator of calculators) calculator.readAddress({ first: true });
  addEventListener("hashchange", () => calculators.forEach((each) => each.readAddress()));
  addEventListener("pagehide", () => {
    calculators.forEach((each) => each.writeAddress());
    runtime.stop();
  });
  // WebKit resets fields without autocomplete, a moment after it brings a page back as it was.
  addEventListener("pageshow", ({ persisted }) => {
    if (!persisted) return;
    if (runtime.isWaiting) runtime.start(); // it was asked, and stopped when the page was left
    setTimeout(() => calculators.forEach((each) => each.readAddress()));
  });
  if (!navigator.connection?.saveData) {
    (self.requestIdleCallback ?? setTimeout)(() => runtime.start());
  }
})();
