// Recording in a browser: a new user from an empty folder to a corrected jar, each form scanned, and
// the same by plain forms without script.
import { readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { expect, scan } from "./app";
import { test } from "./own-farm";

const KINDS = [
  "timed-jar",
  "jar",
  "feel",
  "kitchen-scale",
  "hydrometer",
  "laboratory",
  "organic-matter",
  "gravel",
  "packing",
  "salinity",
  "signs",
  "moisture",
  "ring-infiltration",
  "percolation",
  "layers",
  "probe",
  "spade",
  "cores",
  "slake",
  "working",
];

/** A new farm with one plot; gives the plot's address. */
async function begin(page: Page, base: string): Promise<string> {
  await page.goto(base);
  await page.getByLabel("What is the farm called").fill("Long Furrow Farm");
  await page.getByLabel(/US customary/).check();
  await page.getByRole("button", { name: "Make the farm" }).click();
  await page.getByLabel("Name").fill("Lower field");
  await page.getByLabel("Length").fill("150 ft");
  await page.getByLabel("Width").fill("60 ft");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Lower field");
  return page.url().replace(/\?.*$/, "");
}

/** Everything on the page that a wet thumb has to hit. */
async function largeEnough(page: Page): Promise<void> {
  const targets = page.locator("form :is(button, .answer, input[type=text], input[type=date], select, summary), .choice");
  for (const target of await targets.all()) {
    if (!(await target.isVisible())) continue;
    const box = await target.boundingBox();
    expect(box?.height ?? 0, await target.evaluate((element) => element.outerHTML)).toBeGreaterThanOrEqual(44);
  }
}

test("a new user makes a farm, times a jar, sees odds and decisions, corrects a slip and exports", async ({
  page,
  bare,
}) => {
  test.setTimeout(180_000);
  const plot = await begin(page, bare);
  await page.getByRole("link", { name: "Record what you saw" }).first().click();
  await scan(page);
  await page.getByRole("link", { name: /A jar, shaken now/ }).click();

  // The times are told before the jar is set down.
  await page.getByLabel(/^Height of the water/).fill("7 1/4");
  await page.getByLabel(/loose dry soil/).fill("1 1/2 in");
  await page.getByLabel(/Temperature of the water/).fill("68");
  await expect(page.getByText("7 1/4 in = 184.2 mm")).toBeVisible();
  await expect(page.getByText(/The top of the sand will be due after/)).toBeVisible();
  await page.getByLabel(/Powdered dishwasher/).check();
  // Begun two and a half days ago, so that all three marks can be made now.
  await page.getByLabel(/How long ago/).fill("60 h");
  await scan(page);
  await largeEnough(page);
  await page.getByRole("button", { name: "I set it down now" }).click();

  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Jar of Lower field");
  await scan(page);
  await largeEnough(page);
  const jar = page.url();
  const fold = page.getByText("Measured already, not seen, or drawn a while ago");

  // The sand, drawn and measured long ago; a height that cannot be read costs nothing.
  await fold.click();
  await page.getByRole("textbox", { name: /^Height of the mark/ }).fill("one and a bit");
  await page.getByLabel(/How long ago it was drawn/).fill("59 h 58 min");
  await page.getByRole("button", { name: "Save the mark" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await expect(page.getByRole("textbox", { name: /^Height of the mark/ })).toHaveValue("one and a bit");
  await scan(page);
  await page.getByRole("textbox", { name: /^Height of the mark/ }).fill("1 3/16");
  await page.getByRole("button", { name: "Save the mark" }).click();
  await expect(page.getByText(/^After 2 min/)).toBeVisible();

  // The browser is closed and opened again: the jar is on the farm page and under Record.
  await page.goto(bare);
  await expect(page.getByRole("link", { name: "Jar of Lower field" })).toBeVisible();
  await page.getByRole("link", { name: "Record", exact: true }).click();
  await page.getByRole("link", { name: "Jar of Lower field" }).click();
  expect(page.url()).toBe(jar);

  // The boundary of the silt could not be seen.
  await fold.click();
  await page.getByLabel(/I could not see/).check();
  await page.getByLabel(/How long ago it was drawn/).fill("46 h");
  await page.getByRole("button", { name: "Save the mark" }).click();
  // The clay: one press now, measured afterwards as a range.
  await page.getByRole("button", { name: "Mark made now" }).click();
  await expect(page.locator(".made > li")).toHaveCount(3);
  await scan(page);
  await page.getByRole("textbox", { name: /Height of this mark/ }).last().fill("2 3/8 to 2 1/2 in");
  await page.getByRole("button", { name: "Save the heights" }).click();
  await expect(page.locator(".look-figure svg")).toBeVisible();
  await page.getByLabel("Still cloudy").check();
  await page.getByRole("button", { name: /Finish and weigh/ }).click();

  // Odds and decisions, and what the jar changed.
  await expect(page.getByRole("heading", { name: /What the jar test/ })).toBeVisible();
  await expect(page.getByText(/Nothing was known of this ground\. Now the odds are/)).toBeVisible();
  await expect(page.getByRole("heading", { name: "Odds of each texture class" })).toBeVisible();
  await expect(page.getByRole("heading", { name: "Decisions", exact: true })).toBeVisible();
  await expect(page.locator(".firmness").first()).toBeVisible();
  await scan(page);

  // A typing slip: the sand stood at 1 1/16.
  await page.locator(".exhibit").getByRole("link", { name: /^Correct/ }).first().click();
  await expect(page.getByRole("textbox", { name: /^Its height/ }).first()).toHaveValue("1 3/16");
  await scan(page);
  await page.getByRole("textbox", { name: /^Its height/ }).first().fill("1 1/16");
  await page.getByRole("button", { name: "Save the correction" }).click();
  await expect(page.getByRole("alert")).toContainText("Why it is changed");
  await expect(page.getByRole("textbox", { name: /^Its height/ }).first()).toHaveValue("1 1/16");
  await scan(page);
  await page.getByLabel("Why it is changed").fill("typing slip");
  await page.getByRole("button", { name: "Save the correction" }).click();
  await expect(page.getByText(/was .+, now/).first()).toBeVisible();
  await page.goto(plot);
  await page.locator(".exhibit").getByRole("link", { name: /versions/ }).first().click();
  await expect(page.getByText("typing slip").first()).toBeVisible();

  // Everything leaves in one file.
  await page.goto(`${bare}/export`);
  const started = page.waitForEvent("download");
  await page.getByRole("link", { name: /archive/i }).first().click();
  const file = await (await started).path();
  const archive = readFileSync(file, "utf8");
  for (const part of ["Long Furrow Farm", "Lower field", "typing slip"]) expect(archive).toContain(part);
});

test("every form and every refusal stands up to a scan and a thumb", async ({ page, demo }) => {
  test.setTimeout(300_000);
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(`${page.url()}: ${error.message}`));
  const answer = await fetch(`${demo}/api/record`);
  const { plots, jars } = (await answer.json()) as { plots: { id: string }[]; jars: { id: string }[] };
  const plot = `${demo}/plots/${plots[0]?.id ?? ""}/record`;
  await page.goto(`${demo}/record`);
  await scan(page);
  await page.goto(`${plot}?for=laboratory`);
  await scan(page);
  await largeEnough(page);
  for (const kind of KINDS) {
    await page.goto(`${plot}/${kind}`);
    await scan(page);
    await largeEnough(page);
    if (kind === "feel") continue;
    await page.locator("main form .actions button").first().click();
    await expect(page.getByRole("alert"), kind).toBeFocused();
    await expect(page).toHaveTitle(/^Error: /);
    await scan(page);
  }
  await page.goto(`${demo}/records/${jars[0]?.id ?? ""}/jar`);
  await scan(page);
  await largeEnough(page);
  expect(trouble).toEqual([]);
});

test("the feel test goes on and back, one question a page", async ({ page, bare }) => {
  const plot = await begin(page, bare);
  await page.goto(`${plot}/record/feel`);
  await largeEnough(page);
  await page.getByRole("button", { name: "Yes, it holds" }).click();
  await page.getByLabel(/Length of the ribbon/).fill("long");
  await page.getByRole("button", { name: "That is the length" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await expect(page.getByLabel(/Length of the ribbon/)).toHaveValue("long");
  await scan(page);
  await page.getByLabel(/Length of the ribbon/).fill("1 3/8");
  await page.getByRole("button", { name: "That is the length" }).click();
  await scan(page);
  await page.getByRole("button", { name: "Very gritty" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("It feels like sandy clay loam");
  await page.goBack();
  await page.getByRole("button", { name: "Very smooth" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("It feels like silty clay loam");
  await scan(page);
  await page.getByLabel("New to it").check();
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByText(/Nothing was known of this ground\. Now the odds are/)).toBeVisible();
});

test("the jar is drawn while its numbers are typed", async ({ page, bare }) => {
  const plot = await begin(page, bare);
  await page.goto(`${plot}/record/jar`);
  await page.getByLabel(/^Sand/).fill("2 3/16");
  await expect(page.locator("[data-look] svg.figure-jar")).toBeVisible();
  await expect(page.getByText("2 3/16 in = 55.6 mm")).toBeVisible();
  await page.getByRole("button", { name: /Could not see it: Clay/ }).click();
  await expect(page.getByLabel(/^Clay/)).toHaveValue("not seen");
  await page.getByLabel(/^Silt/).fill("wide");
  await page.getByLabel(/^Sand/).focus();
  await expect(page.getByText(/does not begin with a number/)).toBeVisible();
  await scan(page);
  // Only what the shape asks for is in sight.
  await expect(page.getByLabel("First height", { exact: false }).first()).toBeHidden();
  await page.getByLabel(/tapers or has shoulders/).check();
  await expect(page.getByLabel("Inside width there", { exact: false }).first()).toBeVisible();
  await scan(page);
});

test.describe("without script", () => {
  test.use({ javaScriptEnabled: false });

  test("a jar is looked at, saved and corrected by plain forms", async ({ page, bare }) => {
    const plot = await begin(page, bare);
    await page.goto(`${plot}/record/jar`);
    await page.getByLabel(/^Sand/).fill("1 in");
    await page.getByLabel(/^Silt/).fill("3/4 to 7/8 in");
    await page.getByLabel(/^Clay/).fill("not seen");
    await page.getByLabel("Still cloudy").check();
    await page.getByLabel(/Powdered dishwasher/).check();
    await page.getByRole("button", { name: /Look first/ }).click();
    await expect(page.locator("[data-look] svg.figure-jar")).toBeVisible();
    await expect(page.getByLabel(/^Silt/)).toHaveValue("3/4 to 7/8 in");
    await page.getByRole("button", { name: "Save" }).click();
    await expect(page.getByText(/Now the odds are/)).toBeVisible();
  });

  test("a timed jar is started, marked and told its clock times", async ({ page, bare }) => {
    const plot = await begin(page, bare);
    await page.goto(`${plot}/record/timed-jar`);
    await page.getByLabel(/^Height of the water/).fill("7 1/4 in");
    await page.getByLabel(/Powdered dishwasher/).check();
    await page.getByRole("button", { name: "I set it down now" }).click();
    await expect(page.locator(".timer time")).toHaveText(/^\d\d:\d\d:\d\d$/);
    await page.getByRole("button", { name: "Mark made now" }).click();
    await expect(page.locator(".made > li")).toHaveCount(1);
    await page.getByRole("textbox", { name: /^Height of this mark/ }).fill("1 in");
    await page.getByRole("button", { name: "Save the heights" }).click();
    await expect(page.locator(".made > li")).toContainText("1 in");
  });
});
