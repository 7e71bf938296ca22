// What a person does on the page with files and links, for the tests.
import assert from "node:assert/strict";
import { openPage, runProgram, waitForAnswer } from "./site.js";

export const cutKey = "choices.cut_tractor_half";

/** A set-up of one's own that names a tractor's file in the folder `tractors`, and that file. */
export function makeOwnFiles() {
  const text = runProgram(["presets", "show", "compact-tiller-bottoms-out"]).out;
  const setup = text.replace('use = "compact"', 'use = "tractors/mine.toml"').replace("Compact tractor and tiller: the shaft bottoms out", "Mine: with a tractor of its own");
  const tractor = runProgram(["presets", "show", "compact"]).out.replace(/^name = .*$/m, 'name = "My tractor"');
  assert.match(tractor, /My tractor/);
  assert.match(setup, /tractors\/mine/);
  return { "with-own-tractor.toml": setup, "mine.toml": tractor };
}

export const asUploads = (files) => Object.entries(files).map(([name, text]) => ({ name, mimeType: "", buffer: Buffer.from(text) }));

/** A value as a field of the viewer takes it, until the words beside the canvas have followed. */
export async function change(page, key, value) {
  const before = await page.textContent("#report");
  assert.equal(await page.evaluate(([k, v]) => window.hitchwright.ask("change", k, v), [key, value]), "");
  await page.waitForFunction((old) => document.getElementById("report").textContent !== old, before);
}

export const readState = (page) => page.evaluate(() => JSON.parse(window.hitchwright.ask("state")));

/** Waits until nothing moves any more: the engine asks the browser for its frames, so that one it still wants comes before ours. */
export async function settle(page) {
  await page.waitForTimeout(100); // what the browser hands on by itself, as another size
  await page.evaluate(() => new Promise((done) => {
    let last = -1;
    let same = 0;
    const look = () => {
      const { frame } = JSON.parse(window.hitchwright.ask("state"));
      same = frame === last ? same + 1 : 0;
      last = frame;
      if (same >= 5) done();
      else requestAnimationFrame(look);
    };
    look();
  }));
}

/** Where a control is, CSS pixels of the window: its middle, or shares of its width and height. */
export async function findPlace(page, name, across = 0.5, down = 0.5) {
  const place = (await readState(page)).places[name];
  assert.ok(place, `${name} is not shown`);
  const box = await page.locator("#picture").boundingBox();
  const density = await page.evaluate(() => window.devicePixelRatio);
  return [box.x + (place.left + across * (place.right - place.left)) / density, box.y + (place.top + down * (place.bottom - place.top)) / density];
}

export const waitForTitle = (page, title) => page.waitForFunction((t) => document.title === t + " - Hitchwright", title, { timeout: 60000 });

/** Opens the page and waits for its answer and its buttons. */
export async function openReady(context, address) {
  const opened = await openPage(context, address);
  await waitForReady(opened.page);
  return opened;
}

export async function waitForReady(page) {
  await waitForAnswer(page);
  await page.waitForSelector("#setups:not([disabled])");
}

export async function reload(page) {
  await page.reload();
  await waitForReady(page);
}

/** What is said in the notes, and the sentences of the question or refusal that is open. */
export const readNotes = (page) => page.textContent("#notes");

/** Drops files on the canvas, as a file manager does. */
export function dropFiles(page, files) {
  return page.evaluate((list) => {
    const data = new DataTransfer();
    for (const [name, text] of Object.entries(list)) data.items.add(new File([text], name));
    for (const kind of ["dragenter", "dragover", "drop"]) {
      document.getElementById("picture").dispatchEvent(new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true }));
    }
  }, files);
}

/** Presses a button of the question that is open. */
export const answerQuestion = (page, label) => page.click(`#question button:text-is("${label}")`);

export async function waitForRefusal(page) {
  await page.waitForSelector("#refusal[open]");
  return (await page.textContent("#refusal-head")) + "\n" + (await page.textContent("#refusal-text"));
}
