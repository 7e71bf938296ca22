// docs/web.md says how large each file of the page is. HITCHWRIGHT_UPDATE_DOCS=1 writes the sizes anew.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";
import { singleFile, siteFolder } from "./site.js";

const doc = fileURLToPath(new URL("../../docs/web.md", import.meta.url));
const mostOfAll = 3e6; // bytes of the folder
const tolerance = 0.1; // of a size; and of each a KB, to which they are rounded

const sizeOf = (name) => statSync(name === basename(singleFile) ? singleFile : `${siteFolder}/${name}`).size;

/** "| names | sizes in KB | what |": a row of the table, with its names. */
const row = /^\| ([a-z., -]+\.[a-z, .-]+) \| ([0-9, ]+) \| /;

test("sizes: each file of the page stands in docs/web.md with its size, and the folder is under 3 MB", () => {
  const listed = [];
  const lines = readFileSync(doc, "utf8").split("\n").map((line) => {
    const found = row.exec(line);
    if (!found) return line;
    const names = found[1].split(", ");
    const sizes = found[2].split(", ").map(Number);
    const now = names.map((name) => Math.max(1, Math.round(sizeOf(name) / 1000)));
    listed.push(...names);
    if (process.env.HITCHWRIGHT_UPDATE_DOCS) return line.replace(` | ${found[2]} | `, ` | ${now.join(", ")} | `);
    for (const [i, name] of names.entries()) {
      assert.ok(Math.abs(sizes[i] - now[i]) <= Math.max(1, tolerance * now[i]), `${name} has ${now[i]} KB, docs/web.md says ${sizes[i]}`);
    }
    return line;
  });
  if (process.env.HITCHWRIGHT_UPDATE_DOCS) writeFileSync(doc, lines.join("\n"));
  const there = readdirSync(siteFolder);
  assert.deepEqual([...there, basename(singleFile)].sort(), listed.sort());
  const all = there.reduce((sum, name) => sum + sizeOf(name), 0);
  assert.ok(all < mostOfAll, `${all} bytes`);
});
