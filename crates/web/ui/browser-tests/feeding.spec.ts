// Feeding a farm in a browser: a laboratory's table, the scheme, the shelf, the plan, the buying list, a job done and
// the balance that follows; each page and each refusal scanned on the way.
import { expect, scan } from "./app";
import { TABLE, morePlots, onTheShelf, planned, sheet } from "./feeding-walk";
import { test } from "./own-farm";
import { bedWater, farmWithBed, plant } from "./water-walk";

test("from the laboratory's table to a bag on the bed, and what that changes", async ({ page, bare }) => {
  test.setTimeout(300_000);
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(`${page.url()}: ${error.message}`));
  page.on("console", (message) => {
    // A refused form answers with a status that Chromium writes into its console.
    if (message.type() === "error" && !message.text().includes("422")) trouble.push(`${page.url()}: ${message.text()}`);
  });
  const plot = await farmWithBed(page, bare);
  const bed = await bedWater(page, plot);
  await morePlots(page, bare);

  // A PDF given where a table is wanted is told, and nothing is taken in.
  await page.goto(`${bare}/import`);
  await scan(page);
  const pdf = { name: "report.pdf", mimeType: "application/pdf", buffer: Buffer.from("%PDF-1.7\n%\u00e2\u00e3\n1 0 obj\n") };
  await page.getByLabel("A table from your disk").setInputFiles(pdf);
  await page.getByRole("button", { name: "Look at its columns" }).click();
  await expect(page.getByRole("alert")).toContainText("PDF");
  await scan(page);

  // Three samples: the columns are looked at, the open unit is asked for, then all rows come in.
  await page.goto(`${bare}/import`);
  await page.getByLabel("A table from your disk").setInputFiles({
    name: "spring.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(TABLE),
  });
  await page.getByLabel("Laboratory", { exact: false }).first().fill("Valley laboratory");
  await page.getByRole("button", { name: "Look at its columns" }).click();
  await expect(page.getByText("What each column holds")).toBeVisible();
  await scan(page);
  await page.getByLabel(/P \(Mehlich-3\).*unit/).selectOption("ppm");
  for (const column of [/P \(Mehlich-3\).*method/, /K \(Mehlich-3\) ppm.*method/, /Mg \(Mehlich-3\) ppm.*method/]) {
    await page.getByLabel(column).selectOption("mehlich_3_icp");
  }
  await page.getByLabel("Day of samples that have none").fill("2025-11-03");
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("status").first()).toContainText("3");
  await expect(page.getByRole("heading", { name: "spring.csv" })).toBeVisible();
  await expect(page.getByRole("row", { name: /Lower field/ }).first()).toBeVisible();
  await scan(page);
  await page.goto(`${bare}/import`);
  await expect(page.getByRole("row", { name: /spring\.csv/ })).toContainText("Valley laboratory");

  // Without a scheme nothing is classed; with the farm's own it is.
  await page.goto(`${plot}/lab`);
  await expect(page.getByRole("row", { name: /phosphorus/i }).first()).toContainText("12 ppm");
  await scan(page);
  await page.getByRole("link", { name: "Choose the scheme" }).click();
  await page.getByLabel("Scheme that laboratory figures are read by").selectOption("florida_m3");
  await page.getByRole("button", { name: "Save" }).click();
  await page.goto(`${plot}/lab`);
  await expect(page.getByRole("row", { name: /phosphorus/i }).first()).toContainText(/low/i);
  await scan(page);
  await page.goto(`${plot}/acidity`);
  await scan(page);

  await plant(page, bed);
  await page.goto(`${plot}/feeding`);
  const balance = page.getByRole("region", { name: "Given and taken" });
  const before = (await balance.textContent()) ?? "";
  await scan(page);

  // An empty shelf is told; three bags later there is a plan.
  await page.goto(`${bare}/spread`);
  await planned(page, "What to spread");
  await expect(page.locator(".call")).toContainText("shelf is empty");
  await scan(page);
  await page.goto(`${bare}/shelf`);
  await scan(page);
  await page.goto(`${bare}/materials/new?key=urea`);
  await page.getByLabel("What you call it").fill("Urea");
  await page.getByLabel("Price of one bag, load or jug").fill("thirty");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toContainText("thirty");
  await scan(page);
  await onTheShelf(page, bare, "urea", "Urea", "31.50");
  await onTheShelf(page, bare, "triple-superphosphate", "Triple superphosphate", "42.00");
  await onTheShelf(page, bare, "potassium-chloride", "Muriate of potash", "36.25");
  await scan(page);

  await page.goto(`${bare}/spread`);
  await planned(page, "What to spread");
  await expect(page.getByRole("heading", { name: /Lower field, Bed 1/ })).toBeVisible();
  await expect(page.getByRole("row", { name: /Urea/ })).toContainText(/lb|oz/);
  await scan(page);
  await sheet(page, /PDF/, "spread");
  await page.goto(`${bare}/buying`);
  await planned(page, "What to buy");
  await expect(page.getByRole("row", { name: /Urea/ })).toContainText("31.5");
  await expect(page.getByText(/^In all: /)).toBeVisible();
  await scan(page);
  await sheet(page, /PDF/, "buying");

  // The job of the bed is done, and the balance of the plot is another one.
  await page.goto(`${bare}/work`);
  await scan(page);
  await sheet(page, /sheet to print/, "work");
  const job = page.locator("details.job", { hasText: /Feed tomato/i });
  await job.locator("summary").click();
  await scan(page);
  await job.getByRole("link", { name: /^Mark it done/ }).click();
  await scan(page);
  await expect(page.getByLabel(/^Amount of Urea/)).toHaveValue(/^[\d .]+ (lb|oz)/);
  await page.getByLabel(/^Amount of Urea/).fill("much");
  await page.getByRole("button", { name: "It is done" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await expect(page.getByLabel(/^Amount of Urea/)).toHaveValue("much");
  await scan(page);
  await page.getByLabel(/^Amount of Urea/).fill("1 lb");
  await page.getByRole("button", { name: "It is done" }).click();
  await expect(page.getByRole("status").first()).toBeVisible();
  await scan(page);
  await page.goto(`${plot}/feeding`);
  await expect(balance).not.toHaveText(before);
  await scan(page);
  expect(trouble).toEqual([]);
});
