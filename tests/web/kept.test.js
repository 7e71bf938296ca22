// What the browser keeps: after a reload and a crash, in two windows, and where it keeps nothing.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { runProgram } from "./site.js";
import { asUploads, change, cutKey, makeOwnFiles, openReady, readNotes, readState, reload, waitForTitle } from "./steps.js";

async function withContext(check, prepare = undefined) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  try {
    if (prepare) await context.addInitScript(prepare);
    const { page, seen } = await openReady(context, site.address);
    await check(page, context);
    assert.deepEqual(seen.errors, []);
  } finally {
    await context.close();
  }
}

const waitForReport = (page, text) => page.waitForFunction((t) => document.getElementById("report").textContent === t, text);

test("kept: the demo without a change is no work that comes back", () => withContext(async (page) => {
  await reload(page);
  assert.equal(await readNotes(page), "");
}));

test("kept: an edit made in the viewer is there after a reload, as one change that undo takes back", () => withContext(async (page) => {
  const first = await page.textContent("#report");
  await change(page, cutKey, "1 in");
  await change(page, "choices.cut_implement_half", "1.5 in");
  const changed = await page.textContent("#report");
  await reload(page);
  await waitForReport(page, changed);
  assert.deepEqual((await readState(page)).edits, [cutKey + "=1 in", "choices.cut_implement_half=1.5 in"]);
  assert.match(await readNotes(page), /Your last work is back: "Compact tractor and tiller: the shaft bottoms out" \(.*\), with its changes: one undo takes all of them back/);
  assert.equal((await readState(page)).can_undo, true);
  await page.click('#notes button:text-is("Without the changes")');
  await page.click('#question button:text-is("Open the other one")');
  await waitForReport(page, first);
  await page.click("#setups");
  assert.match(await page.textContent("#kept-list"), /the shaft bottoms out, changed/);
}));

test("kept: a file with the machine it names is there after a reload", () => withContext(async (page) => {
  await page.setInputFiles("#file", asUploads(makeOwnFiles()));
  await waitForTitle(page, "Mine: with a tractor of its own");
  await change(page, cutKey, "1 in");
  const changed = await page.textContent("#report");
  await reload(page);
  await waitForReport(page, changed);
  const save = async (button) => {
    const [download] = await Promise.all([page.waitForEvent("download"), page.click(button)]);
    return [download.suggestedFilename(), readFileSync(await download.path(), "utf8")];
  };
  await save("#save");
  assert.match(await readNotes(page), /needs other files beside it: mine\.toml\./);
  await page.click("#setups");
  assert.deepEqual(await save("#file-list button"), ["mine.toml", makeOwnFiles()["mine.toml"]]);
  assert.equal(await page.locator("#file-list button").count(), 1);
  await page.keyboard.press("Escape");
  await page.click('#notes button:text-is("Begin with the demo")');
  await page.click('#question button:text-is("Open the other one")');
  await waitForTitle(page, "Compact tractor and tiller: the shaft bottoms out");
  await page.click("#setups");
  await page.click('#kept-list button[aria-label="Take out: Mine: with a tractor of its own"]');
  await page.click('#question button:text-is("Take it out")');
  await page.waitForFunction(() => !/Mine/.test(document.getElementById("kept-list").textContent));
}));

test("kept: a machine of one's own is there after a reload, and in another window", () => withContext(async (page, context) => {
  const folder = await page.evaluate(() => JSON.parse(window.hitchwright.ask("work")).own_folder);
  const file = folder + "/tractors/yard.toml";
  const text = makeOwnFiles()["mine.toml"];
  await page.evaluate(([path, content]) => {
    makeParents(window.hitchwright, path);
    window.hitchwright.FS.writeFile(path, content);
  }, [file, text]);
  const other = await openReady(context, site.address);
  await change(page, cutKey, "1 in");
  await other.page.waitForFunction((path) => window.hitchwright.FS.analyzePath(path).exists, file);
  await reload(page);
  const setup = runProgram(["presets", "show", "compact-tiller-bottoms-out"]).out.replace('use = "compact"', 'use = "yard"');
  await page.setInputFiles("#file", asUploads({ "by-name.toml": setup }));
  await page.click('#question button:text-is("Open the other one")');
  await page.waitForFunction(() => document.getElementById("report").textContent.includes("My tractor"));
  await page.click("#copy-link");
  await page.waitForSelector("#link-box[open]");
  const link = await page.inputValue("#link");
  assert.match(await page.evaluate((text) => JSON.stringify(readCode(findCode(text)).files), link), /yard\.toml.*My tractor/);
}));

test("kept: after a crash the work is there again", () => withContext(async (page) => {
  await change(page, cutKey, "1 in");
  const changed = await page.textContent("#report");
  await page.evaluate(() => {
    window.hitchwright.ask = () => { throw new WebAssembly.RuntimeError("unreachable"); };
    document.getElementById("copy-link").click();
  });
  await page.waitForSelector("#rescue:not([hidden])");
  assert.match(await page.textContent("#said"), /it comes back/);
  await reload(page);
  await waitForReport(page, changed);
}));

test("kept: a set-up that stops the program again and again is not opened by itself", () => withContext(async (page) => {
  await change(page, cutKey, "1 in");
  await page.evaluate(() => {
    const name = sessionStorage.getItem("hitchwright tab");
    localStorage.setItem("hitchwright opening", name + " 2");
  });
  await reload(page);
  assert.match(await readNotes(page), /was not opened, since the program stopped/);
  assert.deepEqual((await readState(page)).edits, []);
  await page.click("#setups");
  assert.match(await page.textContent("#kept-list"), /changed/);
}));

test("kept: two windows do not write over each other's work", () => withContext(async (page, context) => {
  await change(page, cutKey, "1 in");
  const one = await page.textContent("#report");
  const other = await openReady(context, site.address);
  assert.match(await readNotes(other.page), /open in another window or tab\. Here begins the demo/);
  await change(other.page, cutKey, "2 in");
  const two = await other.page.textContent("#report");
  await reload(page);
  await waitForReport(page, one);
  await reload(other.page);
  await waitForReport(other.page, two);
  await page.click("#setups");
  await page.locator('#kept-list button[aria-label^="Open"]').first().click();
  await page.waitForFunction(() => /open in another window or tab/.test(document.getElementById("notes").textContent));
  assert.deepEqual(other.seen.errors, []);
}));

test("kept: without locks two windows notice each other by what they write", () => withContext(async (page, context) => {
  await change(page, cutKey, "1 in");
  const other = await openReady(context, site.address);
  await waitForReport(other.page, await page.textContent("#report"));
  await change(other.page, cutKey, "2 in");
  await page.waitForFunction(() => /From here on each keeps its own/.test(document.getElementById("notes").textContent));
  const kept = await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("hitchwright work ")).map((key) => JSON.parse(localStorage.getItem(key)).changes));
  assert.equal(kept.length, 2);
  assert.ok(kept.some((changes) => changes.includes("=1 in")) && kept.some((changes) => changes.includes("=2 in")));
}, () => Object.defineProperty(Navigator.prototype, "locks", { get: () => undefined })));

/** Leaves the page as a person does; true: the browser asked. */
async function askedOnLeaving(page) {
  let asked = false;
  page.on("dialog", async (dialog) => {
    asked = dialog.type() === "beforeunload";
    await dialog.dismiss();
  });
  await page.mouse.click(5, 5); // browsers ask only where something was touched
  await page.close({ runBeforeUnload: true });
  await new Promise((done) => setTimeout(done, 500));
  return asked;
}

test("kept: where work is kept nobody is asked on leaving", () => withContext(async (page) => {
  await change(page, cutKey, "1 in");
  assert.equal(await askedOnLeaving(page), false);
}));

for (const [what, words, prepare] of [
  ["refused", /keeps nothing for this page.*Save the set-up as a file/, () => { Storage.prototype.setItem = () => { throw new DOMException("no", "SecurityError"); }; }],
  ["out of reach", /keeps nothing for this page/, () => {
    for (const name of ["localStorage", "sessionStorage"]) Object.defineProperty(window, name, { get: () => { throw new DOMException("no", "SecurityError"); } });
  }],
  ["full", /storage for this page is full.*save this one as a file/, () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; }],
]) {
  test(`kept: storage ${what} is said, the work can be saved, and leaving is asked about only before that`, () => withContext(async (page) => {
    assert.deepEqual((await readState(page)).edits, []);
    await change(page, cutKey, "1 in");
    assert.match(await readNotes(page), words);
    await page.setInputFiles("#file", asUploads({ "other.toml": runProgram(["presets", "show", "utility-cutter-fits"]).out }));
    await page.waitForSelector("#question[open]");
    assert.match(await page.textContent("#question"), /kept nowhere/);
    await page.click('#question button:text-is("Stay here")');
    const [download] = await Promise.all([page.waitForEvent("download"), page.click('#notes button:text-is("Save a copy")')]);
    assert.match(download.suggestedFilename(), /\.toml$/);
    await change(page, cutKey, "2 in");
    assert.equal(await askedOnLeaving(page), true);
  }, prepare));
}

test("kept: room that comes back is used, and the sentence goes", () => withContext(async (page) => {
  await page.evaluate(() => {
    const write = Storage.prototype.setItem;
    Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
    window.mend = () => { Storage.prototype.setItem = write; };
  });
  await change(page, cutKey, "1 in");
  assert.match(await readNotes(page), /is full/);
  await page.evaluate(() => window.mend());
  await change(page, cutKey, "2 in");
  assert.equal(await readNotes(page), "");
  const changed = await page.textContent("#report");
  await reload(page);
  await waitForReport(page, changed);
}));
