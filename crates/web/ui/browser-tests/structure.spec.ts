// The structure of a plot in a browser: a probe transect, the pan it finds, the decision, and what a spade block adds.
import type { Locator } from "@playwright/test";
import { expect, scan } from "./app";
import { test } from "./own-farm";
import { farmWithBed, feelTest } from "./water-walk";

test("a grower pushes a probe, sees the pan and is told whether to loosen", async ({ page, bare }) => {
  test.setTimeout(180_000);
  const row = (number: number): Locator => page.getByRole("textbox", { name: new RegExp(`^Point ${String(number)} `) });
  const plot = await farmWithBed(page, bare);
  await feelTest(page, plot);
  await page.goto(`${plot}/structure`);
  await expect(page.getByRole("region", { name: "The hard layer" })).toContainText("No probe was pushed yet");
  await scan(page);

  // Ten pushes; a reading that is none is named, and nothing that was typed is lost.
  await page.getByRole("link", { name: "Record a probe transect" }).click();
  await scan(page);
  await page.getByRole("radio", { name: /^At field capacity/ }).check();
  await page.getByText("More points").click();
  for (let point = 1; point <= 10; point += 1) {
    const readings = point === 4 ? "110, rocky, 330" : `${String(100 + point)}, 190, 340, 220`;
    await row(point).fill(readings);
  }
  await page.getByRole("button", { name: /^Save/ }).click();
  await expect(page.getByRole("alert")).toContainText("rocky");
  await expect(row(4)).toHaveValue("110, rocky, 330");
  await expect(row(9)).toHaveValue("109, 190, 340, 220");
  await scan(page);
  await row(4).fill("110, 190, 330, 210");
  await page.getByRole("button", { name: /^Save/ }).click();
  await expect(page).toHaveURL(/done=kept/);

  // One sign is no reason for iron: the spade is asked first.
  await page.goto(`${plot}/structure`);
  const pan = page.getByRole("region", { name: "The hard layer" });
  await expect(pan.locator("svg").first()).toBeVisible();
  await expect(pan).toContainText("10 of 10 pushes were stopped");
  await expect(pan).toContainText(/hard layer begins at \d+ in/);
  await expect(page.locator(".lead")).toContainText("Dig a block before iron goes in");
  await scan(page);

  await page.getByRole("link", { name: "Spade block" }).click();
  await scan(page);
  await page.getByLabel("Roots turn aside or thicken at a depth").check();
  await page.getByLabel("Flat plates that lie on each other").check();
  await page.getByRole("button", { name: /^Save/ }).click();
  await expect(page).toHaveURL(/done=kept/);
  await page.goto(`${plot}/structure`);
  await expect(page.locator(".lead")).toContainText(/loosen/i);
  await expect(page.getByRole("region", { name: "Loosen or not" })).toContainText("10 of 10 pushes were stopped");
  await expect(page.locator(".caution").first()).toContainText("buried services");
  await scan(page);

  await page.goto(`${bare}/work`);
  await expect(page.locator("main")).toContainText(/loosen/i);
});
