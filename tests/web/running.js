// The site, served, and a browser, from before the first test of a file to after its last.
import { after, before } from "node:test";
import { openBrowser, serveSite } from "./site.js";

export let browser;
export let site;

before(async () => {
  site = await serveSite();
  browser = await openBrowser();
});

after(async () => {
  await browser?.close();
  await site?.close();
});
