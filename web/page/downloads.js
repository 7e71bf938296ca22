// "Print and save": what can be taken along of the set-up shown, as a print, a download, or a text on the clipboard. What there is, what
// it is called and what is in it, the engine says (web/page_exports.h).
"use strict";

const pictureDots = 300; // of a PNG, to the inch of paper
const typeOf = { ".html": "text/html", ".svg": "image/svg+xml", ".csv": "text/csv", ".json": "application/json" };

let leftOut = ""; // what was typed and not taken, as a sentence

function sayTaken(sentence) {
  byId("take-said").textContent = [sentence, leftOut].filter(Boolean).join(" ");
}

function saveAs(name, content, type) {
  download(name, content, type);
  sayTaken(`${name} was handed to the browser's downloads.`);
}

// null: there is none, and the page has said why.
function makeExport(kind, ending) {
  const a4 = byId("paper").value === "a4" ? 1 : 0;
  const made = guard((e) => JSON.parse(e.ask("export", shownSetup, kind.name, ending, a4)));
  if (made && made.error !== "") showRefusal("This was not made: " + kind.word, made.error);
  return made && made.error === "" ? { ...made, name: plainName(made.name) } : null;
}

function saveExport(kind, ending) {
  const made = makeExport(kind, ending);
  if (made) saveAs(made.name, made.text, typeOf[ending]);
}

function printExport(kind) {
  const made = makeExport(kind, ".html");
  if (!made) return;
  sayTaken(printPages(made.text) ? "Printed with a scale of 100 % a drawing is to its scale." : "This browser does not print. Save the file, and print it elsewhere.");
}

// The browser draws the SVG; the address that is made for it here is the only picture of another kind the policy lets in.
async function paintSvg(text) {
  const millimetres = /<svg[^>]* width="([\d.]+)mm" height="([\d.]+)mm"/.exec(text).slice(1);
  const [width, height] = millimetres.map((length) => Math.round((length / 25.4) * pictureDots));
  const sheet = document.createElement("canvas");
  Object.assign(sheet, { width, height });
  const url = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    sheet.getContext("2d", { alpha: false }).drawImage(image, 0, 0, width, height);
  } finally {
    URL.revokeObjectURL(url);
  }
  return withDots(await takePicture(sheet), pictureDots);
}

// null of the browser: it has no room.
async function takePicture(canvas) {
  const taken = await new Promise((done) => canvas.toBlob(done, "image/png"));
  if (taken === null) throw new Error("it has no room for it");
  return taken;
}

async function savePng(kind) {
  const made = makeExport(kind, ".svg");
  if (!made) return;
  try {
    saveAs(made.name.replace(/svg$/, "png"), await paintSvg(made.text), "image/png");
  } catch (error) {
    showRefusal("This was not made: " + kind.word, `The browser could not draw it (${error.message}). Take the SVG.`);
  }
}

// A canvas keeps its picture until the browser shows it, so it is drawn and taken in one go.
async function saveWindow(kind) {
  try {
    const taken = guard((e) => (e.call("draw"), takePicture(byId("picture"))));
    if (taken) saveAs(plainName(kind.file), await taken, "image/png");
  } catch (error) {
    showRefusal("This was not made: " + kind.word, `The browser gave no picture of it (${error.message}).`);
  }
}

const readAnswer = () => guard((e) => e.ask("report")) || byId("report").textContent;

async function copyAnswer() {
  try {
    await navigator.clipboard.writeText(readAnswer());
    sayTaken("The answer is on the clipboard as text.");
  } catch {
    sayTaken("The browser gives no clipboard. The text stands below the drawing, to be copied from there; or save it as a file.");
  }
}

const saveAnswer = (name) => saveAs(plainName(name), readAnswer(), "text/plain");

// acts: what a button says -> what it does.
function makeTakeRow(word, hint, acts) {
  const row = document.createElement("li");
  const words = document.createElement("p");
  const head = document.createElement("strong");
  head.textContent = word;
  words.append(head, `: ${hint}.`);
  row.append(words);
  for (const [label, act] of Object.entries(acts)) {
    const button = makeButton(label, act);
    button.setAttribute("aria-label", `${label}: ${word}`);
    row.append(button);
  }
  return row;
}

function listActs(kind) {
  const acts = {};
  const drawing = kind.endings.includes(".svg"); // which is the file of it, rather than HTML
  if (kind.endings.includes(".html")) acts["Print or PDF"] = () => printExport(kind);
  if (drawing) acts["PNG"] = () => savePng(kind);
  for (const ending of kind.endings) {
    if (!drawing || ending !== ".html") acts[ending.slice(1).toUpperCase()] = () => saveExport(kind, ending);
  }
  return acts;
}

// Paper follows the units shown until one is chosen.
function showExports() {
  const all = guard((e) => JSON.parse(e.ask("exports", shownSetup)));
  if (!all || byId("take-box").open) return;
  const paper = byId("paper");
  if (paper.dataset.chosen !== "yes") paper.value = all.a4 ? "a4" : "letter";
  const answer = makeTakeRow("The answer as text", "What stands below the drawing", { Copy: copyAnswer, TXT: () => saveAnswer(all.answer) });
  const rows = all.kinds.map((kind) => makeTakeRow(kind.word, kind.hint, listActs(kind)));
  if (viewing) rows.push(makeTakeRow(all.window.word, all.window.hint, { PNG: () => saveWindow(all.window) }));
  byId("take-list").replaceChildren(...rows, answer);
  const { refused } = (viewing && guard(readShown)) || { refused: [] };
  leftOut = refused.length > 0 ? "Typed and not taken, so not in what is made: " + refused.join("; ") + "." : "";
  sayTaken("");
  byId("take-box").showModal();
}

function watchDownloads() {
  byId("take").addEventListener("click", showExports);
  byId("paper").addEventListener("change", () => (byId("paper").dataset.chosen = "yes"));
}
