// The page in a browser: it loads, asks nobody else for anything, and says what the command line says.
import assert from "node:assert/strict";
import { test } from "node:test";
import { browser, site } from "./running.js";
import { assertNear, demo, openPage, runProgram, serveSite, waitForAnswer } from "./site.js";

/** Opens the page of `from` in a context of its own, waits for the answer, runs the check and closes. */
async function withPage(check, options = {}, from = site) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  try {
    const { page, seen } = await openPage(context, from.address);
    await waitForAnswer(page);
    await check(page, seen, context);
  } finally {
    await context.close();
  }
}

const ask = (page, request) => page.evaluate((r) => window.hitchwright.answer(r), request);

test("page: it loads without an error, and asks no other origin for anything", () => withPage(async (page, seen) => {
  assert.deepEqual(seen.errors, []);
  assert.ok(seen.requests.length >= 4);
  for (const url of seen.requests) assert.ok(url.startsWith(site.address) || url.startsWith("blob:" + site.address), url);
}));

test("page: what stands beside the canvas is what fit prints", () => withPage(async (page) => {
  const native = runProgram(["fit", demo]);
  assert.equal(await page.textContent("#report"), native.out);
  assert.match(await page.textContent("#verdict"), /^FITS AFTER A CHANGE/);
}));

test("engine: the demo's JSON is the command line's", () => withPage(async (page) => {
  const native = runProgram(["fit", demo, "--format", "json"]);
  const answer = await ask(page, { arguments: ["fit", demo, "--format", "json"] });
  assert.equal(answer.code, native.code);
  assert.equal(answer.err, "");
  assertNear(JSON.parse(answer.out), JSON.parse(native.out));
}));

test("engine: every built-in set-up is judged as by the command line", () => withPage(async (page) => {
  const names = JSON.parse(runProgram(["presets", "list", "setup", "--format", "json"]).out).presets.map((p) => p.key);
  assert.ok(names.length > 5);
  for (const name of names) {
    const native = runProgram(["fit", name]);
    const answer = await ask(page, { arguments: ["fit", name] });
    assert.ok(native.code <= 1 && native.out !== "", name);
    assert.equal(answer.out, native.out, name);
    assert.equal(answer.code, native.code, name);
  }
}));

test("engine: a file comes in and drawings go out, and nothing stays behind", () => withPage(async (page) => {
  const text = runProgram(["presets", "show", demo]).out;
  const drawn = await ask(page, { arguments: ["draw", "mine.toml", "-o", "side.svg"], files: { "mine.toml": text } });
  assert.equal(drawn.code, 0, drawn.err);
  assert.match(drawn.files["side.svg"], /^<\?xml[^]*<\/svg>\s*$/);
  const later = await ask(page, { arguments: ["fit", "mine.toml"] });
  assert.equal(later.code, 3);
}));

test("engine: a broken file is refused in the words of the command line", () => withPage(async (page) => {
  const answer = await ask(page, { arguments: ["fit", "bad.toml"], files: { "bad.toml": "kind = \"setup\"\nname = \"x\n" } });
  assert.equal(answer.code, 3);
  assert.match(answer.err, /bad\.toml/);
  assert.match(answer.err, /line 2|:2/);
}));

test("page: its policy is strict", () => withPage(async (page) => {
  const policy = await page.getAttribute("meta[http-equiv='Content-Security-Policy']", "content");
  assert.match(policy, /default-src 'none'/);
  assert.doesNotMatch(policy, /unsafe-inline|'unsafe-eval'|https?:|\*/);
  assert.equal(await page.locator("script:not([src]), style, [style], [onclick], [onload]").count(), 0);
  const ran = await page.evaluate(async () => {
    window.ran = [];
    const inline = document.createElement("script");
    inline.textContent = "window.ran.push('a script in the page')";
    document.body.append(inline);
    setTimeout("window.ran.push('a text as a script')", 0);
    const picture = new Image();
    picture.onload = () => window.ran.push("a picture from elsewhere");
    picture.src = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=";
    await new Promise((done) => setTimeout(done, 200));
    return window.ran;
  });
  assert.deepEqual(ran, []);
  assert.equal(await page.getAttribute("html", "lang"), "en");
  assert.match(await page.title(), /bottoms out - Hitchwright$/);
}));

test("page: once loaded it opens again without a network", async () => {
  const own = await serveSite();
  try {
    await withPage(async (page, seen, context) => {
      await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
      await page.reload();
      await waitForAnswer(page);
      await own.close();
      await context.setOffline(true);
      await page.reload();
      await waitForAnswer(page);
      assert.equal(await page.textContent("#report"), runProgram(["fit", demo]).out);
    }, {}, own);
  } finally {
    await own.close();
  }
});

test("page: the canvas shows a drawing", () => withPage(async (page) => {
  const picture = await page.locator("#picture").screenshot();
  assert.ok(picture.length > 20000, `a picture of ${picture.length} bytes`);
}));
