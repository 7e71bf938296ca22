// The set-up shown and what is kept of it: after each change, in the browser's storage, under a name that this window alone has.
// What is left for another one stays in the list of set-ups.
"use strict";

const current = { name: "", root: "", setup: "", drafted: false, owner: "", files: "" };
let savedText = ""; // as it was last saved as a file
let keepTrouble = "";

const relativeName = (path) => (path.startsWith(current.root) ? path.slice(current.root.length) : "opened/" + path.slice(path.lastIndexOf("/") + 1));

function readTextFile(e, path) {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(e.FS.readFile(path));
  } catch {
    return null; // no text: no set-up needs it
  }
}

function collectFiles(e, folder, files) {
  for (const name of listFolder(e, folder)) {
    const path = folder + name;
    const text = isFolder(e, path) ? collectFiles(e, path + "/", files) : readTextFile(e, path);
    if (isText(text) && text.length < mostBytes) files[relativeName(path)] = text;
  }
}

// The set-up's own file and all that stand beside it, by their names below its folder.
function listOwnFiles(setup = current.setup) {
  const files = {};
  guard((e) => {
    if (current.root === "") return;
    collectFiles(e, current.root, files);
    if (!setup.startsWith("/") || setup.startsWith(current.root)) return;
    const own = readTextFile(e, setup); // saved from the viewer into some other folder
    if (own !== null) files[relativeName(setup)] = own;
  });
  return files;
}

// What the set-up needs besides its own file: name without a folder -> text.
function listOtherFiles() {
  const own = current.setup.startsWith("/") ? relativeName(current.setup) : "";
  const others = Object.entries(listOwnFiles()).filter(([file]) => file !== own);
  return Object.fromEntries(others.map(([file, text]) => [file.slice(file.lastIndexOf("/") + 1), text]));
}

// What the viewer shows; null: there is no viewer.
function readShown(e) {
  const text = e.ask("work");
  return text === "" ? null : JSON.parse(text);
}

function describeWork(e, shown) {
  const files = listOwnFiles(shown.setup);
  return {
    version: workVersion,
    owner: current.owner,
    saved: new Date().toISOString(),
    title: shown.title,
    verdict: byId("verdict").textContent,
    setup: shown.setup.startsWith("/") ? relativeName(shown.setup) : shown.setup,
    files,
    changes: shown.changes,
    unsaved: shown.unsaved,
    text: lastText,
  };
}

// The same but for the time.
const sameWork = (a, b) => a !== null && b !== null && JSON.stringify({ ...a, saved: "", owner: "" }) === JSON.stringify({ ...b, saved: "", owner: "" });

function sayTrouble(trouble) {
  if (trouble === keepTrouble) return;
  keepTrouble = trouble;
  if (trouble === "") return dropNote("storage");
  const way = trouble === storageFull ? "Take out set-ups that are kept, or save this one as a file." : "Save the set-up as a file before you leave.";
  note("storage", trouble + " What is done here is not kept. " + way, { "Save a copy": downloadSetup });
}

// The person's own machines, which the yard writes: one folder for all set-ups and windows.
function keepMachines(e, folder) {
  if (folder === "" || !e.FS.analyzePath(folder).exists) return "";
  const files = {};
  const walk = (path) => listFolder(e, path).forEach((name) => {
    const inside = path + "/" + name;
    if (isFolder(e, inside)) walk(inside);
    else files[inside] = readTextFile(e, inside);
  });
  walk(folder);
  return Object.entries(files).reduce((trouble, [path, text]) => trouble || (text === null ? "" : writeKept(machineMark + path, text)), "");
}

function takeMachine(e, path) {
  const text = readKept(machineMark + path);
  if (text === null || !path.startsWith("/") || path.includes("/../") || e.FS.analyzePath(path).exists) return;
  makeParents(e, path);
  e.FS.writeFile(path, text);
}

const takeMachines = () => guard((e) => listKept(machineMark).forEach((path) => takeMachine(e, path)));

// The viewer's own "Write into a file" writes into the engine's memory.
function noteWritten(files) {
  const written = current.files !== "" && files !== current.files;
  current.files = files;
  if (written) note("written", "Written into the set-up that this browser keeps. A file on this device is another thing:", { "Save a copy": downloadSetup });
}

function writeWork(work) {
  const before = readWork(current.name);
  if (sameWork(before, work)) return "";
  if (before === null) dropTwins(work);
  return writeKept(workMark + current.name, JSON.stringify(work));
}

// What is opened twice is kept once.
async function dropTwins(work) {
  for (const entry of listWorks()) {
    if (entry.name !== current.name && sameWork(entry.work, work) && await isFree(entry.name)) removeKept(workMark + entry.name);
  }
}

// Keeps what is shown; false: the browser does not, and the page says so. The demo as it stands is worth no place.
function keepWork() {
  if (current.name === "") return false;
  return guard((e) => {
    const shown = readShown(e);
    if (shown === null) return false;
    followViewer(shown);
    let trouble = keepMachines(e, shown.own_folder);
    const pristine = !shown.unsaved && shown.setup === demo;
    const work = describeWork(e, shown);
    noteWritten(JSON.stringify(work.files));
    if (pristine) removeKept(workMark + current.name);
    else trouble = writeWork(work) || trouble;
    if (pristine && trouble === "") trouble = keepTrouble; // nothing was tried
    sayTrouble(trouble);
    return trouble === "";
  }) || false;
}

// The viewer may have opened another one by itself, or written this one into a file.
function followViewer(shown) {
  const known = current.setup !== "" || current.drafted;
  const same = shown.setup === current.setup && shown.drafted === current.drafted;
  const another = known && !same && !shown.setup.startsWith(current.root);
  Object.assign(current, { setup: shown.setup, drafted: shown.drafted });
  if (another) takeName();
}

// A name of its own for what is shown from now on.
function takeName(name = makeName()) {
  if (current.name !== "" && current.name !== name) releaseWork(current.name);
  current.name = name;
  current.owner = makeName();
  holdWork(name);
  writeTabName(name);
}

// Asks where something would be lost or left; false: the person stays.
async function mayLeave() {
  const shown = guard(readShown);
  if (!shown || (!shown.unsaved && shown.refused.length === 0)) return true;
  const kept = keepWork();
  const left = `The changes to "${shown.title}" ` + (kept ? "stay under \"Set-ups\"." : "are kept nowhere: the browser does not keep them.");
  const typed = shown.refused.length > 0 ? "Typed and not taken, and lost with it: " + shown.refused.join("; ") : "";
  const choices = kept ? { open: "Open the other one", stay: "Stay here" }
    : { save: "Save a copy, then open", open: "Open it, drop the changes", stay: "Stay here" };
  const answer = await askPerson("Another set-up is to be opened", [left, typed], choices);
  return answer === "save" ? downloadSetup() : answer === "open";
}

// A set-up in place of the one shown, which is kept before. Gives the engine's problems; empty: it is there.
function takePlace(root, setup, changes, name = makeName()) {
  keepWork();
  dropPages();
  byId("take-box").close();
  const problems = guard((e) => (viewing ? e.ask("open", setup, changes) : showReport(e, setup)));
  if (problems === undefined) return "The program has stopped.";
  if (problems !== "") return problems;
  guard((e) => e.FS.chdir(root + "opened"));
  lastText = "";
  dropNote("opened");
  dropNote("back");
  dropNote("others");
  dropNote("written");
  Object.assign(current, { root, setup: "", drafted: false, files: "" });
  takeName(name);
  return "";
}

function openBuiltIn(setup) {
  const root = guard(makeFolder);
  if (root) takePlace(root, setup, "");
}

async function openDemo() {
  if (await mayLeave()) openBuiltIn(demo);
}

// What was kept into the engine's files again, and shown.
function showWork(name, work) {
  const root = guard((e) => {
    const made = makeFolder(e);
    for (const [file, text] of Object.entries(work.files)) {
      if (("/" + file).includes("/../")) continue;
      makeParents(e, made + file);
      e.FS.writeFile(made + file, text);
    }
    return made;
  });
  if (!root) return "The program has stopped.";
  let setup = work.files[work.setup] === undefined ? work.setup : root + work.setup;
  if (!viewing && work.text !== "") {
    setup = setup.startsWith("/") ? setup : root + "opened/setup.toml"; // no viewer puts the changes over it
    guard((e) => e.FS.writeFile(setup, work.text));
  }
  const problems = takePlace(root, setup, work.changes, name);
  return problems.replaceAll(root + "opened/", "");
}

const sayTime = (saved) => new Date(saved).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });

// The file without the changes, as a set-up of its own; what was changed stays in the list.
async function openUnchanged() {
  const work = readWork(current.name);
  if (!work || !(await mayLeave())) return;
  const fresh = { ...work, changes: "" };
  const problems = showWork(makeName(), fresh);
  if (problems !== "") showRefusal("This was not opened", problems);
}

function sayBack(work) {
  const drafted = work.setup === "";
  const changed = drafted ? ", which is in no file yet." : work.unsaved ? ", with its changes: one undo takes all of them back." : ".";
  const actions = work.unsaved && !drafted ? { "Without the changes": openUnchanged } : {};
  note("back", `Your last work is back: "${work.title}" (${sayTime(work.saved)})${changed}`, { ...actions, "Begin with the demo": openDemo });
}
