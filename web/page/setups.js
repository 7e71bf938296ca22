// The list of set-ups kept in this browser, and the start: the last work comes back by itself.
"use strict";

const openingMark = "hitchwright opening"; // the name that was being opened, and how often it was tried
const mostTries = 2;
const leavingTime = 3000; // ms; the engine takes as long to load

// The name and work to begin with; none: the demo. `busy`: the title of the latest one, open in another window.
async function chooseWork() {
  const own = readTabName();
  if (own !== "" && readWork(own) && await holdWork(own, leavingTime)) return { name: own, work: readWork(own), busy: "" };
  const latest = listWorks().find((entry) => entry.work);
  if (!latest) return { name: "", work: null, busy: "" };
  if (latest.name !== own && await holdWork(latest.name)) return { ...latest, busy: "" };
  return { name: "", work: null, busy: latest.work.title };
}

function countTries(name) {
  const [before, tries] = (readKept(openingMark) || "").split(" ");
  const now = before === name ? Number(tries) + 1 : 1;
  writeKept(openingMark, name + " " + now);
  return now;
}

// After the first picture of it: it can be opened.
const endTries = () => removeKept(openingMark);

async function beginWork(chosen) {
  const { name, work, busy } = await chosen;
  takeMachines();
  current.root = guard(makeFolder) || "";
  guard((e) => e.FS.chdir(current.root + "opened"));
  const fails = work !== null && countTries(name) > mostTries;
  const problems = work === null || fails ? "" : showWork(name, work);
  if (work === null || fails || problems !== "") takeName();
  if (work !== null && (fails || problems !== "")) releaseWork(name);
  if (fails) note("back", `"${work.title}" was not opened, since the program stopped while it was opened before. It is kept under "Set-ups".`);
  else if (problems !== "") showRefusal(`Your last work ("${work.title}") cannot be opened; it is kept under "Set-ups"`, problems);
  else if (work !== null) sayBack(work);
  if (busy !== "") note("busy", `"${busy}" is open in another window or tab. Here begins the demo; what is done here is kept apart from it.`);
  keepWork();
}

// Another window wrote.
function watchStorage() {
  window.addEventListener("storage", (event) => {
    if (event.key !== null && event.key.startsWith(machineMark)) return guard((e) => takeMachine(e, event.key.slice(machineMark.length)));
    if (event.key !== null && event.key !== workMark + current.name) return undefined;
    const theirs = readWork(current.name);
    if (theirs && theirs.owner !== current.owner) {
      takeName();
      note("twice", "This set-up is open in another window or tab too. From here on each keeps its own; both are under \"Set-ups\".");
    }
    keepWork(); // taken out over there: kept again
    return undefined;
  });
}

function watchLeaving() {
  window.addEventListener("pagehide", () => keepWork());
  window.addEventListener("beforeunload", (event) => {
    const shown = guard(readShown);
    const lost = shown ? shown.refused.length > 0 || (shown.unsaved && lastText !== savedText && !keepWork())
      : crashed && lastText !== "" && lastText !== savedText && keepTrouble !== "";
    if (!lost) return;
    event.preventDefault();
    event.returnValue = "";
  });
}

async function openKept(name) {
  const work = readWork(name);
  if (!work || !(await isFree(name))) return note("kept", "That set-up is open in another window or tab.");
  byId("setups-box").close();
  if (!(await mayLeave())) return undefined;
  const problems = showWork(name, work);
  if (problems !== "") showRefusal("This was not opened; the set-up before stays", problems);
  return undefined;
}

async function takeOut(name, title) {
  if (!(await isFree(name))) return note("kept", "That set-up is open in another window or tab.");
  const answer = await askPerson("Take out a set-up", [`"${title}" is kept in this browser alone. Taken out it is gone for good.`], { out: "Take it out", stay: "Keep it" });
  if (answer !== "out") return undefined;
  removeKept(workMark + name);
  showSetups();
  return undefined;
}

const saveKept = (work) => downloadToml(work.title.toLowerCase().replace(/[^a-z0-9]+/g, "-").slice(0, 60) + ".toml", work.text);

function makeRow({ name, work }) {
  const row = document.createElement("li");
  const words = document.createElement("p");
  const here = name === current.name;
  const title = work ? work.title : "Something kept that cannot be read";
  words.textContent = work ? `${title}${work.unsaved ? ", changed" : ""} (${sayTime(work.saved)})${here ? ": shown here" : ""}. ${work.verdict}` : title;
  row.append(words);
  const add = (label, act) => {
    const button = makeButton(label, act);
    button.setAttribute("aria-label", `${label}: ${title}`);
    row.append(button);
  };
  if (!here && work && engine !== null) add("Open", () => openKept(name));
  if (work && work.text !== "") add("Save as a file", () => saveKept(work));
  if (!work) add("Save as a file", () => download("kept.txt", readKept(workMark + name) || "", "text/plain"));
  if (!here) add("Take out", () => takeOut(name, title));
  return row;
}

function makeFileRow([name, text]) {
  const row = document.createElement("li");
  row.append(makeButton("Save " + name, () => downloadToml(name, text)));
  return row;
}

function showSetups() {
  keepWork();
  const works = listWorks();
  byId("kept-list").replaceChildren(...works.map(makeRow));
  byId("kept-none").hidden = works.length > 0;
  const files = Object.entries(listOtherFiles());
  byId("file-list").replaceChildren(...files.map(makeFileRow));
  byId("file-part").hidden = files.length === 0;
  if (!byId("setups-box").open) byId("setups-box").showModal();
}

function openPasted() {
  const text = byId("pasted").value;
  byId("pasted").value = "";
  byId("setups-box").close();
  openCode(text);
}

// A set-up in the address, now or later. What leads to a part of the page is none.
async function openAddress() {
  const behind = location.hash.slice(1);
  if (behind === "" || byId(behind) !== null) return;
  history.replaceState(null, "", location.pathname + location.search); // a reload shows what was done since
  await openCode("#" + behind);
}

function watchSetups() {
  byId("setups").addEventListener("click", showSetups);
  byId("copy-link").addEventListener("click", copyLink);
  byId("paste-open").addEventListener("click", openPasted);
  byId("begin-demo").addEventListener("click", () => {
    byId("setups-box").close();
    openDemo();
  });
  for (const dialog of document.querySelectorAll("dialog")) {
    dialog.addEventListener("close", () => {
      if (document.querySelector("dialog[open]") === null) canvas.focus({ preventScroll: true });
    });
  }
  for (const button of document.querySelectorAll("dialog [data-close]")) button.addEventListener("click", () => button.closest("dialog").close());
  watchStorage();
  watchLeaving();
  window.addEventListener("hashchange", openAddress);
}
