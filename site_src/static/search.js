// The search page: looks the question of the address up in the index, and again while one types.
// Library and index are loaded with the first question. Every result is put together from text
// nodes: nothing from the address becomes markup.
"use strict";

{
  const SHOWN = 20; // results
  const EACH = 2; // of one page, and of the glossary
  const { root, scripts } = document.currentScript.dataset;
  const field = document.getElementById("find");
  const list = document.getElementById("found");
  const says = document.getElementById("found-says");
  let loading = null;

  /** The index; the promise fails when a script cannot be had. */
  async function loaded() {
    await Promise.all(scripts.split(" ").map((script) => new Promise((done, failed) => {
      document.head.append(Object.assign(document.createElement("script"), {
        src: root + script, onload: done, onerror: () => failed(new Error(script)),
      }));
    })));
    return MiniSearch.loadJSON(searchIndex, { ...searchOptions.index });
  }

  function make(tag, text, attributes = {}) {
    const element = document.createElement(tag);
    element.textContent = text;
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    return element;
  }

  function item({ title, heading, stage, place, shown }) {
    const entry = make("li", "");
    const link = make("a", heading ? `${title}: ${heading}` : title, { href: root + place });
    entry.append(make("span", stage, { class: "stage" }), " ", link, " ", make("span", shown, { class: "gist" }));
    return entry;
  }

  /** The results, best first, and few of one page or of the glossary. */
  function find(index, question) {
    const seen = new Map();
    return index.search(question, searchOptions.search).filter(({ place }) => {
      const [page] = place.split("#");
      seen.set(page, (seen.get(page) ?? 0) + 1);
      return seen.get(page) <= EACH;
    });
  }

  async function show() {
    const question = field.value.trim();
    remember(question);
    if (!question) return tell([], START);
    try {
      const index = await (loading ??= loaded());
      if (question !== field.value.trim()) return; // another one was typed meanwhile
      const found = find(index, question).slice(0, SHOWN);
      const count = found.length === SHOWN ? `The best ${SHOWN}` : found.length;
      tell(found, found.length
        ? `${count} for “${question}”`
        : `Nothing for “${question}”. Try another word for it, or the glossary.`);
    } catch {
      loading = null;
      tell([], "The index could not be loaded. Try again, or look into the list of a stage above.");
    }
  }

  function tell(found, sentence) {
    list.replaceChildren(...found.map(item));
    says.textContent = sentence;
  }

  function remember(question) {
    document.title = question ? `“${question}” · ${TITLE}` : TITLE;
    const query = question ? `?${new URLSearchParams({ q: question })}` : "";
    try {
      history.replaceState(null, "", location.pathname + query);
    } catch {
      // A browser may refuse it for a page opened as a file: the address then keeps the first question.
    }
  }

  const START = says.textContent;
  const TITLE = document.title;
  field.value = new URLSearchParams(location.search).get("q") ?? "";
  field.addEventListener("input", show);
  field.form.addEventListener("submit", async (event) => {
    event.preventDefault();
    await show();
    list.querySelector("a")?.focus();
  });
  show();
  if (!field.value) field.focus();
}
