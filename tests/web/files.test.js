// Files in and out: chosen, dropped, broken, far too large, with any name; saved with the bytes that the command line would write.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { demo, runProgram } from "./site.js";
import { asUploads, change, cutKey, dropFiles, makeOwnFiles, openReady, readState, waitForRefusal, waitForTitle } from "./steps.js";

async function withPage(check) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, acceptDownloads: true });
  try {
    const { page, seen } = await openReady(context, site.address);
    await check(page);
    assert.deepEqual(seen.errors, []);
  } finally {
    await context.close();
  }
}

const fitOf = (files, name) => {
  const folder = mkdtempSync(join(tmpdir(), "hitchwright-page-"));
  try {
    for (const [file, text] of Object.entries(files)) writeFileSync(join(folder, file), text);
    return runProgram(["fit", name], { cwd: folder });
  } finally {
    rmSync(folder, { recursive: true });
  }
};

const bottomsOut = "Compact tractor and tiller: the shaft bottoms out";

test("files: a set-up and the machine it names are opened together, wherever it looks for it", () => withPage(async (page) => {
  const files = makeOwnFiles();
  await page.setInputFiles("#file", asUploads(files));
  await waitForTitle(page, "Mine: with a tractor of its own");
  const flat = { ...files, "with-own-tractor.toml": files["with-own-tractor.toml"].replace("tractors/mine", "./mine") };
  assert.equal(await page.textContent("#report"), fitOf(flat, "with-own-tractor.toml").out);
  assert.match(await page.textContent("#report"), /My tractor/);
}));

test("files: a file dropped on the page is opened", () => withPage(async (page) => {
  const text = runProgram(["presets", "show", "utility-cutter-fits"]).out;
  await dropFiles(page, { "dropped.toml": text });
  await page.waitForFunction(() => /dropped\.toml$/.test(JSON.parse(window.hitchwright.ask("state")).file));
  await page.waitForFunction(() => /^FITS/.test(document.getElementById("verdict").textContent));
}));

test("files: a broken one is refused with file and line, and the set-up before stays", () => withPage(async (page) => {
  const shown = await page.textContent("#report");
  await page.setInputFiles("#file", asUploads({ "bad.toml": 'kind = "setup"\nversion = 1\nname = "x\n' }));
  const said = await waitForRefusal(page);
  assert.match(said, /the set-up before stays/);
  assert.match(said, /bad\.toml/);
  assert.match(said, /line 3|:3/);
  assert.equal(await page.textContent("#report"), shown);
  assert.equal((await readState(page)).setup, bottomsOut);
  await page.click("#refusal button");
  await change(page, cutKey, "1 in");
}));

test("files: every problem of a file is listed with its key", () => withPage(async (page) => {
  const text = runProgram(["presets", "show", demo]).out.replace("working_band_low = 12", 'working_band_low = "tall"\nworking_band_hihg = 3');
  await page.setInputFiles("#file", asUploads({ "two.toml": text }));
  const said = await waitForRefusal(page);
  assert.match(said, /choices\.working_band_low/);
  assert.match(said, /working_band_hihg/);
}));

test("files: a machine alone, a picture, nothing at all and 50 MB are refused in words", () => withPage(async (page) => {
  const wrong = [
    ["tractor.toml", Buffer.from(runProgram(["presets", "show", "compact"]).out), /tractor/],
    ["photo.jpg", Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46]), /UTF-8/],
    ["empty.toml", Buffer.alloc(0), /empty\.toml/],
  ];
  for (const [name, buffer, words] of wrong) {
    await page.setInputFiles("#file", [{ name, mimeType: "", buffer }]);
    assert.match(await waitForRefusal(page), words, name);
    await page.click("#refusal button");
    assert.equal((await readState(page)).setup, bottomsOut, name);
  }
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.items.add(new File([new Uint8Array(50e6).fill(32)], "large.toml"));
    document.getElementById("picture").dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
  });
  assert.match(await waitForRefusal(page), /large\.toml.*1 MiB/s);
  assert.equal(await page.evaluate(() => window.hitchwright.FS.readdir("/").filter((n) => /^\d+$/.test(n)).length), 1);
}));

test("files: any name is only a name", () => withPage(async (page) => {
  const text = runProgram(["presets", "show", "utility-cutter-fits"]).out;
  const title = /^name = "(.*)"$/m.exec(text)[1];
  let count = 0;
  for (const name of ["<img src=x onerror=alert(1)>.toml", "Stra\u00dfe \u4e2d\ud83d\ude9c.toml", "--help", "..", " ", "a".repeat(300) + ".toml", "\ud83d\ude9c".repeat(119) + "\ud83d.toml", "$(id) 'q\".toml"]) {
    const own = title + " " + ++count;
    await dropFiles(page, { [name]: text.replace(title, own) });
    await waitForTitle(page, own);
  }
  assert.equal(await page.locator("img").count(), 0);
}));

test("files: a name in a broken file is shown as text", () => withPage(async (page) => {
  await dropFiles(page, { "<img src=x>.toml": "kind = <b>" });
  const said = await waitForRefusal(page);
  assert.match(said, /<img src=x>\.toml/);
  assert.equal(await page.locator("#refusal img, #refusal b").count(), 0);
}));

test("files: what is saved are the bytes of record", () => withPage(async (page) => {
  const folder = mkdtempSync(join(tmpdir(), "hitchwright-page-"));
  const text = runProgram(["presets", "show", demo]).out.replace("# Demo", "# My own   \n# Demo");
  writeFileSync(join(folder, "own.toml"), text);
  await page.setInputFiles("#file", asUploads({ "own.toml": text }));
  await page.waitForFunction(() => /own\.toml$/.test(JSON.parse(window.hitchwright.ask("state")).file));
  await change(page, cutKey, "3.625 in");
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save")]);
  const saved = readFileSync(await download.path(), "utf8");
  const recorded = runProgram(["record", "own.toml", cutKey + "=3.625 in", "--by", "me"], { cwd: folder });
  assert.equal(recorded.code, 0, recorded.out);
  assert.equal(saved, readFileSync(join(folder, "own.toml"), "utf8"));
  assert.match(download.suggestedFilename(), /\.toml$/);
  rmSync(folder, { recursive: true });
}));

test("files: over changes the page asks, and what is left can be had again", () => withPage(async (page) => {
  await change(page, cutKey, "1 in");
  const changed = await page.textContent("#report");
  const other = asUploads({ "other.toml": runProgram(["presets", "show", "utility-cutter-fits"]).out });
  await page.setInputFiles("#file", other);
  await page.click('#question button:text-is("Stay here")');
  assert.equal(await page.textContent("#report"), changed);
  await page.setInputFiles("#file", other);
  await page.waitForSelector("#question[open]");
  assert.match(await page.textContent("#question"), /stay under "Set-ups"/);
  await page.click('#question button:text-is("Open the other one")');
  await page.waitForFunction(() => /^FITS/.test(document.getElementById("verdict").textContent) && /other\.toml/.test(JSON.parse(window.hitchwright.ask("state")).file));
  await page.click("#setups");
  await page.click(`#kept-list button[aria-label="Open: ${bottomsOut}"]`);
  await page.waitForFunction((old) => document.getElementById("report").textContent === old, changed);
}));

test("files: buttons and fields have names and are large enough for a finger", () => withPage(async (page) => {
  await page.click("#setups");
  const small = await page.evaluate(() => [...document.querySelectorAll("button, header a, textarea, input:not([hidden])")]
    .filter((e) => e.offsetParent !== null)
    .filter((e) => e.getBoundingClientRect().height < 40 || !(e.textContent || e.labels?.length || e.getAttribute("aria-label")))
    .map((e) => e.outerHTML));
  assert.deepEqual(small, []);
}));
