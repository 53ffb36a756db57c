// From a sampling plan to its map: plan kept, sheet and labels printed, results typed with the keyboard alone, map seen.
import { type Page, expect } from "@playwright/test";
import { scan } from "./app";
import { test } from "./own-farm";

/** A link leads to a file that is a PDF (ISO 32000-2, 7.5.2: it begins with %PDF-). */
async function leads_to_pdf(page: Page, farm: string, name: string | RegExp): Promise<void> {
  const to = await page.getByRole("link", { name }).first().getAttribute("href");
  const answer = await page.request.get(`${farm}${to ?? ""}`);
  expect(answer.status(), to ?? "no address").toBe(200);
  expect(answer.headers()["content-type"]).toBe("application/pdf");
  expect((await answer.body()).subarray(0, 5).toString("latin1")).toBe("%PDF-");
}

/** The plot gets its outline on the plan: 30 by 30 m beside what is drawn. */
async function draw(page: Page, farm: string, plot: string): Promise<void> {
  const sheets = (await (await page.request.get(`${farm}/api/sheets`)).json()) as {
    plots: { id: string; name: string }[];
  };
  const id = sheets.plots.find((one) => one.name === plot)?.id ?? "";
  const points = [
    [400, 400],
    [430, 400],
    [430, 430],
    [400, 430],
  ];
  const answer = await page.request.post(`${farm}/api/plan/parts`, {
    data: { kind: "plot", name: plot, plot: id, form: "area", points },
    headers: { origin: farm },
  });
  expect(answer.status()).toBe(201);
}

/** A plan of so many places on the plot, a bag for each. */
async function keep_plan(page: Page, farm: string, plot: string, places: number): Promise<void> {
  await page.goto(`${farm}/`);
  await page.getByRole("link", { name: plot, exact: true }).first().click();
  await page.getByRole("link", { name: "Where to pull cores" }).first().click();
  await page.getByLabel("How to choose the places").selectOption("spatial_coverage");
  await page.getByLabel("A bag for every place").check();
  await page.locator("summary", { hasText: "More to set" }).click();
  await page.getByLabel(/^Places/).fill(String(places));
  await page.getByRole("button", { name: "Work it out" }).click();
  await expect(page.getByRole("heading", { level: 2, name: "Where" })).toBeVisible();
  await scan(page);
  await page.getByLabel(/^Name of the plan/).fill("Spring round");
  await page.getByRole("button", { name: "Keep this plan" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Spring round");
}

test("a plan is walked, typed in with the keyboard alone, and seen on the map", async ({ page, demo }) => {
  test.setTimeout(180_000);
  await draw(page, demo, "New ground");
  await keep_plan(page, demo, "New ground", 12);
  await scan(page);
  await leads_to_pdf(page, demo, "Field sheet to print");
  await leads_to_pdf(page, demo, "Bag labels to print");

  await page.getByRole("link", { name: "Type the results in" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Type results in: Spring round");
  await scan(page);
  // Down the column of pH with Enter, one slip among them.
  await page.getByLabel("pH, Bag 1", { exact: true }).focus();
  const typed = ["6.1", "6.3", "71", "6.2", "6,4", "6.6", "6.7", "5.9", "6.0", "6.2", "6.5", "6.8"];
  for (const figure of typed) {
    await page.keyboard.type(figure);
    await page.keyboard.press("Enter");
  }
  // From the foot of one column to the head of the next.
  await expect(page.getByLabel("Organic matter %, Bag 1", { exact: true })).toBeFocused();
  await page.keyboard.type("3.1");
  await page.keyboard.press("Control+Enter");
  await expect(page.getByRole("alert")).toContainText("71");
  await expect(page.getByLabel("pH, Bag 3", { exact: true })).toHaveAttribute("aria-invalid", "true");
  await expect(page.getByLabel("pH, Bag 12", { exact: true })).toHaveValue("6.8");
  await expect(page.getByLabel("Organic matter %, Bag 1", { exact: true })).toHaveValue("3.1");
  await scan(page);
  // The summary leads to the cell; over with it and once more.
  await page.getByRole("alert").getByRole("link").first().press("Enter");
  await expect(page.getByLabel("pH, Bag 3", { exact: true })).toBeFocused();
  await page.keyboard.press("Control+a");
  await page.keyboard.type("7.1");
  await page.keyboard.press("Control+Enter");
  await expect(page.getByText("It is in the book.")).toBeVisible();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("New ground");

  // The map has them at their places.
  await page.goto(`${demo}/maps/ph`);
  await page.getByRole("combobox", { name: /^Plot/ }).selectOption({ label: "New ground" });
  await page.getByRole("button", { name: "Show it" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("pH, New ground");
  const map = page.getByRole("region", { name: "The map", exact: true });
  await map.locator("summary").first().click();
  for (const figure of ["7.1", "5.9", "6.8"]) await expect(map.getByText(figure).first()).toBeAttached();
  await scan(page);
  await leads_to_pdf(page, demo, "Print the map");

  // A label's code leads back to its bag.
  await page.goto(`${demo}/sheets`);
  await scan(page);
  await leads_to_pdf(page, demo, "Field sheet of Spring round");
  await leads_to_pdf(page, demo, "Bag labels of Spring round");
  await page.getByRole("link", { name: "Type the results in of Spring round" }).click();
  const beside = (await page.getByRole("row", { name: /^Bag 3/ }).getByRole("rowheader").innerText()).trim();
  const code = /[0-9A-Z]{4}-[0-9A-Z]{4}-3\b/.exec(beside)?.[0] ?? "no code";
  await page.goto(`${demo}/find`);
  await page.getByLabel(/^Code on the label/).fill(code.toLowerCase());
  await page.getByRole("button", { name: "Find it" }).click();
  await expect(page.getByRole("region", { name: "It is this" })).toContainText("New ground");
  await scan(page);
});

test("labels and strips that cannot be are refused, and what was typed stays", async ({ page, demo }) => {
  await page.goto(`${demo}/sheets`);
  await page.getByLabel("First label still on the sheet").fill("99");
  await page.getByRole("button", { name: "Make the labels" }).click();
  await expect(page.getByRole("alert")).toContainText("This sheet has the labels 1 to 30");
  await expect(page.getByLabel("First label still on the sheet")).toHaveValue("99");
  await scan(page);
  await page.getByLabel("Height of the jar's straight wall").fill("4 in");
  await page.getByLabel("Height of the water").fill("6 in");
  await page.getByRole("button", { name: "Make the strip" }).click();
  await expect(page.getByRole("alert")).toContainText("runs over");
  await expect(page.getByLabel("Height of the jar's straight wall")).toHaveValue("4 in");
  await scan(page);
});

test("a pasted table is kept whole or told line by line", async ({ page, demo }) => {
  await page.goto(`${demo}/sheets`);
  await page.getByRole("link", { name: /^Type results in ?of Lower clay/ }).click();
  await scan(page);
  await page.locator("summary", { hasText: "Paste a whole table" }).click();
  const table = page.getByLabel("Or the whole table");
  const pasted = "bag\tpH\tfeel\nLC-91\t6.4\t1 1/4 in gritty\nLC-92\tsour\t\n";
  await table.fill(pasted);
  await page.getByRole("button", { name: "Keep all of it" }).click();
  await expect(page.getByRole("alert")).toContainText("Line 3");
  await expect(table).toHaveValue(pasted);
  await expect(table).toBeVisible();
  await scan(page);
  await table.fill(pasted.replace("sour", "5.8"));
  await page.getByRole("button", { name: "Keep all of it" }).click();
  await expect(page.getByText("It is in the book.")).toBeVisible();
  await expect(page.getByText("LC-92").first()).toBeVisible();
  await leads_to_pdf(page, demo, "Labels for the last bags");
});
