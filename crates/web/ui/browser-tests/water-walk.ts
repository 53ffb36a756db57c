// The steps of the water walk: what a new grower types until a bed has its advice.
import { type Page, expect } from "@playwright/test";

/** A day before or after today, as the browser's own calendar counts it. */
export function day(from_today: number): string {
  const date = new Date();
  date.setDate(date.getDate() + from_today);
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${String(date.getFullYear())}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** A new farm near the equator, where every month is alike, so that the walk ends the same on any day of the year. */
export async function farmWithBed(page: Page, base: string): Promise<string> {
  await page.goto(base);
  await page.getByLabel("What is the farm called").fill("Long Furrow Farm");
  await page.getByLabel(/US customary/).check();
  await page.getByLabel("Rough latitude").fill("8 N");
  await page.getByRole("button", { name: "Make the farm" }).click();
  await page.getByLabel("Name").fill("Lower field");
  await page.getByLabel("Length").fill("150 ft");
  await page.getByLabel("Width").fill("60 ft");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Lower field");
  const plot = page.url().replace(/\?.*$/, "");
  await page.getByRole("link", { name: "Add beds" }).click();
  await page.getByLabel("Name").fill("Bed 1");
  await page.getByLabel("Length of each").fill("50 ft");
  await page.getByLabel("Width of each").fill("30 in");
  await page.getByLabel("How many of them").fill("1");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { name: "Bed 1" })).toBeVisible();
  return plot;
}

/** The feel test in its shortest way: a ball, a ribbon, and how gritty it is. */
export async function feelTest(page: Page, plot: string): Promise<void> {
  await page.goto(`${plot}/record/feel`);
  await page.getByRole("button", { name: "Yes, it holds" }).click();
  await page.getByLabel(/Length of the ribbon/).fill("3/4");
  await page.getByRole("button", { name: "That is the length" }).click();
  await page.getByRole("button", { name: /neither/i }).click();
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByText(/Now the odds are/)).toBeVisible();
}

/** Two lines of drip tape on the bed. */
export async function dripTape(page: Page, bed: string): Promise<void> {
  await page.goto(bed.replace(/beds\/(.+)\/water$/, "watering-systems/new?bed=$1"));
  await page.getByLabel(/Drip tape/).check();
  await page.getByLabel("Flow of the tape").fill("0.45 gpm/100 ft");
  await page.getByLabel("Lines along each bed").first().fill("2");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByText(/Watered by/)).toBeVisible();
}

/** Tomatoes, set out six weeks ago. */
export async function plant(page: Page, bed: string): Promise<void> {
  await page.goto(bed.replace(/beds\/(.+)\/water$/, "plantings/new?bed=$1"));
  await page.getByRole("combobox", { name: /^Crop/ }).fill("tomato");
  await page.getByLabel("Day it was planted").fill(day(-42));
  await page.getByLabel("Set out as plants").check();
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByText(/[Tt]omato.*planted/).first()).toBeVisible();
}

const MONTHS = [
  "January", "February", "March", "April", "May", "June",
  "July", "August", "September", "October", "November", "December",
];

/** Twelve months alike: hot, and hardly any rain. */
export async function fillNormals(page: Page): Promise<void> {
  for (const month of MONTHS) {
    await page.getByLabel(`${month}, mean high`).fill("88");
    await page.getByLabel(`${month}, mean low`).fill("64");
    await page.getByLabel(`${month}, rain`).fill("0.3");
  }
}

/** The address of the water of the bed. */
export async function bedWater(page: Page, plot: string): Promise<string> {
  await page.goto(plot);
  await page.getByRole("link", { name: /^Its water/ }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Water of Bed 1");
  return page.url().replace(/\?.*$/, "");
}
