// The steps of the feeding walk: from a laboratory's table to a shelf with bags on it.
import { readFileSync } from "node:fs";
import { type Page, expect } from "@playwright/test";

/** Two more plots beside the one that every walk begins with. */
export async function morePlots(page: Page, base: string): Promise<void> {
  for (const name of ["Upper field", "Creek field"]) {
    await page.goto(`${base}/plots/new`);
    await page.getByLabel("Name").fill(name);
    await page.getByLabel("Length").fill("120 ft");
    await page.getByLabel("Width").fill("60 ft");
    await page.getByRole("button", { name: "Save" }).click();
    await expect(page.getByRole("heading", { level: 1 })).toHaveText(name);
  }
}

/** Three samples of three plots, poor ground first; the unit of phosphorus is left out of its heading. */
export const TABLE = [
  "Sample ID,Lab No,pH,P (Mehlich-3),K (Mehlich-3) ppm,Mg (Mehlich-3) ppm,OM %",
  "Lower field,101,6.5,12,30,60,2.8",
  "Upper field,102,6.4,<2,45,80,3.1",
  "Creek field,103,6.8,210,180,140,6.4",
].join("\n");

/** A material of the catalogue, in 50 lb bags at a price. */
export async function onTheShelf(page: Page, base: string, key: string, name: string, price: string): Promise<void> {
  await page.goto(`${base}/materials/new?key=${key}`);
  await page.getByLabel("What you call it").fill(name);
  await page.getByLabel("In bags").check();
  await page.getByLabel("Weight of a bag").fill("50 lb");
  await page.getByLabel("Price of one bag, load or jug").fill(price);
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("row", { name: new RegExp(name) })).toContainText(price);
}

/** Fetches a sheet by its link: a PDF with pages, under a name of its own. */
export async function sheet(page: Page, link: string | RegExp, ending: string): Promise<void> {
  const waiting = page.waitForEvent("download");
  await page.getByRole("link", { name: link }).click();
  const download = await waiting;
  expect(download.suggestedFilename()).toMatch(new RegExp(`-${ending}\\.pdf$`));
  const bytes = readFileSync(await download.path());
  expect(bytes.subarray(0, 5).toString("latin1")).toBe("%PDF-");
  expect(bytes.length).toBeGreaterThan(5000);
}

/** Waits out the page that says how far a plan is. */
export async function planned(page: Page, heading: string): Promise<void> {
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(heading, { timeout: 30_000 });
}
