// Set-ups kept in the browser, each under a name of its own, and the files of the person's own machines. One window at a time has
// a set-up: it holds the lock of its name as long as it lives, so that two windows never write the same one.
"use strict";

const workMark = "hitchwright work ";
const machineMark = "hitchwright machine ";
const tabMark = "hitchwright tab"; // in the storage of the tab alone: the name of its set-up
const workVersion = 1;

const storageRefused = "The browser keeps nothing for this page: a private window, or its settings forbid it.";
const storageFull = "The browser's storage for this page is full.";

function readKept(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

// Why it was not written; empty: it was.
function writeKept(key, text) {
  try {
    if (localStorage.getItem(key) !== text) localStorage.setItem(key, text);
    return "";
  } catch (error) {
    const full = error && (error.name === "QuotaExceededError" || error.name === "NS_ERROR_DOM_QUOTA_REACHED");
    return full ? storageFull : storageRefused;
  }
}

function removeKept(key) {
  try {
    localStorage.removeItem(key);
  } catch {
    // What cannot be reached cannot be removed.
  }
}

function listKept(mark) {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(mark)).map((key) => key.slice(mark.length));
  } catch {
    return [];
  }
}

const isText = (value) => typeof value === "string";
const isTexts = (value) => value !== null && typeof value === "object" && !Array.isArray(value) && Object.values(value).every(isText);

// A set-up as it was kept: {version, owner, saved, title, verdict, setup, files, changes, unsaved, text}. null: it is none of ours.
function readWork(name) {
  try {
    const work = JSON.parse(readKept(workMark + name));
    const whole = work.version === workVersion && isTexts(work.files) &&
      [work.owner, work.saved, work.title, work.verdict, work.setup, work.changes, work.text].every(isText);
    return whole ? work : null;
  } catch {
    return null;
  }
}

// The latest first; those that cannot be read last.
function listWorks() {
  const works = listKept(workMark).map((name) => ({ name, work: readWork(name) }));
  return works.sort((a, b) => (b.work ? b.work.saved : "").localeCompare(a.work ? a.work.saved : ""));
}

function makeName() {
  const numbers = crypto.getRandomValues(new Uint32Array(2));
  return [...numbers].map((n) => n.toString(36)).join("");
}

function readTabName() {
  try {
    return sessionStorage.getItem(tabMark) || "";
  } catch {
    return "";
  }
}

function writeTabName(name) {
  try {
    sessionStorage.setItem(tabMark, name);
  } catch {
    // Then a reload takes the latest.
  }
}

const releases = new Map(); // of the locks held

// True: this window has that name from now on. patience, ms: a window that is just being left may hold it a little longer. Without
// locks (a page from a server without HTTPS) every name is free, and two windows notice each other by what they write.
function holdWork(name, patience = 0) {
  if (releases.has(name) || !navigator.locks) return Promise.resolve(true);
  return new Promise((done) => {
    const stop = new AbortController();
    const timer = patience > 0 ? setTimeout(() => stop.abort(), patience) : 0;
    const options = patience > 0 ? { signal: stop.signal } : { ifAvailable: true };
    navigator.locks.request(workMark + name, options, (lock) => {
      clearTimeout(timer);
      done(lock !== null);
      return lock === null ? undefined : new Promise((release) => releases.set(name, release));
    }).catch((error) => done(error.name !== "AbortError")); // aborted: somebody has it; refused altogether: as without locks
  });
}

function releaseWork(name) {
  const release = releases.get(name);
  releases.delete(name);
  if (release) release();
}

// True: no other window has it.
async function isFree(name) {
  if (releases.has(name)) return false;
  const held = await holdWork(name);
  if (held) releaseWork(name);
  return held;
}
