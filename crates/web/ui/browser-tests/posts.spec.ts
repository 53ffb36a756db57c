// Posts in a browser: the ground to build on, the planned tunnel of the demonstration, its posts set otherwise and
// refused, the cautions on every page, earthworks, and the sheet; each page scanned on the way.
import { type Page, expect } from "@playwright/test";
import { scan } from "./app";
import { sheet } from "./feeding-walk";
import { test } from "./own-farm";

const CAUTIONS = [
  "Planning aid only",
  "Locate buried services before digging or driving",
  "the structure maker's anchoring instructions",
  "a licensed engineer",
  "may change what permit a tunnel needs",
];

async function cautioned(page: Page): Promise<void> {
  const box = page.locator(".caution").first();
  for (const caution of CAUTIONS) await expect(box).toContainText(caution);
}

test("a grower sizes the ground posts of a tunnel and reads the cautions", async ({ page, demo }) => {
  test.setTimeout(240_000);
  const farm = (await (await fetch(`${demo}/api`)).json()) as { plots: { id: string; name: string }[] };
  const creek = farm.plots.find((one) => one.name === "Creek field");
  const plot = `${demo}/plots/${creek?.id ?? "Creek field"}`;

  await page.goto(`${plot}/record/building-ground`);
  await scan(page);
  await page.getByLabel("Tilled or loosened down to").fill("9 in");
  await page.getByLabel("An open hole stayed dry down to").fill("6 ft");
  await page.getByRole("button", { name: /^Save/ }).click();
  await expect(page).toHaveURL(/done=kept/);

  await page.goto(plot);
  await page.getByRole("link", { name: /^Its posts ?: New tunnel/ }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Posts, New tunnel");
  await cautioned(page);
  await expect(page.locator("figure svg").first()).toBeVisible();
  await expect(page.locator("#wind").locator("..")).toContainText(/lets go|turns over|comes up/);
  await scan(page);

  await page.getByLabel("How deep its foot stands").fill("7 ft");
  await page.getByRole("button", { name: "Work it out" }).click();
  await expect(page.getByLabel("How deep its foot stands")).toHaveValue(/^7( ft)?$/);
  await expect(page.locator(".lead")).toContainText("84 in");
  await cautioned(page);

  await page.getByLabel("How deep its foot stands").fill("9 furlongs");
  await page.getByRole("button", { name: "Work it out" }).click();
  await expect(page.getByRole("alert")).toBeVisible();
  await expect(page.getByLabel("How deep its foot stands")).toHaveValue("9 furlongs");
  await scan(page);

  await page.getByRole("link", { name: "As it is written down" }).click();
  await sheet(page, "Print the post sheet", "posts");

  await page.goto(`${plot}/earthworks`);
  await cautioned(page);
  await expect(page.locator(".caution").first()).toContainText("Never enter an unsupported trench");
  await scan(page);
  await page.goto(`${plot}/posts`);
  await cautioned(page);
  await scan(page);

  await page.goto(`${demo}/work`);
  await expect(page.locator("main")).toContainText("Have buried services located for New tunnel");
});
