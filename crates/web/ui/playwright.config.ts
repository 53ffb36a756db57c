// Browser tests on a real Chromium: the system's own (CHROMIUM, else /usr/bin/chromium), never downloaded.
import { existsSync } from "node:fs";
import { defineConfig } from "@playwright/test";

const chromium = process.env["CHROMIUM"] ?? "/usr/bin/chromium";
if (!existsSync(chromium)) {
  throw new Error(`There is no Chromium at ${chromium}. Install it, or name it in CHROMIUM.`);
}

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
const desktop = { viewport: { width: 1280, height: 900 } };

export default defineConfig({
  globalSetup: "./browser-tests/start-app.ts",
  outputDir: "./test-results",
  fullyParallel: false,
  workers: 1,
  timeout: 60_000,
  reporter: [["list"]],
  use: {
    browserName: "chromium",
    launchOptions: {
      executablePath: chromium,
      args: [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
      ],
    },
    // A step that finds nothing to act on says so soon, whatever time its whole test may take.
    actionTimeout: 10_000,
    screenshot: "only-on-failure",
  },
  projects: [
    { name: "desktop", testDir: "./browser-tests", use: desktop },
    { name: "phone", testDir: "./browser-tests", use: phone },
    { name: "screenshots", testDir: "./scripts", testMatch: "screenshots.ts", use: desktop },
  ],
});
