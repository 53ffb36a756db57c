// The water of a farm in a browser: from an empty folder to minutes of drip, a reading that puts the reckoning right,
// a watering, and a table of weather with wrong cells; each page and each refusal scanned on the way.
import type { Page } from "@playwright/test";
import { expect, fits, scan } from "./app";
import { test } from "./own-farm";
import { bedWater, day, dripTape, farmWithBed, feelTest, fillNormals, plant } from "./water-walk";

/** The page as it is, then with everything unfolded. */
async function scanned(page: Page): Promise<void> {
  await scan(page);
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll("details")) fold.open = true;
  });
  await scan(page);
}

/** Everything up to the advice, by the quickest way. */
async function advised(page: Page, base: string): Promise<{ plot: string; bed: string }> {
  const plot = await farmWithBed(page, base);
  const bed = await bedWater(page, plot);
  await feelTest(page, plot);
  await dripTape(page, bed);
  await plant(page, bed);
  await page.goto(`${base}/weather/normals/new`);
  await fillNormals(page);
  await page.getByRole("button", { name: "Save" }).click();
  await page.goto(bed);
  await expect(page.locator(".call")).toHaveText(/^Run .+ today$/);
  return { plot, bed };
}

test("a new user is told how long to run the drip, corrects it by a handful, and waters", async ({ page, bare }) => {
  test.setTimeout(240_000);
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(`${page.url()}: ${error.message}`));
  page.on("console", (message) => {
    // A refused form answers with a status that Chromium writes into its console.
    if (message.type() === "error" && !message.text().includes("422")) trouble.push(`${page.url()}: ${message.text()}`);
  });
  const plot = await farmWithBed(page, bare);
  const bed = await bedWater(page, plot);

  // Nothing is known yet: the page says what it wants, and leads there.
  await expect(page.locator(".note", { hasText: "Wanted:" }).first()).toBeVisible();
  await scanned(page);
  await feelTest(page, plot);

  await page.goto(bed.replace(/beds\/(.+)\/water$/, "watering-systems/new?bed=$1"));
  await scan(page);
  await page.getByLabel(/Drip tape/).check();
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toContainText("Flow of the tape");
  await scan(page);
  await dripTape(page, bed);

  await page.goto(bed.replace(/beds\/(.+)\/water$/, "plantings/new?bed=$1"));
  await page.getByRole("combobox", { name: /^Crop/ }).fill("tomatto");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await expect(page.getByRole("combobox", { name: /^Crop/ })).toHaveValue("tomatto");
  await scan(page);
  await plant(page, bed);

  await page.goto(bed);
  await page.locator(".note", { hasText: /weather/i }).getByRole("link").first().click();
  await page.getByRole("link", { name: "Add the usual weather" }).click();
  await fillNormals(page);
  // A low above its high is named by its month, and everything else stays.
  await page.getByLabel("April, mean low").fill("90");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toContainText("April");
  await expect(page.getByLabel("April, mean low")).toHaveValue("90");
  await expect(page.getByLabel("December, rain")).toHaveValue("0.3");
  await scanned(page);
  await page.getByLabel("April, mean low").fill("64");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("row", { name: /April/ })).toContainText("88");
  await scanned(page);

  await page.goto(`${bare}/water`);
  await expect(page.getByRole("row", { name: /Bed 1/ })).toContainText(/Run .+ today/);
  await scanned(page);
  await page.getByRole("row", { name: /Bed 1/ }).getByRole("link").click();
  const call = page.locator(".call");
  await expect(call).toHaveText(/^Run .+ today$/);
  await scanned(page);
  const before = (await call.textContent()) ?? "";
  const minutes = await page.getByLabel("How long it ran").inputValue();
  expect(Number.parseFloat(minutes)).toBeGreaterThan(0);

  // A wet handful says that less is missing than was reckoned.
  await page.getByRole("link", { name: "Write down how moist it is" }).click();
  await page.getByRole("radio", { name: /^Wet/ }).check();
  await page.getByLabel("At which depth").fill("deep");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await expect(page.getByLabel("At which depth")).toHaveValue("deep");
  await expect(page.getByRole("radio", { name: /^Wet/ })).toBeChecked();
  await scan(page);
  await page.getByLabel("At which depth").fill("8 in");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { name: /What the .+ changes/ })).toBeVisible();
  await scanned(page);
  await page.goto(bed);
  await expect(page.locator(".exhibit").first()).toContainText(/By the reading the reckoning was .+ too dry/);
  await expect(call).not.toHaveText(before);
  await scanned(page);

  // The reading belonged to another bed: it is withdrawn, and the first advice stands again.
  await page.locator(".exhibit").first().getByRole("link", { name: /^Withdraw/ }).click();
  await page.getByLabel("Why").fill("the wrong bed");
  await page.getByRole("button", { name: "Withdraw it" }).click();
  await page.goto(bed);
  await expect(call).toHaveText(before);

  // Watered as advised; first with two amounts at once.
  await page.getByLabel(/water given to all its beds/).fill("40 gal");
  await page.getByRole("button", { name: "Write it down" }).click();
  await expect(page.getByRole("alert")).toContainText("only one of them");
  await expect(page.getByLabel(/water given to all its beds/)).toHaveValue("40 gal");
  await scan(page);
  await page.getByLabel(/water given to all its beds/).fill("");
  await page.getByRole("button", { name: "Write it down" }).click();
  await expect(page.getByRole("status")).toBeVisible();
  await expect(call).not.toHaveText(/^Run .+ today$/);
  await scanned(page);
  await page.goto(`${plot}/water`);
  await scanned(page);
  expect(trouble).toEqual([]);
});

test("a table of weather names its wrong cells, is mended, taken in and withdrawn as a whole", async ({ page, bare }) => {
  test.setTimeout(120_000);
  await farmWithBed(page, bare);
  await page.goto(`${bare}/weather`);
  await scan(page);
  await page.getByRole("link", { name: "Take in a table" }).click();
  await page.getByRole("button", { name: "Look at its columns" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await scan(page);
  const rows = ["Date,Tmax (C),Tmin (C),RHmax (%),RHmin (%),Rain (mm)"];
  for (let back = 6; back >= 1; back -= 1) rows.push(`${day(-back)},30,17,95,45,0`);
  rows[2] = `${day(-5)},17,30,95,45,0`;
  rows[4] = `${day(-3)},30,17,140,45,0`;
  await page.getByLabel("Or the table itself").fill(rows.join("\n"));
  await page.getByRole("button", { name: "Look at its columns" }).click();
  await expect(page.getByRole("heading", { name: "The table" }).or(page.getByText("What each column holds"))).toBeVisible();
  await page.getByLabel("Station or gauge").fill("Farm station");
  await scan(page);
  await page.getByRole("button", { name: "Take it in" }).click();

  await expect(page.getByRole("alert")).toContainText("Nothing was taken in");
  const wrong = page.getByRole("region", { name: "What is wrong" });
  await expect(wrong.getByRole("row", { name: /Line 3/ })).toContainText(/Tm(in|ax) \(C\)/);
  await expect(wrong.getByRole("row", { name: /Line 5/ })).toContainText("RHmax (%)");
  await expect(wrong.getByRole("row", { name: /Line 5/ })).toContainText("140");
  const table = page.getByLabel("Or the table itself");
  await expect(table).toHaveValue(rows.join("\n"));
  await expect(page.getByLabel("Station or gauge")).toHaveValue("Farm station");
  await scan(page);

  await table.fill(rows.join("\n").replace(",17,30,", ",30,17,").replace(",140,", ",94,"));
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("status")).toContainText("6");
  await expect(page.getByRole("heading", { name: /Farm station/ })).toBeVisible();
  await scan(page);
  await page.getByRole("link", { name: /^Withdraw the whole table/ }).click();
  await scan(page);
  await page.getByLabel("Why").fill("another farm's station");
  await page.getByRole("button", { name: "Withdraw it" }).click();
  await page.goto(`${bare}/weather`);
  await expect(page.getByText(/Withdrawn: .*another farm's station/)).toBeVisible();
  await expect(page.getByText("No measured day is in the book yet.")).toBeVisible();
  await scan(page);
});

test("the keyboard alone writes a watering down, and small or enlarged screens lose nothing", async ({ page, bare }) => {
  test.setTimeout(120_000);
  const { plot, bed } = await advised(page, bare);
  await page.goto(bed);
  const seen: string[] = [];
  for (let step = 0; step < 40 && !seen.includes("Write it down"); step += 1) {
    await page.keyboard.press("Tab");
    seen.push(await page.evaluate(() => document.activeElement?.id || (document.activeElement?.textContent ?? "").trim()));
  }
  const fields = seen.filter((name) => name.startsWith("field-"));
  expect([...new Set(fields)]).toEqual(["field-on", "field-minutes", "field-volume"]);
  // The minutes that are advised stand in the form: Enter is enough.
  await page.keyboard.press("Enter");
  await expect(page.getByRole("status")).toBeVisible();
  const working = page.locator("details.working > summary");
  await working.focus();
  await page.keyboard.press("Enter");
  await expect(page.locator("details.working li").first()).toBeVisible();

  const size = page.viewportSize();
  for (const path of [bed, `${bare}/water`, `${bare}/weather`, `${bare}/weather/normals/new`, `${plot}/water`]) {
    await page.setViewportSize({ width: 320, height: 640 });
    await page.goto(path);
    await fits(page);
    if (size !== null) await page.setViewportSize(size);
    await page.evaluate(() => {
      document.documentElement.style.setProperty("font-size", "200%");
    });
    await fits(page);
  }
});

test("on paper the bed keeps its advice and leaves its forms away", async ({ page, bare }) => {
  const { bed } = await advised(page, bare);
  await page.goto(bed);
  await page.emulateMedia({ media: "print" });
  await expect(page.locator(".call")).toBeVisible();
  await expect(page.getByRole("button", { name: "Write it down" })).toBeHidden();
  await expect(page.getByRole("heading", { name: "The week ahead" })).toBeVisible();
});

test.describe("without script", () => {
  test.use({ javaScriptEnabled: false });

  test("the bed, water today, the weather and a table of it work by plain forms", async ({ page, bare }) => {
    test.setTimeout(120_000);
    const { plot } = await advised(page, bare);
    await page.getByRole("button", { name: "Write it down" }).click();
    await expect(page.locator(".call")).not.toHaveText(/^Run .+ today$/);
    await page.goto(`${bare}/water`);
    await expect(page.getByRole("row", { name: /Bed 1/ })).toBeVisible();
    await page.goto(`${plot}/water`);
    await expect(page.getByRole("heading", { level: 1 })).toContainText("Lower field");
    await page.goto(`${bare}/weather/import`);
    await page.getByLabel("Or the table itself").fill(`Date,Tmax (C),Tmin (C),Rain (mm)\n${day(-1)},30,17,3`);
    await page.getByRole("button", { name: "Look at its columns" }).click();
    await page.getByLabel("Station or gauge").fill("Farm station");
    await page.getByRole("button", { name: "Take it in" }).click();
    await expect(page.getByRole("heading", { name: /Farm station/ })).toBeVisible();
  });
});
