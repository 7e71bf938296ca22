// The page around the engine: loads it, gives it the canvas, keeps the text of the set-up beside it, and says in plain words what
// does not work. Numbers and sentences all come from the engine.
"use strict";

const canvas = byId("picture");
const demo = "compact-tiller-bottoms-out";

let engine = null;
let viewing = false; // the viewer is on the canvas
let shownSetup = demo; // the one shown as text, where there is no viewer
let shownRevision = -1;
let lastText = ""; // of the set-up, after the last change that the engine survived
let crashed = false;

function say(text, alarm) {
  const said = byId("said");
  said.textContent = text;
  said.classList.toggle("alarm", Boolean(alarm));
  said.hidden = text === "";
}

// What a set-up's text is called as a file: letters and digits of its title.
function fileName() {
  const title = document.title.replace(/^\* /, "").replace(/ - Hitchwright$/, "");
  const words = title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
  return (words || "setup").slice(0, 60) + ".toml";
}

function download(name, text, type) {
  const link = document.createElement("a");
  const url = URL.createObjectURL(new Blob([text], { type }));
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 600000); // some browsers ask first
}

const downloadToml = (name, text) => download(name, text, "application/toml");

// The engine's memory is not to be trusted any more; what the page kept is.
function showCrash(reason) {
  if (crashed) return;
  crashed = true;
  engine = null;
  canvas.hidden = true;
  for (const dialog of document.querySelectorAll("dialog[open]")) dialog.close(); // nothing behind one can be reached
  for (const name of ["open", "save", "take", "copy-link"]) byId(name).disabled = true;
  const kept = readWork(current.name) ? " What was done up to then is kept: it comes back." : "";
  say("The program has stopped by an error of its own (" + reason + "). Nothing was sent anywhere. Reload the page to go on." + kept, true);
  if (lastText === "") return;
  byId("rescue-text").value = lastText;
  byId("rescue").hidden = false;
}

// Runs something of the engine's; what it throws is a crash, never an answer.
function guard(work) {
  if (crashed || engine === null) return undefined;
  try {
    return work(engine);
  } catch (error) {
    showCrash(String(error && error.message ? error.message : error).slice(0, 200));
    return undefined;
  }
}

// After the frames of an event: the words beside the canvas follow the answer.
function settle(revision) {
  if (revision === shownRevision) return;
  shownRevision = revision;
  dropPages();
  guard((e) => {
    const report = e.ask("report");
    lastText = e.ask("setup") || lastText;
    const state = JSON.parse(e.ask("state"));
    document.title = (state.setup || "Set-up") + " - Hitchwright";
    byId("verdict").textContent = state.verdict_text || "";
    byId("report").textContent = report;
    keepWork();
    endTries();
  });
}

// As many pixels as the screen has.
function canvasSize() {
  const density = window.devicePixelRatio || 1;
  return [Math.max(1, Math.round(canvas.clientWidth * density)), Math.max(1, Math.round(canvas.clientHeight * density)), density];
}

function watchSize() {
  const follow = () => guard((e) => e.call("resize", ...canvasSize()));
  new ResizeObserver(follow).observe(canvas);
  window.addEventListener("resize", follow); // the density alone may change
}

// Keys on the canvas with which a browser would scroll the page, search it, save it, or open another one or another tab. Those that
// load, close or zoom it stay the browser's.
function isViewersKey(event) {
  if (event.type === "keypress") return true;
  if (event.altKey || event.metaKey) return false;
  if (event.ctrlKey) return /^[abdeosuyz1-8]$/i.test(event.key);
  return /^(Arrow|Page|Home$|End$|F[123467]$)/.test(event.key);
}

// The engine takes every key of the window: what is typed beside the canvas must not reach it. On the canvas Tab is the viewer's own,
// so that another key leads out of it.
function keepKeysToCanvas() {
  for (const kind of ["keydown", "keypress"]) {
    window.addEventListener(kind, (event) => {
      const leaves = kind === "keydown" && event.key === "Enter" && event.ctrlKey;
      if (leaves) byId("answer").focus();
      if (leaves || document.activeElement !== canvas) event.stopImmediatePropagation();
      else if (isViewersKey(event)) event.preventDefault();
    }, true);
  }
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("pointerdown", () => canvas.focus({ preventScroll: true }));
}

function watchButtons() {
  byId("open").addEventListener("click", () => byId("file").click());
  byId("file").addEventListener("change", (event) => {
    const files = [...event.target.files];
    event.target.value = "";
    if (files.length > 0) openFiles(files);
  });
  byId("save").addEventListener("click", downloadSetup);
  byId("rescue-save").addEventListener("click", () => downloadToml(fileName(), lastText));
  watchDrops();
  watchSetups();
  watchDownloads();
}

const enableButtons = (names) => names.forEach((name) => (byId(name).disabled = false));

async function unpack(bytes) {
  const packed = new Uint8Array(bytes, 0, 2);
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) return bytes; // a server did
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

// The page of one file has the engine in it, as letters.
const engineInside = byId("engine-bytes");

async function fetchPackedEngine() {
  if (engineInside !== null) {
    const letters = atob(engineInside.textContent);
    engineInside.remove();
    return Uint8Array.from(letters, (letter) => letter.charCodeAt(0)).buffer;
  }
  const answer = await fetch("engine.bin");
  if (!answer.ok) throw new Error("the server answered " + answer.status);
  return answer.arrayBuffer();
}

// What is missing here, as a sentence; empty: nothing.
function findMissing() {
  if (typeof WebAssembly !== "object" || typeof DecompressionStream !== "function" || typeof ResizeObserver !== "function") {
    return "This browser is too old for the page: it needs one of 2023 or later (WebAssembly and DecompressionStream).";
  }
  if (typeof createEngine !== "function") return "A file of the page is missing: engine.js. Load the page again.";
  return "";
}

// The answer as text alone. Gives the engine's problems; empty: it stands there.
function showReport(e, setup) {
  const answer = e.answer({ arguments: ["fit", setup], variables });
  if (answer.out === "") return answer.err;
  byId("report").textContent = answer.out;
  shownSetup = setup;
  return "";
}

// Without a drawing the answer is still there as text.
async function showTextOnly(chosen) {
  canvas.hidden = true;
  say("This browser gives no WebGL, so there is no drawing here; the answer stands below as text. Often the browser's settings turn it on (hardware acceleration).", true);
  guard((e) => showReport(e, demo));
  watchButtons();
  await beginWork(chosen);
  endTries();
  enableButtons(["open", "take", "setups"]);
  await openAddress();
}

async function start() {
  const missing = findMissing();
  if (missing !== "") return say(missing, true);
  const chosen = chooseWork(); // while the engine is loaded
  let module;
  try {
    module = await WebAssembly.compile(await unpack(await fetchPackedEngine()));
  } catch (error) {
    const way = engineInside === null ? "Load the page again when there is a network." : "The file of the page is not whole: copy it again.";
    return say("The engine could not be loaded (" + error.message + "). " + way, true);
  }
  const keyboard = makeKeyboard(canvas, guard);
  keepKeysToCanvas();
  engine = await createEngine({
    canvas,
    settled: settle,
    takeWithYou: () => setTimeout(showExports), // not while the engine draws
    onAbort: (what) => showCrash(String(what).slice(0, 200)),
    instantiateWasm: (imports, done) => {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module), (error) => showCrash(error.message));
      return {};
    },
  });
  window.hitchwright = engine; // for the tests, and for whoever wants answers by the console
  window.addEventListener("error", (event) => {
    if (event.error instanceof WebAssembly.RuntimeError) showCrash(event.message);
  });
  say("");
  viewing = Boolean(guard((e) => e.call("start", demo, ...canvasSize())));
  if (!viewing) return crashed ? undefined : showTextOnly(chosen);
  watchSize();
  watchFingers(canvas, guard, () => keyboard.finish(), () => keyboard.follow());
  watchButtons();
  await beginWork(chosen);
  enableButtons(["open", "save", "take", "copy-link", "setups"]);
  canvas.focus({ preventScroll: true });
  await openAddress();
}

function keepOffline() {
  if (engineInside !== null || !("serviceWorker" in navigator) || !window.isSecureContext) return;
  navigator.serviceWorker.register("service-worker.js").catch(() => {
    // No room or not allowed: the page works as long as there is a network.
  });
}

keepOffline();
start();
