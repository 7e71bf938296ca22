// How long the page takes: from its address to the first useful picture, and from an edit to everything computed anew and drawn.
//   node tests/web/bench.js loads [ROUNDS]    medians of so many rounds, default 5
//   node tests/web/bench.js edits
// Both print a table of docs/web.md.
// Nothing is judged. The browser draws by software, as in the tests. Loads are taken in turns, from a server on this machine.
import { cpus } from "node:os";
import { pathToFileURL } from "node:url";
import { demo, openBrowser, openPage, runProgram, serveSite, singleFile } from "./site.js";
import { settle, waitForReady } from "./steps.js";

const editsOfDemo = 12;
const viewport = { width: 1280, height: 800 };

const sorted = (numbers) => [...numbers].sort((a, b) => a - b);
const median = (numbers) => sorted(numbers)[Math.floor(numbers.length / 2)];
const say = (ms) => (ms < 100 ? ms.toFixed(1) : ms.toFixed(0));

/** In the page, before anything of it: when the first picture was drawn, when the words stood there, when all was at rest, and how long each frame took. */
function watchPage() {
  window.seen = { frames: [] };
  const ask = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (act) => ask((time) => {
    const before = performance.now();
    act(time);
    const after = performance.now();
    window.seen.frames.push(after - before);
    window.seen.picture ??= after;
    window.seen.rest = after;
  });
  const follow = () => {
    const report = document.getElementById("report");
    if (report && report.textContent !== "") window.seen.words ??= performance.now();
    else setTimeout(follow, 1);
  };
  follow();
}

async function load(context, address) {
  const { page } = await openPage(context, address);
  await waitForReady(page);
  await settle(page);
  return { page, ...(await page.evaluate(() => window.seen)) };
}

async function newContext(browser) {
  const context = await browser.newContext({ viewport });
  await context.addInitScript(watchPage);
  return context;
}

/** One load of each kind; times in ms since the navigation began. */
async function loadOnce(browser, site) {
  const context = await newContext(browser);
  const cold = await load(context, site.address);
  await cold.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await cold.page.close();
  const again = await load(context, site.address);
  await context.close();
  const alone = await newContext(browser);
  const file = await load(alone, pathToFileURL(singleFile).href);
  await alone.close();
  return { "from a server, nothing kept": cold, "again, from the service worker": again, "one file, file://": file };
}

/** Edits of one set-up: ms of the engine until all is computed anew (median, most), and of its first frame after that. */
async function edit(page, name) {
  const problems = await page.evaluate((setup) => window.hitchwright.ask("open", setup, ""), name);
  if (problems !== "") throw new Error(problems);
  await settle(page);
  const times = await page.evaluate(async (count) => {
    const engine = window.hitchwright;
    const drawn = JSON.parse(engine.ask("state")).places["drawn picture"] !== undefined;
    const [key, ...values] = drawn ? ["choices.turn_left_most", "31 deg", "32 deg"] : ["choices.working_pitch", "0.25 deg", "0.5 deg"];
    const all = [];
    for (let i = 0; i < count; ++i) {
      const begin = performance.now();
      const problems = engine.ask("change", key, values[i % 2]);
      const computed = performance.now() - begin;
      if (problems !== "") throw new Error(problems);
      window.seen.frames.length = 0;
      await new Promise((done) => {
        let last = 0;
        const rest = () => {
          if (last > 0 && window.seen.frames.length === last) return done();
          last = window.seen.frames.length;
          return setTimeout(rest, 50);
        };
        rest();
      });
      all.push({ computed, drawn: window.seen.frames[0] });
    }
    return all;
  }, editsOfDemo);
  const computed = times.map((t) => t.computed);
  return [median(computed), Math.max(...computed), median(times.map((t) => t.drawn))];
}

async function timeLoads(browser, site, rounds) {
  const loads = {};
  for (let i = 0; i < rounds; ++i) {
    for (const [kind, { picture, words, rest }] of Object.entries(await loadOnce(browser, site))) {
      loads[kind] ??= { picture: [], words: [], rest: [] };
      loads[kind].picture.push(picture);
      loads[kind].words.push(words);
      loads[kind].rest.push(rest);
    }
  }
  console.log("| opened | first picture, ms | words beside it, ms | at rest, ms |\n|---|---|---|---|");
  for (const [kind, times] of Object.entries(loads)) console.log(`| ${kind} | ${Object.values(times).map((t) => say(median(t))).join(" | ")} |`);
}

async function timeEdits(browser, site) {
  const context = await newContext(browser);
  const { page } = await load(context, site.address);
  // What is worked on in the rest of a frame is not part of it: none is wanted in the room "Cut".
  await page.keyboard.press("Control+3");
  const names = JSON.parse(runProgram(["presets", "list", "setup", "--format", "json"]).out).presets.map((p) => p.key);
  console.log("| set-up | computed anew, ms | slowest of them, ms | its frame, ms |\n|---|---|---|---|");
  const all = [];
  for (const name of [demo, ...names]) {
    const times = await edit(page, name);
    if (all.length === 0) console.log(`| first edits of the page, ${name} | ${times.map(say).join(" | ")} |`);
    else console.log(`| ${name} | ${times.map(say).join(" | ")} |`);
    all.push(times);
  }
  const line = (word, of) => `| ${word} | ${[0, 1, 2].map((i) => say(of(all.slice(1).map((t) => t[i])))).join(" | ")} |`;
  console.log(line("median", median) + "\n" + line("worst", (numbers) => Math.max(...numbers)));
  await context.close();
}

const [what = "loads", rounds = "5"] = process.argv.slice(2);
const site = await serveSite();
const browser = await openBrowser();
try {
  console.log(`${cpus()[0].model}, ${cpus().length} processors; Chromium ${browser.version()}, drawn by software\n`);
  await (what === "edits" ? timeEdits(browser, site) : timeLoads(browser, site, Number(rounds)));
} finally {
  await browser.close();
  await site.close();
}
