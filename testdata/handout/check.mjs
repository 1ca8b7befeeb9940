// Opens handouts in a headless Chromium and says what it sees, as JSON.
//
//   npm install --no-package-lock --prefix testdata/handout/node
//   node check.mjs CHROMIUM OUTDIR N PAGE...
//
// Every page is opened at phone width with and without script and at desktop
// width; the first N are printed on A4 and US Letter into OUTDIR. A test in
// internal/handout judges what it says. Exit status 3: a package is missing.
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

const require = createRequire(new URL("node/package.json", import.meta.url));
let chromium, axe;
try {
  ({ chromium } = require("playwright-core"));
  axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
} catch {
  console.error("what testdata/handout/node names is not installed");
  process.exit(3);
}

const widths = { phone: { width: 390, height: 844 }, desktop: { width: 1280, height: 900 } };
const papers = ["A4", "Letter"];

const [executablePath, out, printedFirst, ...files] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });

// open opens a page and keeps what it asks for and complains of.
async function open(file, viewport, script) {
  const context = await browser.newContext({ viewport, javaScriptEnabled: script });
  const page = await context.newPage();
  const url = pathToFileURL(file).href;
  const heard = [];
  page.on("console", (m) => heard.push(m.text()));
  page.on("pageerror", (e) => heard.push(String(e)));
  page.on("request", (r) => r.url() === url || heard.push("asks for " + r.url()));
  page.on("dialog", (d) => (heard.push("dialog " + d.message()), d.dismiss()));
  await page.goto(url);
  return { context, page, heard };
}

// faults are the serious and critical findings of the accessibility checker.
async function faults(page) {
  const found = await page.evaluate(axe + "; axe.run(document, { resultTypes: ['violations'] })");
  return found.violations
    .filter((v) => v.impact === "serious" || v.impact === "critical")
    .map((v) => `${v.id} (${v.impact}): ${v.nodes.map((n) => n.target.join(" ")).slice(0, 5).join(", ")}`);
}

const tooWide = (page) =>
  page.evaluate(() => [
    document.documentElement.scrollWidth - document.documentElement.clientWidth,
    ...[...document.querySelectorAll("main *")]
      .filter((e) => !e.closest("svg, .scroll, .unseen, .cup caption") && e.getClientRects().length > 0 && e.getBoundingClientRect().right > innerWidth + 1)
      .map((e) => e.tagName + "." + e.className),
  ]);

// seen is what a reader finds without doing anything.
const seen = async (page) => ({
  steps: await page.locator(".step:visible").count(),
  drawings: await page.locator("#steps .drawing:visible").count(),
  sections: await page.locator("main > section:visible").count(),
  stepper: await page.locator("#walk").isVisible(),
  words: (await page.locator("main").innerText()).length,
  // The page's own style is let in: without it the number is as small as the text.
  styled: await page.locator("h1").evaluate((e) => parseFloat(getComputedStyle(e).fontSize) > 25),
});

// walked steps through the build by keyboard alone.
async function walked(page, narrow) {
  const steps = await page.locator(".step").count();
  if (steps < 2) return null;
  const shown = () => page.locator(".step .words:visible h3").allInnerTexts();
  const said = () => page.locator("#walk-said").textContent();
  await page.keyboard.press("Tab");
  const first = await page.evaluate(() => {
    const box = document.activeElement.getBoundingClientRect();
    return { text: document.activeElement.textContent, inView: box.left >= 0 && box.top >= 0 };
  });
  await page.keyboard.press("Enter"); // the skip link
  const skipped = await page.evaluate(() => location.hash + " " + document.activeElement.id);
  await page.keyboard.press("Tab");
  const focus = await page.evaluate(() => {
    const style = getComputedStyle(document.activeElement);
    return { id: document.activeElement.id, outline: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 };
  });
  await page.keyboard.press("Enter");
  const result = { first, skipped, focus, steps, start: await shown(), startSaid: await said() };
  await page.keyboard.press("ArrowLeft"); // there is nothing before the first
  result.before = await shown();
  await page.keyboard.press("ArrowRight");
  result.next = await shown();
  result.nextSaid = await said();
  result.faults = narrow ? await faults(page) : [];
  result.wide = await tooWide(page);
  for (let i = 0; i < steps; i++) await page.keyboard.press("ArrowRight");
  result.last = await shown();
  result.drawn = await page.locator("#steps .drawing:visible").count();
  await page.keyboard.press("Escape");
  result.all = (await shown()).length;
  result.back = await page.evaluate(() => document.activeElement.id);
  return result;
}

// What may not be cut: each gets a mark at its head and one at its foot, and
// both must be printed on the same page.
async function printed(file) {
  const { context, page } = await open(file, widths.desktop, true);
  const marked = await page.evaluate(() => {
    const there = (list) => [...list].filter((e) => e.getClientRects().length > 0);
    // A drawing of one zone, a row, a cup and a card are whole; a caption stays with its first drawing.
    const whole = there(document.querySelectorAll(".zone, .scroll, tr, .cup, .product")).map((e) => [e, e]);
    for (const f of there(document.querySelectorAll("figure"))) whole.push([f, there(f.querySelectorAll(".zone, .scroll"))[0]]);
    whole.forEach(([head, foot], i) => {
      for (const [e, letter, side] of [[head, "a", "top"], [foot, "z", "bottom"]]) {
        const host = e.tagName === "TR" ? e.cells[0] : e;
        const mark = document.createElement("span");
        mark.textContent = ` Q${letter}${i}x `;
        host.style.position = "relative";
        Object.assign(mark.style, { position: "absolute", left: "0", fontSize: "2px", lineHeight: "1", [side]: "0" });
        host.append(mark);
      }
    });
    return whole.map(([e]) => e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + " " + e.textContent.trim().slice(0, 60));
  });
  const result = {};
  for (const format of papers) {
    const pdf = join(out, basename(file, ".html") + "-" + format + ".pdf");
    await page.pdf({ path: pdf, format });
    let pages;
    try {
      pages = execFileSync("pdftotext", [pdf, "-"], { encoding: "utf8", maxBuffer: 1 << 28 }).split("\f");
    } catch (e) {
      if (e.code !== "ENOENT") throw e;
      result[format] = null; // no pdftotext here
      continue;
    }
    const at = new Map();
    pages.forEach((text, i) => {
      for (const [mark] of text.matchAll(/Q[az]\d+x/g)) at.set(mark, i + 1);
    });
    result[format] = {
      pages: pages.length - 1,
      marked: marked.length,
      cut: marked.map((what, i) => [what, at.get(`Qa${i}x`), at.get(`Qz${i}x`)]).filter(([, a, z]) => a === undefined || a !== z),
    };
  }
  await context.close();
  return result;
}

const results = [];
for (const [i, file] of files.entries()) {
  const result = { file: basename(file), views: {} };
  for (const [name, viewport] of Object.entries(widths)) {
    for (const script of name === "phone" ? [true, false] : [true]) {
      const { context, page, heard } = await open(file, viewport, script);
      const view = { ...(await seen(page)), wide: await tooWide(page), heard };
      if (script) {
        view.faults = await faults(page);
        view.walked = await walked(page, name === "phone");
      }
      result.views[name + (script ? "" : " without script")] = view;
      await context.close();
    }
  }
  if (i < Number(printedFirst)) result.printed = await printed(file);
  results.push(result);
}
await browser.close();
console.log(JSON.stringify(results, null, 1));
