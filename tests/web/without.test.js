// The page where something is missing: it says so in plain words, and the set-up can be got out.
import assert from "node:assert/strict";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { demo, openPage, runProgram, waitForAnswer } from "./site.js";
import { asUploads, change, cutKey, openReady } from "./steps.js";

test("page: without WebGL the answer is there as text", async () => {
  const context = await browser.newContext();
  await context.addInitScript(() => { HTMLCanvasElement.prototype.getContext = () => null; });
  const { page } = await openPage(context, site.address);
  await waitForAnswer(page);
  assert.match(await page.textContent("#said"), /no WebGL/);
  assert.equal(await page.textContent("#report"), runProgram(["fit", demo]).out);
  await context.close();
});

test("page: without WebGL files are opened all the same, and what was kept is there with its changes", async () => {
  const context = await browser.newContext();
  const first = await openReady(context, site.address);
  await change(first.page, cutKey, "1 in");
  // Its origins are those of a file: there is no viewer to put the changes over the built-in one.
  const changed = /^[^]*?What to do/.exec(await first.page.textContent("#report"))[0];
  await first.page.close();
  await context.addInitScript(() => { HTMLCanvasElement.prototype.getContext = () => null; });
  const { page, seen } = await openReady(context, site.address);
  await page.waitForFunction((text) => document.getElementById("report").textContent.startsWith(text), changed);
  await page.setInputFiles("#file", asUploads({ "other.toml": runProgram(["presets", "show", "utility-cutter-fits"]).out }));
  await page.waitForFunction(() => /FITS/.test(document.getElementById("report").textContent) && /cutter/i.test(document.getElementById("report").textContent));
  assert.equal(await page.isDisabled("#save"), true);
  await page.click("#setups");
  await page.click('#kept-list button[aria-label^="Open: Compact tractor and tiller"]');
  await page.waitForFunction((text) => document.getElementById("report").textContent.startsWith(text), changed);
  assert.deepEqual(seen.errors, []);
  await context.close();
});

test("page: a browser without WebAssembly is told so", async () => {
  const context = await browser.newContext();
  await context.addInitScript(() => { delete window.WebAssembly; });
  const { page } = await openPage(context, site.address);
  await page.waitForFunction(() => /too old/.test(document.getElementById("said").textContent));
  await context.close();
});

test("page: without JavaScript it says what it needs", async () => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(site.address);
  assert.match(await page.textContent("#said"), /needs JavaScript/);
  await context.close();
});

test("page: after a crash of the engine the set-up's text can be had", async () => {
  const context = await browser.newContext();
  const { page } = await openPage(context, site.address);
  await waitForAnswer(page);
  await page.evaluate(() => {
    window.hitchwright._hitchwright_wake = () => { throw new WebAssembly.RuntimeError("unreachable"); };
    setTimeout(() => window.hitchwright._hitchwright_wake(), 0);
  });
  await page.waitForSelector("#rescue:not([hidden])");
  assert.match(await page.textContent("#said"), /stopped by an error of its own/);
  assert.match(await page.inputValue("#rescue-text"), /kind = "setup"/);
  await context.close();
});
