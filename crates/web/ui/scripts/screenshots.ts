// Pictures of the pages for the README, at the width of a desk and of a phone: `npm run screenshots`.
// SPADEWORK_BIN names the built binary and SPADEWORK_BOOK the farm book to show.
import { mkdirSync } from "node:fs";
import { resolve } from "node:path";
import type { Page } from "@playwright/test";
import { test } from "../browser-tests/app";

const FOLDER = resolve(import.meta.dirname, "../../../../docs/screenshots");
const SIZES = { desktop: { width: 1280, height: 960 }, phone: { width: 390, height: 844 } };

/** Each picture: its name, and the way to the page. */
const WANTED: Record<string, (page: Page) => Promise<unknown>> = {
  farm: (page) => page.goto("/"),
  plot: async (page) => {
    await page.goto("/");
    await page.getByRole("link", { name: "Sand knoll", exact: true }).first().click();
    await page.waitForURL(/plots/);
  },
  jar: async (page) => {
    await page.goto("/");
    await page.getByRole("link", { name: "New ground", exact: true }).first().click();
    await page.waitForURL(/plots/);
    await page.goto(`${page.url()}/record/jar`);
    await page.getByRole("textbox", { name: /^Clay/ }).fill("3/4 to 1 in");
    await page.getByRole("textbox", { name: /^Silt/ }).fill("1 1/8");
    await page.getByRole("textbox", { name: /^Sand/ }).fill("1 5/16");
    await page.waitForTimeout(1500);
    await page.getByRole("textbox", { name: /^Clay/ }).scrollIntoViewIfNeeded();
  },
  "bed-water": async (page) => {
    await page.goto("/water");
    await page.getByRole("link", { name: /Beds 1 to 12/ }).click();
    await page.waitForURL(/beds\/.+\/water/);
  },
  "water-today": (page) => page.goto("/water"),
  plan: async (page) => {
    await page.goto("/plan");
    await page.waitForSelector(".leaflet-container");
  },
  map: async (page) => {
    await page.goto("/maps/ph");
    await page.getByRole("link", { name: "Long pasture", exact: true }).first().click();
    await page.waitForURL(/plot=/);
    await page.getByRole("heading", { name: "The map" }).scrollIntoViewIfNeeded();
  },
  "plot-water": async (page) => {
    await page.goto("/");
    await page.getByRole("link", { name: "Creek field", exact: true }).first().click();
    await page.waitForURL(/plots/);
    await page.goto(`${page.url()}/water`);
  },
  handbook: (page) => page.goto("/methods/texture-class"),
};

test("take the pictures", async ({ page }) => {
  mkdirSync(FOLDER, { recursive: true });
  for (const [name, open] of Object.entries(WANTED)) {
    for (const [size, viewport] of Object.entries(SIZES)) {
      await page.setViewportSize(viewport);
      await open(page);
      await page.screenshot({ path: resolve(FOLDER, `${name}-${size}.png`) });
    }
  }
});
