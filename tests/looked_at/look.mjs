// Opens papers in Chromium at the sizes of a phone, a tablet and a sheet of A4, and says what a reader would stumble over.
//   node look.mjs CHROMIUM FILE...      prints one JSON object; nothing is fetched: the page is a file, and the network is off
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";

const require = createRequire(process.env.LOOK_MODULES + "/");
const { chromium } = require("playwright-core");
const axePath = require.resolve("axe-core");

const VIEWS = [
  { name: "phone", width: 390, height: 844, media: "screen" },
  { name: "tablet", width: 820, height: 1180, media: "screen" },
  { name: "A4", width: 718, height: 1047, media: "print" }, // 190 x 277 mm at 96 to the inch
];

// Runs in the page: texts that run into each other or over the edge of the paper. Boxes that only touch do not count.
function stumbles() {
  const found = [];
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide > 0) found.push(`the page is ${wide} px wider than the window`);
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (!node.data.trim() || node.parentElement.closest("details:not([open]) > :not(summary), title, desc, style")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width > 0 && box.height > 0) boxes.push({ text: node.data.trim().slice(0, 40), svg: node.parentElement.closest("svg"), turned: node.parentElement.closest("[transform*=rotate]"), box });
    }
  }
  if (boxes.length < 20) found.push(`only ${boxes.length} texts on the page`);
  for (let i = 0; i < boxes.length; ++i) {
    const a = boxes[i];
    for (let j = i + 1; j < boxes.length; ++j) {
      const b = boxes[j];
      // A turned text has a box far larger than itself; the engine's own tests hold those apart.
      if (a.turned || b.turned) continue;
      const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      // Boxes of a line hold the room above and below its letters: a third of the smaller one may be shared.
      const slack = 0.36 * Math.min(a.box.height, b.box.height);
      if (across > 1 && down > slack) found.push(`"${a.text}" runs into "${b.text}"`);
    }
    const frame = a.svg && a.svg.getBoundingClientRect();
    if (frame && (a.box.left < frame.left - 1 || a.box.right > frame.right + 1)) found.push(`"${a.text}" leaves its drawing`);
  }
  return found.slice(0, 10);
}

const [browserPath, ...files] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox", "--disable-gpu"] });
const results = {};
for (const file of files) {
  for (const view of VIEWS) {
    for (const scheme of view.media === "print" ? ["light"] : ["light", "dark"]) {
      const context = await browser.newContext({ viewport: { width: view.width, height: view.height }, colorScheme: scheme, offline: true });
      const page = await context.newPage();
      const messages = [];
      page.on("console", (message) => messages.push(message.text()));
      page.on("pageerror", (error) => messages.push(String(error)));
      page.on("request", (request) => { if (!request.url().startsWith("file:")) messages.push("asked for " + request.url()); });
      await page.emulateMedia({ media: view.media, colorScheme: scheme });
      await page.goto(pathToFileURL(file).href);
      const found = await page.evaluate(stumbles);
      await page.addScriptTag({ path: axePath });
      const axe = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
      for (const violation of axe.violations) found.push(`${violation.id}: ${violation.help} (${violation.nodes[0].target})`);
      found.push(...messages);
      results[`${file} ${view.name} ${scheme}`] = found;
      await context.close();
    }
  }
}
await browser.close();
console.log(JSON.stringify(results, null, 1));
