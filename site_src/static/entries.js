// What the fields of a calculator hold, and what their keys do. Loaded before calculator.js.
"use strict";

const Entries = (() => {
  const MINUS = "−";
  const UNSET = "±"; // the sign key before a sign was chosen: nobody guesses a sign

  function signKey(input) {
    return input.form.querySelector(`.sign[data-for="${input.id}"]`);
  }

  function setSign(input, sign) {
    const key = signKey(input);
    const words = { "+": "plus", [MINUS]: "minus", [UNSET]: "not chosen" }[sign];
    key.textContent = sign;
    key.className = `sign ${words === "not chosen" ? "unset" : words}`;
    key.setAttribute("aria-label", key.getAttribute("aria-label").replace(/: .*$/, `: ${words}`));
  }

  /** A sign typed before the digits moves to the key. */
  function takeTypedSign(input) {
    const typed = /^\s*([+＋]|[-−–﹣－])/.exec(input.value);
    if (!typed) return;
    setSign(input, "+＋".includes(typed[1]) ? "+" : MINUS);
    input.value = input.value.slice(typed[0].length);
  }

  function entryText(input) {
    const text = input.value.trim();
    if (!input.classList.contains("power") || text === "") return text;
    const sign = signKey(input).textContent;
    return { "+": "+", [MINUS]: "-", [UNSET]: "" }[sign] + text;
  }

  function fillEntry(input, text) {
    input.value = text;
    if (!input.classList.contains("power")) return;
    setSign(input, UNSET);
    takeTypedSign(input);
  }

  /** The next multiple of the step, written as the form's decimals are meant. */
  function nudge(input, steps) {
    const size = Number(input.form.querySelector(".nudge-size").value);
    const literal = input.form.querySelector("[name=decimals]")?.value === "literal";
    const comma = input.value.includes(",");
    const digits = input.value.trim().replace(",", ".") || "0";
    const negative = signKey(input).textContent === MINUS;
    let value = Number(digits);
    if (!Number.isFinite(value) || (value !== 0 && signKey(input).textContent === UNSET)) return;
    if (!literal && /\.(12|37|62|87)$/.test(digits)) value += 0.005;
    const count = ((negative ? -1 : 1) * value) / size;
    const next = (steps > 0 ? Math.floor(count + 1e-9) + 1 : Math.ceil(count - 1e-9) - 1) * size;
    const sized = Math.abs(next);
    const hundredths = Math.trunc(sized * 100 + 1e-9) / 100;
    const text = literal && hundredths !== sized ? sized.toFixed(3) : hundredths.toFixed(2);
    setSign(input, next < 0 ? MINUS : "+");
    input.value = comma ? text.replace(".", ",") : text;
  }

  /** The next multiple of these degrees; a wheel goes round, from 180 on to 5. */
  function turn(input, degrees) {
    const value = Number(input.value.trim().replace(",", ".") || 180);
    if (!(value >= 0 && value <= 180)) return;
    const size = Math.abs(degrees);
    const next = size * (degrees > 0 ? Math.floor(value / size) + 1 : Math.ceil(value / size) - 1);
    input.value = ((next + 179) % 180) + 1;
  }

  /** Selects a choice; one that does not exist is kept, so that Python can say what is allowed. */
  function choose(select, text) {
    select.querySelectorAll("[data-foreign]").forEach((option) => option.remove());
    if (![...select.options].some((option) => option.value === text)) {
      const option = new Option(text, text);
      option.dataset.foreign = "";
      select.add(option);
    }
    select.value = text;
  }

  return { MINUS, UNSET, signKey, setSign, takeTypedSign, entryText, fillEntry, nudge, turn, choose };
})();
