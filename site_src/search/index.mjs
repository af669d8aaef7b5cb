// Makes the index of the search page: node index.mjs LIBRARY OPTIONS DOCUMENTS TARGET.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";

const [library, options, documents, target] = process.argv.slice(2);
const require = createRequire(import.meta.url);
const MiniSearch = require(library);
const index = new MiniSearch(require(options).index);
index.addAll(JSON.parse(readFileSync(documents, "utf-8")));
writeFileSync(target, JSON.stringify(index));
