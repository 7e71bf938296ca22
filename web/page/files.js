// Files in and out: chosen, dropped, from a link or code; saved as downloads. Which one is the set-up and what is wrong with it, the
// engine says. Each opening has a folder of its own in the engine, so that nothing shown is written over.
"use strict";

const mostBytes = 1048577; // one more than the engine reads of a file: it says that it is too large
const mostFiles = 32;
const mostLetters = 50; // of a name: file systems count up to four bytes for each

let folders = 0;

function makeFolder(e) {
  const root = "/" + (++folders) + "/";
  e.FS.mkdir(root.slice(0, -1));
  e.FS.mkdir(root + "opened");
  return root;
}

function listFolder(e, path) {
  return e.FS.readdir(path).filter((name) => name !== "." && name !== "..");
}

const isFolder = (e, path) => e.FS.isDir(e.FS.stat(path).mode);

function removeFolder(e, path) {
  for (const name of listFolder(e, path)) {
    if (isFolder(e, path + "/" + name)) removeFolder(e, path + "/" + name);
    else e.FS.unlink(path + "/" + name);
  }
  e.FS.rmdir(path);
}

function makeParents(e, file) {
  for (let slash = file.indexOf("/", 1); slash > 0; slash = file.indexOf("/", slash + 1)) {
    if (!e.FS.analyzePath(file.slice(0, slash)).exists) e.FS.mkdir(file.slice(0, slash));
  }
}

// A name as one file has it in any folder.
function plainName(name) {
  const plain = name.replace(/[/\\\u0000-\u001f\u007f]|\p{Surrogate}/gu, "-").replace(/^\.+/, "");
  const letters = [...plain]; // a pair of surrogates is one
  return letters.length > mostLetters ? letters.slice(0, mostLetters - 5).join("") + letters.slice(-5).join("") : plain || "setup.toml";
}

async function readFiles(files) {
  const read = {};
  for (const file of [...files].slice(0, mostFiles)) {
    read[plainName(file.name)] = new Uint8Array(await file.slice(0, mostBytes).arrayBuffer());
  }
  return read;
}

async function openFiles(files) {
  let read;
  try {
    read = await readFiles(files);
  } catch (error) {
    return showRefusal("This was not opened", "The browser could not read it (" + error.message + "). A folder cannot be opened, its files can.");
  }
  const names = Object.keys(read);
  if (names.length === 0) return undefined;
  const begin = names.length === 1 ? new TextDecoder().decode(read[names[0]].slice(0, codeHead.length)) : "";
  if (begin === codeHead) return openCode(new TextDecoder().decode(read[names[0]]));
  const left = files.length > mostFiles ? `Of ${files.length} files only the first ${mostFiles} count. ` : "";
  return openTexts(read, left);
}

function openCode(text) {
  if (text.trim() === "") return showRefusal("This was not opened", "There is no text of a code or link.");
  const read = readCode(findCode(text));
  if (read.problems !== "") return showRefusal("This link or code holds no set-up that can be read", read.problems);
  return openTexts(read.files, "");
}

// texts: name -> content. said: a sentence to go before the page's own.
async function openTexts(texts, said) {
  const found = guard((e) => {
    const root = makeFolder(e);
    for (const [name, text] of Object.entries(texts)) e.FS.writeFile(root + "opened/" + name, text);
    return { root, ...JSON.parse(e.ask("choose", root + "opened", root)) };
  });
  if (!found) return;
  const drop = () => guard((e) => removeFolder(e, found.root.slice(0, -1)));
  if (found.problems !== "") {
    drop();
    return showRefusal("This was not opened; the set-up before stays", found.problems.replaceAll(found.root + "opened/", ""));
  }
  if (!(await mayLeave())) return drop();
  takePlace(found.root, found.setup, "");
  const others = found.others > 0 ? `${found.others} more of the files ${found.others > 1 ? "are set-ups" : "is a set-up"}: only the first counts. ` : "";
  if (said + others !== "") note("opened", said + others);
}

// False: there is nothing that could be saved, and the page says so.
function downloadSetup() {
  const text = guard((e) => e.ask("setup"));
  if (text === "") {
    showRefusal("There is no file to save", "The set-up as it is shown cannot be written: a file would not give what the window shows.");
    return false;
  }
  lastText = text || lastText;
  downloadToml(fileName(), lastText);
  savedText = lastText;
  const others = Object.keys(listOtherFiles());
  if (others.length > 0) note("others", "The set-up needs other files beside it: " + others.join(", ") + ". Each can be saved under \"Set-ups\".");
  return true;
}

function watchDrops() {
  const isOurs = (event) => event.dataTransfer && [...event.dataTransfer.types].some((type) => type === "Files" || type === "text/plain");
  for (const kind of ["dragenter", "dragover"]) {
    window.addEventListener(kind, (event) => {
      if (!isOurs(event)) return;
      event.preventDefault();
      event.stopImmediatePropagation();
    }, true);
  }
  window.addEventListener("drop", (event) => {
    if (!isOurs(event)) return;
    event.preventDefault();
    event.stopImmediatePropagation(); // the engine's own script would take it too
    if (event.dataTransfer.files.length > 0) openFiles([...event.dataTransfer.files]);
    else if (event.dataTransfer.getData("text/plain").includes("HITCHWRIGHT1")) openCode(event.dataTransfer.getData("text/plain"));
  }, true);
}
