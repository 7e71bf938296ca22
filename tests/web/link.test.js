// A set-up as a link: there and back, wrong, cut short, over work that is not saved, and as the text of a sheet's code.
import assert from "node:assert/strict";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { demo, runProgram } from "./site.js";
import { answerQuestion, asUploads, change, cutKey, makeOwnFiles, openReady, readState, waitForReady, waitForRefusal, waitForTitle } from "./steps.js";

async function withPage(check, address = site.address) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, permissions: ["clipboard-read", "clipboard-write"] });
  try {
    const { page, seen } = await openReady(context, address);
    await check(page, context);
    assert.deepEqual(seen.errors, []);
  } finally {
    await context.close();
  }
}

async function copyLink(page) {
  await page.click("#copy-link");
  await page.waitForSelector("#link-box[open]");
  const link = await page.inputValue("#link");
  await page.click("#link-box button");
  return link;
}

const fitJson = (page) => page.evaluate(() => {
  const state = JSON.parse(window.hitchwright.ask("state"));
  const sets = state.edits.flatMap((edit) => ["--set", edit]);
  return JSON.parse(window.hitchwright.answer({ arguments: ["fit", state.file, ...sets, "--format", "json"] }).out);
});

/** All but where the files stand and what they are called. */
function withoutPlaces(value) {
  if (Array.isArray(value)) return value.map(withoutPlaces);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).filter(([key]) => !/file|line|column|^key$|^preset$|^use$/.test(key)).map(([key, v]) => [key, withoutPlaces(v)]));
}

const linkOf = (code) => site.address + "#" + "HITCHWRIGHT1:" + encodeURIComponent(code.trimEnd().slice("HITCHWRIGHT1:".length));

test("link: a set-up with its own machine and a change comes back the same", () => withPage(async (page, context) => {
  await page.setInputFiles("#file", asUploads(makeOwnFiles()));
  await waitForTitle(page, "Mine: with a tractor of its own");
  await change(page, cutKey, "1 in");
  const link = await copyLink(page);
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), link);
  assert.match(link, /^http:\/\/127\.0\.0\.1:\d+\/#HITCHWRIGHT1:[A-Z0-9$%+\-/:]+$/);
  const other = await openReady(context, link);
  await waitForTitle(other.page, "Mine: with a tractor of its own");
  assert.equal(await other.page.textContent("#report"), await page.textContent("#report"));
  assert.deepEqual(withoutPlaces(await fitJson(other.page)), withoutPlaces(await fitJson(page)));
  assert.equal(new URL(other.page.url()).hash, "");
  assert.deepEqual(other.seen.errors, []);
}));

test("link: the page and the command line make and read the same code", () => withPage(async (page) => {
  const link = await copyLink(page);
  const code = decodeURIComponent(new URL(link).hash.slice(1));
  assert.equal(code, runProgram(["code", demo]).out.replace(/\n$/, ""));
  const folder = mkdtempSync(join(tmpdir(), "hitchwright-page-"));
  assert.equal(runProgram(["code", "--read", code], { cwd: folder }).code, 0);
  assert.equal(runProgram(["fit", "setup.toml"], { cwd: folder }).out.split("\n").slice(5).join("\n"), (await page.textContent("#report")).split("\n").slice(5).join("\n"));
  rmSync(folder, { recursive: true });
}));

test("link: the text of a sheet's code is opened where it is pasted, as it is and as a link", () => withPage(async (page) => {
  const code = runProgram(["code", "utility-cutter-fits"]).out;
  for (const text of [code, linkOf(runProgram(["code", "utility-flail-no-cut"]).out)]) {
    const before = await page.textContent("#report");
    await page.click("#setups");
    await page.fill("#pasted", text);
    await page.click("#paste-open");
    await page.waitForFunction((old) => document.getElementById("report").textContent !== old, before);
  }
  assert.match((await readState(page)).setup, /[Ff]lail/);
}));

test("link: one that is wrong or cut short is refused in words, and the demo stands there", async () => {
  const whole = linkOf(runProgram(["code", demo]).out);
  const wrong = [site.address + "#anything", whole.slice(0, -1), whole.slice(0, -150), whole.slice(0, whole.indexOf("%20") + 2),
    whole.slice(0, whole.indexOf(":", 8) + 40) + "QQ" + whole.slice(whole.indexOf(":", 8) + 42), site.address + "#HITCHWRIGHT1:", site.address + "#%E0%A4%A"];
  for (const address of wrong) {
    await withPage(async (page) => {
      assert.match(await waitForRefusal(page), /no set-up that can be read\n.*(is no code|not read whole|holds no|may not)/s, address);
      assert.equal(new URL(page.url()).hash, "");
      assert.match((await readState(page)).setup, /bottoms out$/);
      await page.click("#refusal button");
    }, address);
  }
});

test("link: a long one is said to be long, and comes back all the same", () => withPage(async (page, context) => {
  let seed = 7;
  const note = Array.from({ length: 3000 }, () => String.fromCharCode(97 + (seed = (seed * 16807) % 2147483647) % 26)).join("");
  const text = runProgram(["presets", "show", demo]).out.replace(/^note = .*$/m, `note = "${note}"`);
  await page.setInputFiles("#file", asUploads({ "long.toml": text }));
  await page.waitForFunction(() => /long\.toml$/.test(JSON.parse(window.hitchwright.ask("state")).file));
  await page.click("#copy-link");
  await page.waitForSelector("#link-box[open]");
  const link = await page.inputValue("#link");
  assert.ok(link.length > 2000);
  assert.match(await page.textContent("#link-said"), new RegExp(`It has ${link.length} letters`));
  const other = await openReady(context, link);
  await other.page.waitForFunction((text) => window.hitchwright.ask("setup").includes(text), note);
}));

test("link: a part of the page is no set-up", () => withPage(async (page) => {
  await page.waitForTimeout(300);
  assert.equal(await page.locator("dialog[open]").count(), 0);
}, site.address + "#answer"));

test("link: over work that is not saved the page asks, and keeps the old", () => withPage(async (page) => {
  await change(page, cutKey, "1 in");
  const changed = await page.textContent("#report");
  const link = linkOf(runProgram(["code", "utility-cutter-fits"]).out);
  // Into the address of the open page, and once more as a fresh start.
  await page.evaluate((hash) => { location.hash = hash; }, new URL(link).hash);
  await answerQuestion(page, "Stay here");
  assert.equal(await page.textContent("#report"), changed);
  await page.goto("about:blank");
  await page.goto(link);
  await page.waitForSelector("#question[open]");
  assert.equal(await page.textContent("#report"), changed);
  await answerQuestion(page, "Open the other one");
  await page.waitForFunction((old) => document.getElementById("report").textContent !== old, changed);
  await waitForReady(page);
  await page.click("#setups");
  assert.match(await page.textContent("#kept-list"), /the shaft bottoms out, changed/);
}));
