// SPDX-License-Identifier: MIT
// A picture of a page that vug-plan wrote, after the first step of its plan: node picture.mjs PAGE.html OUT.png
import { chromium } from "playwright-core";
import { pathToFileURL } from "node:url";

const [file, out] = process.argv.slice(2);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"] });
const page = await browser.newPage({ viewport: { width: 1200, height: 780 } });
const is = (name, value) => page.waitForFunction(([n, v]) => document.documentElement.dataset[n] === v, [name, value], { timeout: 240000 });
await page.goto(pathToFileURL(file).href);
await is("plan", "done");
await is("map", "done");
while (!/^Step 1 of/.test(await page.textContent("#step-number")))
    await page.click("#next");
await is("columns", "plan");
await is("rest", "yes");
await page.screenshot({ path: out });
await browser.close();
