// How texts and questions are taken apart and compared: the same for the index, which the build
// makes in Node, and for the search page.
"use strict";

var searchOptions = (() => {
  const COMMON = new Set(
    "a an and are as at be by can do does for from has have how i if in is it its my of on or so than that the then there this to was what when where which who why will with you your".split(" "),
  );
  const NUMBER = /^\d+(?:\.\d+)?$/;

  /** Words and numbers. A decimal comma is a point, and 1/8 or Z80.1 stays one word. */
  function tokenize(text) {
    const plain = text.normalize("NFKC").toLowerCase().replace(/(\d),(?=\d)/g, "$1.");
    return plain.match(/[\p{L}\p{N}]+(?:[./'’][\p{L}\p{N}]+)*/gu) ?? [];
  }

  /** 9.00 and 9 are one number, 005 and 5 too. */
  function processTerm(term) {
    if (NUMBER.test(term)) return String(Number(term));
    return COMMON.has(term) ? null : term.replace(/['’]s$/, "");
  }

  const index = {
    idField: "id",
    fields: ["title", "heading", "asks", "text"],
    storeFields: ["title", "heading", "stage", "place", "shown"],
    tokenize,
    processTerm,
  };
  // Short words and numbers are meant as they are; longer ones may be unfinished or misspelt.
  const isWord = (term) => term.length > 3 && !/\d/.test(term);
  const search = {
    boost: { title: 4, asks: 4, heading: 2.5 },
    prefix: (term) => term.length > 2 && !/\d/.test(term),
    fuzzy: (term) => (isWord(term) ? 0.25 : false),
    weights: { prefix: 0.6, fuzzy: 0.3 },
  };
  return { index, search };
})();

if (typeof module === "object") module.exports = searchOptions;
