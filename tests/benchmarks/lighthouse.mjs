// Lighthouse on its mobile setting over a list of pages: node lighthouse.mjs CHROMIUM ADDRESS...
// One line of JSON a page: the four scores, the shift of the layout, and what lost points.
import lighthouse from "lighthouse";
import { launch } from "chrome-launcher";

const [chromePath, flags, ...addresses] = process.argv.slice(2);
const chrome = await launch({ chromePath, chromeFlags: ["--headless=new", ...JSON.parse(flags)] });
const onlyCategories = ["performance", "accessibility", "best-practices", "seo"];
for (const address of addresses) {
  const { lhr } = await lighthouse(address, { port: chrome.port, logLevel: "error", onlyCategories });
  const categories = Object.entries(lhr.categories);
  const lost = categories.flatMap(([, { auditRefs }]) => auditRefs)
    .map(({ id, weight }) => ({ weight, ...lhr.audits[id] }))
    .filter(({ weight, score }) => weight > 0 && score !== null && score < 0.9)
    .map(({ id, displayValue, explanation }) => [id, displayValue ?? explanation ?? ""].join(" ").trim());
  const scores = Object.fromEntries(categories.map(([id, { score }]) => [id, Math.round(100 * score)]));
  const shift = lhr.audits["cumulative-layout-shift"].numericValue;
  console.log(JSON.stringify({ address, scores, shift, lost }));
}
await chrome.kill();
