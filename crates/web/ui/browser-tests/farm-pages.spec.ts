// The farm's pages in a browser: the start, plots, decisions, corrections and what is refused.
import { expect, scan } from "./app";
import { test } from "./own-farm";

interface Farm {
  plots: { id: string; name: string }[];
}

async function plots(base: string): Promise<Farm["plots"]> {
  const answer = await fetch(`${base}/api`);
  return ((await answer.json()) as Farm).plots;
}

async function plot(base: string, name: string): Promise<string> {
  const found = (await plots(base)).find((one) => one.name === name);
  if (found === undefined) throw new Error(`The demonstration has no plot ${name}.`);
  return found.id;
}

test("a new farm is made in four answers and goes on to its plots", async ({ page, bare }) => {
  await page.goto(bare);
  await expect(page).toHaveURL(/\/start$/);
  await scan(page);
  await page.getByRole("button", { name: "Make the farm" }).click();
  await expect(page.getByRole("alert")).toBeFocused();
  await scan(page);
  await page.getByLabel("What is the farm called").fill("Long Furrow Farm");
  await page.getByLabel("Metric").check();
  await page.getByLabel("Usual last frost").fill("12 May");
  await page.getByRole("button", { name: "Make the farm" }).click();

  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Add a plot");
  await page.getByLabel("Name").fill("Lower field");
  await page.getByLabel("Length").fill("150 ft");
  await page.getByRole("button", { name: "Save" }).click();
  // One side alone is no size; everything typed is still there.
  await expect(page.getByRole("alert")).toContainText("Width");
  await expect(page.getByLabel("Length")).toHaveValue("150 ft");
  await page.getByLabel("Width").fill("18");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Lower field");
  await scan(page);
  await page.getByRole("link", { name: "Plots", exact: true }).click();
  await expect(page.getByRole("row", { name: /Lower field/ })).toContainText("not known yet");
  await scan(page);
});

test("every plot of the demonstration stands up to a scan", async ({ page, demo }) => {
  test.setTimeout(300_000);
  await page.goto(demo);
  await scan(page);
  for (const { id, name } of await plots(demo)) {
    await page.goto(`${demo}/plots/${id}`);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText(name);
    // What is folded is scanned too.
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll("details")) fold.open = true;
    });
    await scan(page);
  }
});

test("a decision is taken from the plot's page", async ({ page, demo }) => {
  const creek = await plot(demo, "Creek field");
  await page.goto(`${demo}/plots/${creek}`);
  const card = page.locator("#finding-mulch");
  await expect(card).toBeVisible();
  await card.locator("summary").first().click();
  await card.getByRole("button", { name: /Accept/ }).click();
  await expect(page.getByRole("status")).toContainText("in the book");
  await expect(page.locator("#finding-mulch > summary")).toContainText("Accepted");

  await page.goto(`${demo}/plots/${creek}/findings/mulch`);
  await scan(page);
  await page.getByLabel(/Refuse/).check();
  await page.getByRole("button", { name: "Keep the decision" }).click();
  await expect(page.getByRole("alert")).toContainText("say why");
  await expect(page.getByLabel(/Refuse/)).toBeChecked();
  await scan(page);
  await page.getByLabel("Reason").fill("slugs");
  await page.getByRole("button", { name: "Keep the decision" }).click();
  await expect(page.locator("#finding-mulch > summary")).toContainText("Refused");
});

test("two windows that correct one note see both versions", async ({ page, context, demo }) => {
  await page.goto(`${demo}/notes/new`);
  await page.getByLabel("Note").fill("wet corner");
  await page.getByRole("button", { name: "Save" }).click();
  await page.locator(".kept-note", { hasText: "wet corner" }).getByRole("link", { name: "Correct" }).click();
  const other = await context.newPage();
  await other.goto(page.url());

  await page.getByRole("textbox", { name: "Note" }).fill("wet corner by the shed");
  await page.getByLabel("Why it is changed").fill("where");
  await page.getByRole("button", { name: "Save the change" }).click();
  await expect(page.getByRole("status")).toBeVisible();

  await other.getByRole("textbox", { name: "Note" }).fill("wet corner by the ditch");
  await other.getByLabel("Why it is changed").fill("where");
  await other.getByRole("button", { name: "Save the change" }).click();
  await expect(other.getByRole("heading", { name: "Two versions" })).toBeVisible();
  await expect(other.getByRole("table")).toContainText("by the shed");
  await expect(other.getByRole("textbox", { name: "Note" })).toHaveValue("wet corner by the ditch");
  await scan(other);
  await other.getByRole("button", { name: "Save the change" }).click();
  await expect(other.getByText("wet corner by the ditch")).toBeVisible();
});

test("what is withdrawn is named, and comes back", async ({ page, demo }) => {
  const creek = await plot(demo, "Creek field");
  await page.goto(`${demo}/plots/${creek}`);
  const jar = page.locator(".exhibit", { hasText: /Jar test/ }).first();
  const label = (await jar.getByRole("heading").textContent()) ?? "";
  await jar.getByRole("link", { name: /Withdraw/ }).click();
  await scan(page);
  await page.getByLabel("Why").fill("the wrong bag");
  await page.getByRole("button", { name: "Withdraw it" }).click();
  await expect(page.getByText(/the wrong bag/)).toBeVisible();
  await page.getByRole("link", { name: /Restore/ }).first().click();
  await page.getByLabel("Why").fill("it was the right one");
  await page.getByRole("button", { name: "Restore it" }).click();
  await expect(page.locator(".exhibit", { hasText: label.split(" by ")[0]?.slice(2) ?? "" }).first()).toBeVisible();
  await page.goto(`${demo}/plots/${creek}/history`);
  await scan(page);
});

test("the forms and what they refuse stand up to a scan", async ({ page, demo }) => {
  test.setTimeout(120_000);
  const creek = await plot(demo, "Creek field");
  for (const path of ["/plots/new", "/beds/new", "/structures/new", "/samples/new", "/notes/new", "/photos/new", "/import"]) {
    await page.goto(`${demo}${path}?plot=${creek}`);
    await scan(page);
    await page.locator("form .button").first().click();
    await expect(page.getByRole("alert")).toBeFocused();
    await scan(page);
    // The first problem leads to its field.
    await page.getByRole("alert").getByRole("link").first().click();
    const focused = await page.evaluate(() => document.activeElement?.id ?? "");
    expect(focused, path).toMatch(/^field-/);
  }
  await page.goto(`${demo}/records/${creek}/correct`);
  await scan(page);
  await page.goto(`${demo}/records/${creek}/history`);
  await scan(page);
});

test("a table with a wrong cell is listed line by line and can be mended in place", async ({ page, demo }) => {
  await page.goto(`${demo}/import`);
  await page.getByLabel("Or the table itself").fill("plot,date,sand_percent,silt_percent,clay_percent\nCreek field,2026-04-12,40,45,55\n");
  await page.getByRole("button", { name: "Look at its columns" }).click();
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("rowheader", { name: "Line 2" })).toBeVisible();
  await scan(page);
  const table = page.getByLabel("Or the table itself");
  await table.fill((await table.inputValue()).replace("55", "15"));
  await page.getByRole("button", { name: "Look at its columns again" }).click();
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("status")).toContainText("taken in");
});

test("everything can be taken out", async ({ page, demo }) => {
  await page.goto(`${demo}/export`);
  for (const [link, ending] of [["Take a backup", ".farmbook"], ["Take the archive", ".json"], ["plots", ".csv"]] as const) {
    const download = page.waitForEvent("download");
    await page.getByRole("link", { name: link, exact: true }).click();
    expect((await download).suggestedFilename()).toMatch(new RegExp(`${ending}$`));
  }
});

test.describe("without script", () => {
  test.use({ javaScriptEnabled: false });

  test("a plot is read, a finding opened and a note kept", async ({ page, demo }) => {
    const creek = await plot(demo, "Creek field");
    await page.goto(`${demo}/plots/${creek}`);
    const card = page.locator("#finding-crusting");
    await card.locator("summary").first().click();
    await card.locator("details.working > summary").click();
    await expect(card.locator(".working li").first()).toBeVisible();
    await page.getByRole("link", { name: "Write a note" }).click();
    await page.getByLabel("Note").fill("hoed before the rain");
    await page.getByRole("button", { name: "Save" }).click();
    await expect(page.getByText("hoed before the rain")).toBeVisible();
  });
});
