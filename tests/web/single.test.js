// The page as one file, opened from the device's storage: the same answers, and nothing is asked of anybody.
import assert from "node:assert/strict";
import { once } from "node:events";
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { assertNear, demo, openBrowser, runProgram, singleFile } from "./site.js";
import { change, cutKey, openReady, readNotes, reload } from "./steps.js";

let browser;
let folder;
let address;

before(async () => {
  folder = mkdtempSync(join(tmpdir(), "hitchwright one file "));
  copyFileSync(singleFile, join(folder, "hitchwright.html")); // nothing else stands beside it
  address = pathToFileURL(join(folder, "hitchwright.html")).href;
  browser = await openBrowser();
});

after(async () => {
  await browser?.close();
  if (folder) rmSync(folder, { recursive: true });
});

async function withFile(check) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  try {
    await context.setOffline(true);
    const { page, seen } = await openReady(context, address);
    await check(page);
    assert.deepEqual(seen.errors, []);
    const asked = seen.requests.filter((url) => url.replace(/#.*$/, "") !== address && !/^(data|blob):/.test(url));
    assert.deepEqual(asked, []);
  } finally {
    await context.close();
  }
}

test("one file: the demo is judged as by the program, in words and in numbers", () => withFile(async (page) => {
  assert.equal(await page.textContent("#report"), runProgram(["fit", demo]).out);
  const native = runProgram(["fit", demo, "--format", "json"]);
  const answer = await page.evaluate((r) => window.hitchwright.answer(r), { arguments: ["fit", demo, "--format", "json"] });
  assert.equal(answer.code, native.code);
  assertNear(JSON.parse(answer.out), JSON.parse(native.out));
  assert.ok((await page.locator("#picture").screenshot()).length > 20000);
}));

test("one file: its policy lets nothing in and nothing out", () => withFile(async (page) => {
  const policy = await page.getAttribute("meta[http-equiv='Content-Security-Policy']", "content");
  assert.match(policy, /default-src 'none'/);
  assert.doesNotMatch(policy, /'self'|unsafe-inline|'unsafe-eval'|https?:|\*|connect-src/);
  assert.equal(await page.locator("script[src], link[rel='stylesheet'], link[rel='manifest'], [style], [onclick], [onload]").count(), 0);
  assert.equal(await page.locator("a[href]:not([href^='#'])").count(), 0);
  assert.match(await page.textContent("footer details"), /Dear ImGui/);
}));

// Held by the browser, not only written down.
test("one file: a script, a style and a request of somebody else's are refused", async () => {
  const server = createServer((request, answer) => answer.end("yes")).listen(0, "127.0.0.1");
  await once(server, "listening");
  const context = await browser.newContext();
  try {
    const { page } = await openReady(context, address);
    const refused = await page.evaluate(async (url) => {
      const seen = [];
      document.addEventListener("securitypolicyviolation", (event) => seen.push(event.effectiveDirective));
      for (const kind of ["script", "style"]) {
        const made = document.createElement(kind);
        made.textContent = kind === "script" ? "window.ran = 1" : "body { color: red }";
        document.head.append(made);
      }
      await fetch(url).catch(() => {});
      await new Promise((done) => setTimeout(done, 200));
      return { seen: seen.sort(), ran: window.ran === 1 };
    }, `http://127.0.0.1:${server.address().port}/`);
    assert.deepEqual(refused, { seen: ["connect-src", "script-src-elem", "style-src-elem"], ran: false });
  } finally {
    await context.close();
    server.close();
  }
});

test("one file: the sheet is printed, the picture saved as PNG and SVG", () => withFile(async (page) => {
  await page.evaluate(() => { window.print = () => { window.printed = true; }; });
  await page.click("#take");
  const press = (label, word) => page.click(`#take-list button[aria-label="${label}: ${word}"]`);
  await press("Print or PDF", "Set-up sheet");
  assert.equal(await page.evaluate(() => window.printed), true);
  assert.ok(await page.locator("#pages section").count() >= 2);
  for (const label of ["PNG", "SVG"]) {
    const [saved] = await Promise.all([page.waitForEvent("download"), press(label, "Picture")]);
    assert.ok(readFileSync(await saved.path()).length > 10000, label);
  }
}));

test("one file: a change is there after a reload, and a link opens in it", () => withFile(async (page) => {
  await change(page, cutKey, "1 in");
  const changed = await page.textContent("#report");
  await reload(page);
  await page.waitForFunction((text) => document.getElementById("report").textContent === text, changed);
  assert.match(await readNotes(page), /Your last work is back/);
  await page.click("#copy-link");
  await page.waitForSelector("#link-box[open]");
  const link = await page.inputValue("#link");
  assert.ok(link.startsWith(address + "#HITCHWRIGHT1:"));
  assert.match(await page.textContent("#link-said"), /this device's own copy of the page/);
  const verdict = await page.textContent("#verdict");
  const other = await browser.newContext();
  const second = await openReady(other, link);
  await second.page.waitForFunction((text) => document.getElementById("verdict").textContent === text && location.hash === "", verdict);
  assert.deepEqual(second.seen.errors, []);
  await other.close();
}));
