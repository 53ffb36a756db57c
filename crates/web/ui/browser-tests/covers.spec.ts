// Covers in a browser: the calendar, a choice for a gap, what is sown from it, how a cover ended and what it leaves.
import { expect, scan } from "./app";
import { test } from "./own-farm";
import { day } from "./water-walk";

test("from a gap in late summer to the nitrogen that the next crop finds", async ({ page, demo }) => {
  test.setTimeout(120_000);
  await page.goto(`${demo}/covers`);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Covers between crops");
  await scan(page);

  // Six weeks between lettuce and spinach.
  await page.getByRole("link", { name: /Choose a cover for Trial bed.*between lettuce and spinach/ }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("A cover for Trial bed");
  await scan(page);
  const asked = page.getByRole("group", { name: "What it is sown for" });
  await expect(asked.getByLabel("Cover the ground quickly")).toBeChecked();
  const until = page.getByLabel("Day the bed is wanted");
  const wanted = await until.inputValue();
  await until.fill("2020-01-01");
  await page.getByRole("button", { name: "Choose again" }).click();
  await expect(page.getByRole("alert")).toContainText("a cover is judged for 7 to 730");
  await expect(page.getByLabel("Day the bed is wanted")).toHaveValue("2020-01-01");
  await scan(page);
  await page.getByLabel("Day the bed is wanted").fill(wanted);
  await page.getByRole("button", { name: "Choose again" }).click();
  await expect(page.getByRole("article", { name: /Buckwheat/ })).toContainText("For it:");

  // Sown from there, it fills the gap and its seed is on the list.
  await page.getByRole("link", { name: /^Sow this ?: buckwheat/ }).first().click();
  await expect(page.getByLabel("Cover", { exact: true })).toHaveValue("buckwheat");
  await scan(page);
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByText(/Cover: buckwheat, to be sown/)).toBeVisible();
  await page.goto(`${demo}/covers`);
  await expect(page.getByRole("region", { name: "Seed to have" }).getByRole("row", { name: /buckwheat/ })).toBeVisible();
  await expect(page.getByRole("link", { name: /Choose a cover for Trial bed.*between lettuce and spinach/ })).toHaveCount(0);

  // A cover that stands is ended with what was cut from a frame.
  await page.getByRole("link", { name: "Write down a cover" }).click();
  await page.getByLabel("Bed", { exact: true }).selectOption({ label: "Herb bed, Creek field" });
  await page.getByLabel("Cover", { exact: true }).selectOption("oats");
  await page.getByLabel("Day it was sown").fill(day(-60));
  await page.getByRole("button", { name: "Save" }).click();
  await page.goto(`${demo}/covers`);
  await page.getByRole("link", { name: /^It ended ?: spring oats/ }).click();
  await page.getByLabel("How it was ended").selectOption("turned_in");
  await page.getByLabel("What was cut weighs").fill("3 lb");
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("alert")).toContainText("area it was cut from");
  await scan(page);
  await page.getByLabel("Cut from").fill("10 sq ft");
  await page.getByLabel("Not in flower yet, not headed").check();
  await page.getByRole("button", { name: "Save" }).click();
  await expect(page.getByRole("heading", { name: /spring oats, ended/ })).toBeVisible();
  await scan(page);

  // The cover that was turned in before the cabbage is credited on the feeding page.
  await page.goto(`${demo}/`);
  await page.getByRole("link", { name: "Creek field", exact: true }).first().click();
  await page.getByRole("link", { name: "Feeding", exact: true }).click();
  await expect(page.getByText(/cereal rye and hairy vetch ended on/).first()).toBeAttached();
});
