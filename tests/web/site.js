// The page as a web server hands it out, a browser to look at it, and the command line to compare it with. HITCHWRIGHT_SITE,
// HITCHWRIGHT_PROGRAM and HITCHWRIGHT_BROWSER name them; the defaults are those of ./check web.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { createReadStream, existsSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const root = fileURLToPath(new URL("../..", import.meta.url));

export const siteFolder = process.env.HITCHWRIGHT_SITE || join(root, "build/web/site");
/** The page as one file. */
export const singleFile = join(siteFolder, "..", "hitchwright.html");
const program = process.env.HITCHWRIGHT_PROGRAM || join(root, "build/release/bin/hitchwright");
const browserFile = process.env.HITCHWRIGHT_BROWSER || "/usr/bin/chromium";

export const demo = "compact-tiller-bottoms-out";

const types = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css",
  ".js": "text/javascript",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".webmanifest": "application/manifest+json",
};

/** A server on loopback that hands out the folder and nothing else. */
export async function serveSite() {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
    const file = join(siteFolder, normalize(path === "/" ? "/index.html" : path));
    if (!file.startsWith(siteFolder) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { "content-type": types[extname(file)] || "application/octet-stream" });
    createReadStream(file).pipe(response);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    address: `http://127.0.0.1:${server.address().port}/`,
    close: () => new Promise((done) => {
      server.close(done);
      server.closeAllConnections?.();
    }),
  };
}

/** Debian's Chromium without a screen; it draws by software. */
export function openBrowser(more = []) {
  return chromium.launch({
    executablePath: browserFile,
    args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", ...more],
  });
}

/** What the command line prints; its exit code is an answer. */
export function runProgram(args, options = {}) {
  try {
    return { code: 0, out: execFileSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"], ...options }) };
  } catch (error) {
    if (typeof error.status !== "number") throw error;
    return { code: error.status, out: error.stdout };
  }
}

/** The same numbers within 1e-9 of their size (or of 1), all else the same. */
export function assertNear(actual, expected, path = "") {
  if (typeof expected === "number" && typeof actual === "number") {
    assert.ok(Math.abs(actual - expected) <= 1e-9 * Math.max(1, Math.abs(expected)), `${path}: ${actual} instead of ${expected}`);
  } else if (expected !== null && typeof expected === "object") {
    assert.deepEqual(Object.keys(actual ?? {}), Object.keys(expected), path);
    for (const key of Object.keys(expected)) assertNear(actual[key], expected[key], `${path}.${key}`);
  } else {
    assert.equal(actual, expected, path);
  }
}

/** A page that notes what went wrong and what it asked for. */
export async function openPage(context, address) {
  const page = await context.newPage();
  const seen = { errors: [], requests: [] };
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") seen.errors.push(message.text());
  });
  page.on("pageerror", (error) => seen.errors.push(String(error)));
  page.on("request", (request) => seen.requests.push(request.url()));
  await page.goto(address);
  return { page, seen };
}

/** Waits for the first answer beside the canvas. */
export async function waitForAnswer(page) {
  await page.waitForFunction(() => document.getElementById("report").textContent !== "", undefined, { timeout: 60000 });
}
