// A set-up in the address: the code of the sheet (RFC 9285 over RFC 1950, made and read by the command "code"), escaped for a link.
"use strict";

const codeHead = "HITCHWRIGHT1:";
const longLink = 2000; // letters; some programs for messages cut what is longer

// Where the engine's viewer looks for the person's own machines; the commands are to find the same.
const variables = { HOME: "/home/web_user" };

// What ends a link in the eyes of programs that look for links in a text, or is changed by them, is escaped too.
const escapeCode = (code) =>
  codeHead + encodeURIComponent(code.slice(codeHead.length)).replace(/[*.]/g, (letter) => "%" + letter.charCodeAt(0).toString(16).toUpperCase());

const linkOf = (code) => location.href.replace(/#.*$/, "") + "#" + escapeCode(code);

// The code in a text that is a code, or a link with one behind its "#". It may be neither: the engine says so.
function findCode(text) {
  const hash = text.indexOf("#"); // no code has one
  if (hash < 0) return text;
  const behind = text.slice(hash + 1);
  try {
    return decodeURIComponent(behind);
  } catch {
    return behind; // cut inside an escape
  }
}

// The files in a code, or why there are none.
function readCode(code) {
  const answer = guard((e) => e.answer({ arguments: ["code", "--read", " " + code] })); // a blank: it may begin like an option
  if (!answer) return { files: {}, problems: "The program has stopped." };
  return answer.code === 0 ? { files: answer.files, problems: "" } : { files: {}, problems: answer.err };
}

// The code of the set-up shown, or why there is none. One that is built in is carried as the command line does, with its changes as
// options: its values do not pass for readings.
function makeCode() {
  return guard((e) => {
    const work = readShown(e);
    if (work === null) return { code: "", problems: "Without a drawing the page makes no links." };
    const state = JSON.parse(e.ask("state"));
    if (!work.drafted && !work.setup.startsWith("/")) {
      const rules = state.rules ? ["--rules", state.rules] : [];
      const answer = e.answer({ arguments: ["code", work.setup, ...state.edits.flatMap((edit) => ["--set", edit]), ...rules], variables });
      if (answer.code === 0) return { code: answer.out.replace(/\n$/, ""), problems: "" };
    }
    return packText(e, work, e.ask("setup"));
  }) || { code: "", problems: "The program has stopped." };
}

// The text with the changes stands beside its own file meanwhile: other files are named from there.
function packText(e, work, text) {
  if (text === "") return { code: "", problems: "The set-up as it is shown cannot be written into a file, so it fits into no link." };
  const folder = work.setup.startsWith("/") ? work.setup.slice(0, work.setup.lastIndexOf("/") + 1) : e.FS.cwd() + "/";
  const file = folder + "link-" + makeName() + ".toml";
  e.FS.writeFile(file, text);
  try {
    const answer = e.answer({ arguments: ["code", file], variables });
    return answer.code === 0 ? { code: answer.out.replace(/\n$/, ""), problems: "" } : { code: "", problems: answer.err };
  } finally {
    e.FS.unlink(file);
  }
}

async function copyLink() {
  const made = makeCode();
  if (made.code === "") return showRefusal("There is no link to this set-up", made.problems);
  const link = linkOf(made.code);
  const local = /^https?:$/.test(location.protocol) && !/^(localhost|127\.|\[::1\])/.test(location.hostname)
    ? "" : " It leads to this device's own copy of the page; on another device, paste it there under \"Set-ups\".";
  const length = link.length > longLink
    ? ` It has ${link.length} letters; some programs for messages cut one that long. Where it does not arrive whole, send the file instead.` : "";
  let copied = true;
  try {
    await navigator.clipboard.writeText(link);
  } catch {
    copied = false;
  }
  const field = byId("link");
  field.value = link;
  byId("link-said").textContent = (copied ? "The link with the whole set-up is on the clipboard." : "The browser gives no clipboard: copy the link from here.") + length + local;
  byId("link-box").showModal();
  field.select();
}
