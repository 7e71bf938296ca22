// Prints and downloads: the bytes of the command line, the pages of its PDF, and what is said where the browser refuses.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { browser, site } from "./running.js";
import { assertNear, demo, runProgram } from "./site.js";
import { asUploads, change, cutKey, findPlace, openReady, readState, settle, waitForRefusal, waitForTitle } from "./steps.js";

const drawnDemo = "utility-drawn-cutter-short";

let folder;

before(() => {
  folder = mkdtempSync(join(tmpdir(), "hitchwright-print-"));
});

after(() => rmSync(folder, { recursive: true }));

/** The page with a print that is only counted, since a browser without a screen has none. */
async function withPage(check, options = {}, prepare = undefined) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, acceptDownloads: true, ...options });
  try {
    await context.addInitScript(() => {
      window.prints = 0;
      window.print = () => ++window.prints;
    });
    if (prepare) await context.addInitScript(prepare);
    const { page, seen } = await openReady(context, site.address);
    await check(page, context);
    assert.deepEqual(seen.errors, []);
    assert.equal(await page.locator("script:not([src]), style, [style]").count(), 0);
    for (const url of seen.requests) assert.ok(url.startsWith(site.address) || url.startsWith("blob:" + site.address), url);
  } finally {
    await context.close();
  }
}

// The browser and the program look at the clock by themselves.
const withoutDay = (text) => text.replaceAll(/printed \d{4}-\d{2}-\d{2}/g, "printed on that day");

/** What the program writes with these words, or prints. */
function make(words, ending = "") {
  const file = join(folder, "made" + ending);
  const ran = runProgram(ending === "" ? words : [...words, "-o", file], { cwd: folder });
  return ending === "" ? ran.out : readFileSync(file, "utf8");
}

/** The pages of a PDF: {width, height, words: [{text, x, y}]}, points from the upper left corner. */
function readPdf(file) {
  const read = execFileSync("pdftotext", ["-bbox", file, "-"], { encoding: "utf8", maxBuffer: 1e8 });
  return read.split("<page ").slice(1).map((page) => ({
    width: Number(/width="([\d.]+)"/.exec(page)[1]),
    height: Number(/height="([\d.]+)"/.exec(page)[1]),
    words: [...page.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)"[^>]*>(.*)<\/word>/g)].map(([, x, y, text]) => ({ text, x: Number(x), y: Number(y) })),
  }));
}

// pt. A browser rounds the paper to its pixels; a line has the width that the layout reckoned with, its words share it a little otherwise.
const pixel = 0.75;
const across = 3;
const down = 0.1;

/** The same words in the same places on pages of the same size. */
function assertSamePages(printed, wanted, which) {
  assert.equal(printed.length, wanted.length, which);
  wanted.forEach((page, i) => {
    const here = `${which}, page ${i + 1}`;
    assert.ok(Math.abs(printed[i].width - page.width) < pixel && Math.abs(printed[i].height - page.height) < pixel, here);
    assert.ok(page.words.length > 0, here);
    const left = [...printed[i].words];
    for (const word of page.words) {
      const found = left.findIndex((w) => w.text === word.text && Math.abs(w.x - word.x) < across && Math.abs(w.y - word.y) < down);
      assert.ok(found >= 0, `${here}: "${word.text}" at ${word.x} ${word.y}`);
      left.splice(found, 1);
    }
    assert.deepEqual(left, [], here);
  });
}

async function openMenu(page) {
  await page.click("#take");
  await page.waitForSelector("#take-box[open]");
}

const press = (page, label, word) => page.click(`#take-list button[aria-label="${label}: ${word}"]`);

async function save(page, label, word) {
  const [download] = await Promise.all([page.waitForEvent("download"), press(page, label, word)]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

async function openSetup(page, name) {
  const text = runProgram(["presets", "show", name]).out;
  const title = /^name = "(.*)"$/m.exec(text)[1];
  writeFileSync(join(folder, name + ".toml"), text);
  await page.setInputFiles("#file", asUploads({ [name + ".toml"]: text }));
  await waitForTitle(page, title);
}

/** Prints as the browser does, and compares page by page with the PDF of the program. */
async function checkPrint(page, word, words, which) {
  await press(page, "Print or PDF", word);
  const printed = join(folder, "printed.pdf"), wanted = join(folder, "wanted.pdf");
  await page.pdf({ path: printed, preferCSSPageSize: true });
  assert.equal(runProgram([...words, "-o", wanted], { cwd: folder }).code, 0);
  const pages = readPdf(wanted);
  assertSamePages(readPdf(printed), pages, which);
  return pages.length;
}

test("print: the sheet has the pages and the lines of the program's PDF, on letter and on A4", () => withPage(async (page) => {
  await openMenu(page);
  assert.equal(await page.inputValue("#paper"), "letter");
  assert.ok(await checkPrint(page, "Set-up sheet", ["sheet", demo], "letter") >= 2);
  await page.selectOption("#paper", "a4");
  await checkPrint(page, "Set-up sheet", ["sheet", demo, "--paper", "a4"], "a4");
  assert.equal(await page.evaluate(() => window.prints), 2);
}));

test("print: the sheet has every word that the program's sheet has as text", () => withPage(async (page) => {
  await openMenu(page);
  await press(page, "Print or PDF", "Set-up sheet");
  const shown = await page.evaluate(() => [...document.querySelectorAll("#pages text")].map((t) => t.textContent).join(" "));
  const { lines } = JSON.parse(runProgram(["sheet", demo, "--format", "json"]).out);
  assert.ok(lines.length > 20);
  for (const { what, target } of lines) {
    for (const word of (what + " " + target).split(/\s+/)) assert.ok(shown.includes(word), `${word} of "${what}: ${target}"`);
  }
}));

test("print: the measuring card, the worksheet and the picture are those of the program too", () => withPage(async (page) => {
  await openMenu(page);
  await checkPrint(page, "Measuring card", ["measure", demo], "card");
  await checkPrint(page, "Worksheet", ["sheet", demo, "--worksheet"], "worksheet");
  assert.equal(await checkPrint(page, "Picture", ["draw", demo], "picture"), 1);
}));

test("print: a drawn implement's file with a change, as it is shown", () => withPage(async (page) => {
  await openSetup(page, drawnDemo);
  await change(page, "choices.turn_left_most", "40");
  await openMenu(page);
  await checkPrint(page, "Set-up sheet", ["sheet", drawnDemo + ".toml", "--set", "choices.turn_left_most=40"], "drawn");
}));

test("print: the pages are there for one print, then the browser's own is the answer as text again", () => withPage(async (page) => {
  await openMenu(page);
  await press(page, "Print or PDF", "Set-up sheet");
  await page.emulateMedia({ media: "print" });
  assert.deepEqual(await page.evaluate(() => [...document.body.children].filter((e) => getComputedStyle(e).display !== "none").map((e) => e.id)), ["pages"]);
  await page.emulateMedia({ media: "screen" });
  assert.equal(await page.isVisible("#pages"), false);
  await page.click("#take-box [data-close]");
  assert.equal(await page.locator("#pages > *").count(), 0);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.isVisible("#report"), true);
  assert.equal(await page.isVisible("header"), false);
}));

test("downloads: the files of a mounted set-up are the program's byte for byte, with the changes", () => withPage(async (page) => {
  const edit = cutKey + "=3.625 in";
  await change(page, ...edit.split("="));
  await openMenu(page);
  const set = ["--set", edit];
  const wanted = [
    ["SVG", "Picture", "picture.svg", make(["draw", demo, ...set], ".svg")],
    ["SVG", "Curves over the travel", "travel.svg", make(["draw", demo, "--view", "travel", ...set], ".svg")],
    ["HTML", "Set-up sheet", "sheet.html", make(["sheet", demo, ...set], ".html")],
    ["HTML", "Measuring card, empty", "card-empty.html", make(["measure", demo, "--blank", ...set], ".html")],
    ["CSV", "Findings, a table", "findings.csv", make(["fit", demo, "--format", "csv", ...set])],
    ["CSV", "Travel, a table", "sweep.csv", make(["sweep", demo, "--format", "csv", ...set])],
    ["CSV", "Holes, a table", "holes.csv", make(["holes", demo, "--format", "csv", ...set])],
    ["CSV", "Loads, a table", "loads.csv", make(["load", demo, "--format", "csv", ...set])],
    ["CSV", "Shafts, a table", "shafts.csv", make(["shafts", demo, "--format", "csv", ...set])],
  ];
  for (const [label, word, name, text] of wanted) {
    const saved = await save(page, label, word);
    assert.equal(saved.name, demo + "-" + name);
    assert.ok(text.length > 100, name);
    assert.equal(withoutDay(saved.bytes.toString("utf8")), withoutDay(text), name);
    assert.equal(await page.textContent("#take-said"), `${demo}-${name} was handed to the browser's downloads.`);
  }
  // Numbers of all digits are those of two compilers.
  const analysis = await save(page, "JSON", "Whole analysis");
  assert.equal(analysis.name, demo + "-analysis.json");
  const native = make(["fit", demo, "--format", "json", ...set]), text = analysis.bytes.toString("utf8");
  assertNear(JSON.parse(text), JSON.parse(native));
  assert.equal(text.replaceAll(/-?\d[-+.e\d]*/g, "0"), native.replaceAll(/-?\d[-+.e\d]*/g, "0"));
}));

test("downloads: the tables of a drawn set-up", () => withPage(async (page) => {
  await openSetup(page, drawnDemo);
  await openMenu(page);
  const file = drawnDemo + ".toml";
  for (const [label, word, text] of [
    ["CSV", "Drawbar positions, a table", make(["drawbar", file, "--format", "csv"])],
    ["CSV", "Turns and dips, a table", make(["envelope", file, "--format", "csv"])],
    ["SVG", "Turn and dip chart", make(["draw", file, "--view", "envelope"], ".svg")],
  ]) assert.equal((await save(page, label, word)).bytes.toString("utf8"), text, word);
  assert.equal(await page.locator('#take-list button[aria-label$=": Travel, a table"]').count(), 0);
}));

test("downloads: the PNG has 300 dots to the inch of its paper, and the picture on it", () => withPage(async (page) => {
  await openMenu(page);
  const { name, bytes } = await save(page, "PNG", "Picture");
  assert.equal(name, demo + "-picture.png");
  assert.equal(bytes.subarray(1, 4).toString("latin1"), "PNG");
  assert.deepEqual([bytes.readUInt32BE(16), bytes.readUInt32BE(20)], [3300, 2550]);
  // "pHYs" once, behind the head: 300 dots to the inch are 11811 to the metre.
  assert.equal(bytes.indexOf("pHYs"), 37);
  assert.equal(bytes.indexOf("pHYs", 38), -1);
  assert.deepEqual([bytes.readUInt32BE(33), bytes.readUInt32BE(41), bytes.readUInt32BE(45), bytes[49]], [9, 11811, 11811, 1]);
  const sum = execFileSync("python3", ["-c", "import sys, zlib; print(zlib.crc32(sys.stdin.buffer.read()))"], { input: bytes.subarray(37, 50), encoding: "utf8" });
  assert.equal(bytes.readUInt32BE(50), Number(sum));
  // What a browser makes of it again: white round the edge, ink and colours inside.
  const seen = await page.evaluate(async (list) => {
    const image = await createImageBitmap(new Blob([new Uint8Array(list)], { type: "image/png" }));
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext("2d");
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    const colours = new Set();
    let ink = 0;
    for (let i = 0; i < data.length; i += 4) {
      if (data[i] < 96) ++ink;
      if (i % 16 === 0) colours.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
    }
    return { corner: [...data.slice(0, 4)], ink: ink / (data.length / 4), colours: colours.size };
  }, [...bytes]);
  assert.deepEqual(seen.corner, [255, 255, 255, 255]);
  assert.ok(seen.ink > 0.005 && seen.ink < 0.5, `ink ${seen.ink}`);
  assert.ok(seen.colours > 100, `${seen.colours} colours`);
}));

test("downloads: \"This window\" is what the canvas shows, without the question", () => withPage(async (page) => {
  const shown = await page.locator("#picture").screenshot({ caret: "initial" }); // which else leaves styles of its own in the page
  await openMenu(page);
  const { name, bytes } = await save(page, "PNG", "This window");
  assert.equal(name, demo + "-screen.png");
  // Both through the same decoder: share of the pixels that are near each other, and how many colours there are.
  const { size, wanted, near, colours } = await page.evaluate(async ([one, other]) => {
    const [a, b] = await Promise.all([one, other].map(async (list) => {
      const image = await createImageBitmap(new Blob([new Uint8Array(list)], { type: "image/png" }));
      const canvas = new OffscreenCanvas(image.width, image.height), context = canvas.getContext("2d");
      context.drawImage(image, 0, 0);
      return context.getImageData(0, 0, image.width, image.height);
    }));
    const seen = new Set();
    let same = 0;
    for (let i = 0; i < a.data.length; i += 4) {
      same += [0, 1, 2].every((c) => Math.abs(a.data[i + c] - b.data[i + c]) < 16);
      seen.add((b.data[i] << 16) | (b.data[i + 1] << 8) | b.data[i + 2]);
    }
    return { wanted: [a.width, a.height], size: [b.width, b.height], near: same / (a.data.length / 4), colours: seen.size };
  }, [[...shown], [...bytes]]);
  assert.deepEqual(size, wanted);
  assert.ok(near > 0.98, `${near} of the pixels`);
  assert.ok(colours > 100, `${colours} colours`);
}));

test("downloads: the answer is copied as text; where the browser refuses, it is said, and it can be saved", () => withPage(async (page, context) => {
  const native = runProgram(["fit", demo]).out;
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await openMenu(page);
  await press(page, "Copy", "The answer as text");
  await page.waitForFunction(() => /on the clipboard/.test(document.getElementById("take-said").textContent));
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), native);
  await page.evaluate(() => { navigator.clipboard.writeText = () => Promise.reject(new Error("no")); });
  await press(page, "Copy", "The answer as text");
  await page.waitForFunction(() => /gives no clipboard/.test(document.getElementById("take-said").textContent));
  const saved = await save(page, "TXT", "The answer as text");
  assert.equal(saved.name, demo + "-answer.txt");
  assert.equal(saved.bytes.toString("utf8"), native);
}));

test("downloads: \"Take with you\" of the viewer opens them, and no file is left where nobody sees it", () => withPage(async (page) => {
  await page.focus("#picture");
  await page.keyboard.press("Control+e");
  await page.waitForSelector("#take-box[open]");
  await save(page, "CSV", "Findings, a table");
  await save(page, "SVG", "Picture");
  await press(page, "Print or PDF", "Set-up sheet");
  const left = await page.evaluate(() => window.hitchwright.FS.readdir("/tmp").concat(window.hitchwright.FS.readdir(window.hitchwright.FS.cwd())).filter((n) => !n.startsWith(".")));
  assert.deepEqual(left, []);
  await page.keyboard.press("Escape");
  await change(page, cutKey, "1 in");
}));

test("downloads: a set-up that is in no file yet is printed and saved with its changes too", () => withPage(async (page) => {
  const text = runProgram(["presets", "show", "compact-box-blade"]).out;
  const kept = `kind = "changes"\nversion = 1\nsetup = ""\ntitle = "A pair of the yard"\nmark = ""\ndraft = ${JSON.stringify(text)}\nsets = ["choices.lift_stop=25 in"]\n`;
  assert.equal(await page.evaluate((changes) => window.hitchwright.ask("open", "", changes), kept), "");
  await page.waitForFunction(() => /box blade/i.test(document.getElementById("report").textContent));
  assert.equal((await readState(page)).edits.length, 1);
  writeFileSync(join(folder, "pair.toml"), text);
  const set = ["--set", "choices.lift_stop=25 in"];
  await openMenu(page);
  await checkPrint(page, "Set-up sheet", ["sheet", "pair.toml", ...set], "pair");
  const saved = await save(page, "CSV", "Findings, a table");
  assert.equal(saved.name, "A pair of the yard-findings.csv");
  assert.equal(saved.bytes.toString("utf8"), make(["fit", "pair.toml", "--format", "csv", ...set]));
  assert.deepEqual(await page.evaluate(() => window.hitchwright.FS.readdir(window.hitchwright.FS.cwd()).filter((n) => n.length > 2)), []);
  assert.equal(JSON.parse(await page.evaluate(() => window.hitchwright.ask("work"))).drafted, true);
}));

test("downloads: what cannot be made is refused in words", () => withPage(async (page) => {
  await openMenu(page);
  await page.evaluate(() => {
    const { ask } = window.hitchwright;
    window.hitchwright.ask = (name, ...more) => (name === "export" ? JSON.stringify({ name: "x", text: "", error: "The files were changed since they were read." }) : ask(name, ...more));
  });
  await press(page, "CSV", "Findings, a table");
  assert.match(await waitForRefusal(page), /This was not made: Findings, a table\nThe files were changed/);
}));

test("print: a browser that does not print says so, one that cannot draw the PNG too", () => withPage(async (page) => {
  await page.evaluate(() => {
    window.print = undefined;
    HTMLCanvasElement.prototype.toBlob = (done) => done(null);
  });
  await openMenu(page);
  await press(page, "Print or PDF", "Set-up sheet");
  await page.waitForFunction(() => /does not print/.test(document.getElementById("take-said").textContent));
  await press(page, "PNG", "Picture");
  assert.match(await waitForRefusal(page), /could not draw it.*Take the SVG/);
}));

test("print: the pages of a set-up go with it, and a print of the browser's own shows no question", () => withPage(async (page) => {
  await openMenu(page);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.evaluate(() => getComputedStyle(document.getElementById("take-box")).display), "none");
  await page.emulateMedia({ media: "screen" });
  await press(page, "Print or PDF", "Set-up sheet");
  assert.notEqual(await page.locator("#pages > *").count(), 0);
  const other = runProgram(["presets", "show", "compact-box-blade"]).out;
  await page.setInputFiles("#file", asUploads({ "blade.toml": other })); // no pointer and no key
  await waitForTitle(page, /^name = "(.*)"$/m.exec(other)[1]);
  assert.equal(await page.locator("#pages > *").count(), 0);
  assert.equal(await page.locator("dialog[open], body.prints").count(), 0);
}));

test("downloads: what was typed and not taken is named", () => withPage(async (page) => {
  await page.mouse.click(...await findPlace(page, "find"));
  await page.keyboard.type("cut off the tractor half");
  await settle(page);
  await page.mouse.click(...await findPlace(page, cutKey));
  await page.keyboard.press("Control+a");
  await page.keyboard.type("12 parsecs");
  await page.keyboard.press("Enter");
  await settle(page);
  await openMenu(page);
  assert.match(await page.textContent("#take-said"), /Typed and not taken.*12 parsecs/);
}));

test("downloads: a crash of the engine is said in sight, with the way out", () => withPage(async (page) => {
  await openMenu(page);
  await page.evaluate(() => { window.hitchwright._hitchwright_export = () => { throw new WebAssembly.RuntimeError("unreachable"); }; });
  await press(page, "CSV", "Findings, a table");
  assert.match(await page.textContent("#said"), /stopped by an error of its own/);
  assert.equal(await page.locator("dialog[open]").count(), 0);
  await page.click("#rescue-save", { trial: true });
}));

test("print: names that people type stay text", () => withPage(async (page) => {
  const tail = "</text></svg></section><script>window.ran = 1</script><img src=x onerror=window.ran=1>";
  const text = runProgram(["presets", "show", "utility-cutter-fits"]).out.replace(/^name = ".*"$/m, `name = "${tail}"`);
  await page.setInputFiles("#file", asUploads({ "named.toml": text }));
  await waitForTitle(page, tail);
  await openMenu(page);
  await press(page, "Print or PDF", "Set-up sheet");
  assert.ok(await page.evaluate((t) => [...document.querySelectorAll("#pages title")].some((e) => e.textContent.includes(t)), tail));
  const names = await page.evaluate(() => [...new Set([...document.querySelectorAll("#pages *")].map((e) => e.localName))].sort());
  assert.deepEqual(names.filter((n) => !["circle", "desc", "g", "path", "rect", "section", "svg", "text", "title"].includes(n)), []);
  assert.equal(await page.evaluate(() => window.ran), undefined);
}));

test("print: without WebGL the sheet of what stands there as text", () => withPage(async (page) => {
  await openMenu(page);
  await checkPrint(page, "Set-up sheet", ["sheet", demo], "without WebGL");
  await page.click("#take-box [data-close]");
  const text = runProgram(["presets", "show", drawnDemo]).out;
  writeFileSync(join(folder, drawnDemo + ".toml"), text);
  await page.setInputFiles("#file", asUploads({ [drawnDemo + ".toml"]: text }));
  await page.waitForFunction(() => /drawbar/i.test(document.getElementById("report").textContent));
  await openMenu(page);
  assert.equal((await save(page, "CSV", "Drawbar positions, a table")).bytes.toString("utf8"), make(["drawbar", drawnDemo + ".toml", "--format", "csv"]));
}, {}, () => { HTMLCanvasElement.prototype.getContext = () => null; }));

for (const [width, height] of [[360, 640], [1280, 800]]) {
  test(`downloads: the menu at ${width}x${height} is for fingers, within the screen, and the header is one row`, () => withPage(async (page) => {
    assert.ok((await page.locator("header").boundingBox()).height < 64);
    await openMenu(page);
    const found = await page.evaluate(() => {
      const millimetre = 96 / 25.4;
      const targets = [...document.querySelectorAll("#take-box button, #take-box select, header button")];
      const small = targets.filter((e) => {
        const box = e.getBoundingClientRect();
        return box.height < 9 * millimetre || box.width < 9 * millimetre;
      });
      const inside = [...document.querySelectorAll("#take-box *")].filter((e) => e.getBoundingClientRect().right > window.innerWidth);
      return { count: targets.length, small: small.map((e) => e.outerHTML), outside: inside.map((e) => e.outerHTML), wide: document.documentElement.scrollWidth };
    });
    assert.ok(found.count > 20);
    assert.deepEqual(found.small, []);
    assert.deepEqual(found.outside, []);
    assert.ok(found.wide <= width);
  }, { viewport: { width, height }, hasTouch: width < 1000 }));
}
