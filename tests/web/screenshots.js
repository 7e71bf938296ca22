// Pictures of the page for docs/web.md: node tests/web/screenshots.js FOLDER. Look at them before they are kept.
import { join } from "node:path";
import { openBrowser, serveSite } from "./site.js";
import { openReady, settle } from "./steps.js";

const folder = process.argv[2] || ".";
const devices = {
  "web-phone": { viewport: { width: 360, height: 640 }, deviceScaleFactor: 1, isMobile: true, hasTouch: true },
  "web-tablet": { viewport: { width: 820, height: 1180 }, deviceScaleFactor: 1, isMobile: true, hasTouch: true },
  "web-desk": { viewport: { width: 1280, height: 800 } },
};

const site = await serveSite();
const browser = await openBrowser();
for (const [name, device] of Object.entries(devices)) {
  const context = await browser.newContext(device);
  const { page } = await openReady(context, site.address);
  await settle(page);
  await page.screenshot({ path: join(folder, name + ".png") });
  await context.close();
}
await browser.close();
await site.close();
