// Looking again in a browser: the years of a plot with their picture, what a job did, and when to look next.
import { expect, scan } from "./app";
import { test } from "./own-farm";

test("the years of a plot are told from scatter, and the farm's looks stand by their dates", async ({ page, demo }) => {
  test.setTimeout(120_000);
  await page.goto(`${demo}/again`);
  await expect(page.locator("h1")).toHaveText("When to look again");
  await scan(page);
  await page.getByRole("link", { name: "Creek field" }).first().click();
  await expect(page.locator("h1")).toContainText("Over the years, Creek field");
  const ph = page.getByRole("region", { name: "pH in water" }).first();
  await expect(ph.locator("svg")).toBeVisible();
  await expect(ph).toContainText("rises by");
  await expect(ph).toContainText("The series is cut there");
  await scan(page);

  // The same figures without the picture.
  await ph.getByText("The picture in words and numbers").click();
  await expect(ph.getByRole("table").first()).toBeVisible();
  await page.getByRole("link", { name: "When to look next" }).click();
  await expect(page).toHaveURL(/#next$/);
  const next = page.getByRole("region", { name: "When to look next" });
  await expect(next.getByRole("link", { name: /Record it/ }).first()).toBeVisible();
  await next.getByText(/^Each of them/).first().click();
  await expect(next).toContainText(/again from \d+ \w+ \d{4}/);
  await scan(page);
});
