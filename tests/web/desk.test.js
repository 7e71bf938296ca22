// The page at a desk: three columns, a mouse and a keyboard.
import assert from "node:assert/strict";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { demo, runProgram } from "./site.js";
import { findPlace, openReady, readState, settle } from "./steps.js";

async function withDesk(check) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  try {
    const { page, seen } = await openReady(context, site.address);
    await settle(page);
    assert.equal((await readState(page)).one_column, false);
    await check(page);
    assert.deepEqual(seen.errors, []);
  } finally {
    await context.close();
  }
}

const picture = (page) => page.locator("#picture").screenshot();

test("desk: the mouse drags the lift, and the drawing follows", () => withDesk(async (page) => {
  const before = await readState(page);
  const drawn = await picture(page);
  const from = await findPlace(page, "lift", 0.4);
  const to = await findPlace(page, "lift", 0.8);
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move(...to, { steps: 8 });
  await settle(page);
  const dragged = await readState(page);
  assert.ok(dragged.ball_height_mm > before.ball_height_mm + 50, `${before.ball_height_mm} to ${dragged.ball_height_mm} mm`);
  assert.notDeepEqual(await picture(page), drawn);
  await page.mouse.up();
  await page.mouse.move(...from, { steps: 4 });
  await settle(page);
  assert.equal((await readState(page)).ball_height_mm, dragged.ball_height_mm);
  await page.keyboard.press("Control+b");
  await settle(page);
  assert.equal((await readState(page)).ball_height_mm, before.ball_height_mm);
}));

test("desk: 3-1/4 typed into a field counts, and the answer beside the canvas is that of the command line", () => withDesk(async (page) => {
  await page.mouse.click(...await findPlace(page, "find"));
  await page.keyboard.type("cut off the tractor half");
  await settle(page);
  assert.equal(await page.evaluate(() => window.scrollY), 0); // a blank is a letter, no key that scrolls
  const key = "choices.cut_tractor_half";
  const before = await page.textContent("#report");
  await page.mouse.click(...await findPlace(page, key));
  await page.keyboard.press("Control+a");
  await page.keyboard.type("3-1/4");
  await page.keyboard.press("Enter");
  await page.waitForFunction((old) => document.getElementById("report").textContent !== old, before);
  const { edits } = await readState(page);
  assert.equal(edits.length, 1);
  assert.match(edits[0], /^choices\.cut_tractor_half=3-1\/4/);
  assert.equal(await page.textContent("#report"), runProgram(["fit", demo, "--set", edits[0]]).out);
  await page.keyboard.press("Control+z");
  await page.waitForFunction((old) => document.getElementById("report").textContent === old, before);
}));
