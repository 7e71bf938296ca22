// The page on a phone and a tablet: fingers, the keyboard on the screen, turning the device.
import assert from "node:assert/strict";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { openPage, waitForAnswer } from "./site.js";
import { findPlace, readState, settle } from "./steps.js";

const phone = { viewport: { width: 360, height: 640 }, deviceScaleFactor: 3, isMobile: true, hasTouch: true };
const tablet = { viewport: { width: 820, height: 1180 }, deviceScaleFactor: 2, isMobile: true, hasTouch: true };

/** A device with the page open and at rest, and fingers for it. */
async function withDevice(device, check) {
  const context = await browser.newContext(device);
  try {
    const { page, seen } = await openPage(context, site.address);
    await waitForAnswer(page);
    const devtools = await context.newCDPSession(page);
    const touch = (type, points) => devtools.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
    await settle(page);
    await check({ page, touch, seen });
    assert.deepEqual(seen.errors, []);
  } finally {
    await context.close();
  }
}

/** A finger that goes from one place to another, and is lifted there unless it stays. */
async function drag(page, touch, from, to, stays = false) {
  const steps = 8;
  await touch("touchStart", [from]);
  await page.waitForTimeout(60);
  for (let i = 1; i <= steps; ++i) {
    await touch("touchMove", [[from[0] + (i / steps) * (to[0] - from[0]), from[1] + (i / steps) * (to[1] - from[1])]]);
    await page.waitForTimeout(20);
  }
  if (stays) return;
  await touch("touchEnd", []);
  await settle(page);
}

/** Scrolls with a finger on the verdict's side of the column until a control is in the middle of the canvas. */
async function bringToSight(page, touch, name) {
  const box = await page.locator("#picture").boundingBox();
  for (let i = 0; i < 40; ++i) {
    const place = (await readState(page)).places[name];
    const [, y] = place ? await findPlace(page, name) : [0, Infinity];
    const middle = box.y + 0.4 * box.height;
    if (Math.abs(y - middle) < 0.25 * box.height) return;
    const by = Math.max(-150, Math.min(150, middle - y));
    const from = [box.x + 4, middle - by / 2];
    await drag(page, touch, from, [from[0], from[1] + by]);
  }
  assert.fail(`${name} was not brought to sight`);
}

test("phone: one column as wide as the screen and as sharp as it is", () => withDevice(phone, async ({ page }) => {
  const state = await readState(page);
  assert.equal(state.one_column, true);
  const canvas = await page.evaluate(() => {
    const c = document.getElementById("picture");
    return { width: c.width, css: c.clientWidth, page: document.documentElement.scrollWidth, density: window.devicePixelRatio };
  });
  assert.equal(canvas.css, 360);
  assert.equal(canvas.width, 360 * canvas.density);
  assert.ok(canvas.page <= 360, `the page is ${canvas.page} wide`);
  const order = ["verdict", "side view", "lift", "Findings"].map((name) => state.places[name]?.top ?? Infinity);
  assert.deepEqual([...order].sort((a, b) => a - b), order);
}));

test("phone: a finger drags the lift", () => withDevice(phone, async ({ page, touch }) => {
  await bringToSight(page, touch, "lift");
  const before = (await readState(page)).ball_height_mm;
  await drag(page, touch, await findPlace(page, "lift", 0.3), await findPlace(page, "lift", 0.8));
  assert.ok((await readState(page)).ball_height_mm > before + 20);
}));

/** Two fingers beside a place, from one distance to another. */
async function pinch(page, touch, [x, y], from, to) {
  const at = (apart) => [[x - apart, y], [x + apart, y]];
  const steps = 8;
  await touch("touchStart", at(from));
  await page.waitForTimeout(500); // they count from where they are first seen together
  for (let i = 1; i <= steps; ++i) {
    await touch("touchMove", at(from + (i / steps) * (to - from)));
    await page.waitForTimeout(20);
  }
  await page.waitForTimeout(300);
  await touch("touchEnd", []);
  await settle(page);
}

test("phone: two fingers zoom the drawing", () => withDevice(phone, async ({ page, touch }) => {
  const before = await readState(page);
  assert.equal(before.picture_fitted, true);
  const place = await findPlace(page, "side view", 0.5, 0.7);
  await pinch(page, touch, place, 30, 90);
  const near = await readState(page);
  assert.equal(near.picture_fitted, false);
  await pinch(page, touch, place, 80, 40);
  const far = await readState(page);
  assert.ok(Math.abs(far.picture_scale / near.picture_scale / 2 - 1) < 0.03, `1:${near.picture_scale} to 1:${far.picture_scale}`);
  assert.equal(far.ball_height_mm, before.ball_height_mm);
}));

test("phone: a long press shows the words of what lies under it until the finger is lifted", () => withDevice(phone, async ({ page, touch }) => {
  const place = await findPlace(page, "Fit to window");
  await touch("touchStart", [place]);
  await page.waitForFunction(() => JSON.parse(window.hitchwright.ask("state")).hint !== "");
  assert.match((await readState(page)).hint, /Shows all of the machine/);
  await touch("touchEnd", []);
  await settle(page);
  assert.equal((await readState(page)).hint, "");
}));

test("phone: 3-1/4 typed on the keyboard of the screen counts, in the unit of the window", () => withDevice(phone, async ({ page, touch }) => {
  await bringToSight(page, touch, "Inputs");
  await page.touchscreen.tap(...await findPlace(page, "Inputs"));
  await settle(page);
  const key = "choices.lift_stop";
  await bringToSight(page, touch, key);
  await page.touchscreen.tap(...await findPlace(page, key));
  const input = page.locator("#typing-text");
  await input.waitFor({ state: "visible" });
  assert.equal(await input.evaluate((i) => document.activeElement === i), true);
  assert.equal(await input.getAttribute("inputmode"), "text");
  assert.match(await page.textContent("#typing-label"), /stop/i);
  const box = await page.locator("#typing").boundingBox();
  const seen = await page.evaluate(() => ({ width: window.visualViewport.width, height: window.visualViewport.height }));
  assert.ok(box.x >= 0 && box.x + box.width <= seen.width && box.y >= 0 && box.y + box.height <= seen.height);
  await input.fill("23-1/4");
  await input.press("Enter");
  await settle(page);
  assert.equal(await page.locator("#typing").isVisible(), false);
  const { edits } = await readState(page);
  assert.equal(edits.length, 1);
  assert.match(edits[0], /^choices\.lift_stop=23-1\/4/);
}));

test("phone: turned on its side and back the set-up, its changes, lift and drawing stay", () => withDevice(phone, async ({ page, touch }) => {
  await bringToSight(page, touch, "lift");
  await drag(page, touch, await findPlace(page, "lift", 0.3), await findPlace(page, "lift", 0.7));
  const before = await readState(page);
  for (const size of [{ width: 640, height: 360 }, { width: 360, height: 640 }]) {
    await page.setViewportSize(size);
    await settle(page);
  }
  const later = await readState(page);
  for (const kept of ["setup", "edits", "ball_height_mm", "picture_fitted", "side_room", "lower_room", "revision"]) assert.deepEqual(later[kept], before[kept], kept);
}));

test("tablet: in portrait one column, on its side three", () => withDevice(tablet, async ({ page }) => {
  assert.equal((await readState(page)).one_column, true);
  await page.setViewportSize({ width: 1180, height: 820 });
  await settle(page);
  assert.equal((await readState(page)).one_column, false);
}));
