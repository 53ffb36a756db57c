// Maps in a browser: readings typed for the points of a plan, the map of a few, the surface of many with how sure it is,
// zones that become plots and go back, and the map of the farm.
import { expect, scan } from "./app";
import { test } from "./own-farm";

test("a few readings are shown as they are, many as a surface, and zones become plots", async ({ page, demo }) => {
  test.setTimeout(240_000);
  // Once it is parted, lists have its zones in its place.
  const whole = await pasture(demo);
  await page.goto(`${demo}/maps`);
  await scan(page);
  const row = page.getByRole("row", { name: /^pH / });
  await expect(row).toContainText("Long pasture (36)");

  // Four rings are too few for anything smooth.
  await page.getByRole("row", { name: /^Infiltration / }).getByRole("link", { name: "Long pasture" }).click();
  await expect(page.locator("figure svg")).toHaveCount(1);
  await expect(page.getByRole("region", { name: "Why this and not more" })).toContainText("nothing smooth is drawn below 10");
  await expect(page.getByRole("region", { name: "The plot as a whole" })).toContainText("from 4 readings");
  await scan(page);

  // Thirty-six allow a surface, with its uncertainty under it and the trial in plain words.
  await page.goto(`${demo}/maps`);
  await row.getByRole("link", { name: "Long pasture" }).click();
  await expect(page.locator(".lead")).toContainText("kriged surface");
  await expect(page.locator("figure svg")).toHaveCount(2);
  await expect(page.locator("figcaption").nth(1)).toContainText("How surely");
  await expect(page.getByRole("region", { name: "How good the surface is" })).toContainText("Each reading told from the others");
  await expect(page.getByRole("link", { name: "Print the map" })).toHaveAttribute("href", /map\.pdf\?plot=/);
  await scan(page);

  await page.getByRole("link", { name: "Zones of this plot" }).click();
  await expect(page.locator(".lead")).toContainText(/speak for \d zones/);
  await scan(page);
  await page.getByRole("link", { name: "2 zones" }).click();
  await page.getByRole("button", { name: "Make 2 plots of them" }).click();
  await expect(page).toHaveURL(/done=kept/);
  // One lands on the page of the plot that was parted, with its zones.
  await expect(page.locator(".note").first()).toContainText("This plot was parted");
  await expect(page.getByRole("link", { name: "Long pasture, zone 2" }).first()).toBeVisible();
  await scan(page);
  await page.goto(`${demo}/maps/ph`);
  const plots = page.getByRole("region", { name: "Plot by plot" });
  await expect(plots).toContainText("Long pasture, zone 1");
  await plots.getByRole("link", { name: "Long pasture, zone 2" }).click();
  await expect(page.locator("h1")).toContainText("Long pasture, zone 2");

  // A zone is a plot like any other: it can be sampled.
  await page.locator(".crumbs").getByRole("link", { name: "Long pasture, zone 2" }).click();
  await page.goto(`${page.url().replace(/[?#].*$/, "")}/sampling`);
  await expect(page.locator("h1")).toContainText("Long pasture, zone 2");
  // Of the two sizes of the picture the one that fits is seen.
  await expect(page.locator("figure svg").filter({ visible: true })).toHaveCount(1);

  // And back.
  await page.goto(`${demo}/maps`);
  await page.goto(`${demo}/maps/ph?plot=${whole}`);
  await page.getByRole("button", { name: "Join the zones back to one plot" }).click();
  await expect(page).toHaveURL(/done=corrected/);
  await page.goto(`${demo}/maps/ph`);
  await expect(plots).not.toContainText("zone 1");
});

test("the map of the farm tints plots by what they are as a whole", async ({ page, demo }) => {
  for (const [property, word] of [
    ["texture-class", "silt loam"],
    ["available-water", "in per foot"],
    ["lime-need", "none called for"],
    ["days-to-drain", "days"],
    ["standing-water", "likely"],
    ["saturated-conductivity", "in/h"],
  ] as const) {
    await page.goto(`${demo}/maps/${property}`);
    await expect(page.getByRole("region", { name: "Plot by plot" })).toContainText(word);
    await expect(page.locator("figure svg")).toHaveCount(1);
    await scan(page);
  }
});

/** The id of the pasture. */
async function pasture(base: string): Promise<string> {
  const answer = await fetch(`${base}/api/maps/ph`);
  const told = (await answer.json()) as { plots: { plot: string; name: string }[] };
  const found = told.plots.find((plot) => plot.name === "Long pasture");
  if (found === undefined) throw new Error("The demonstration has no pasture.");
  return found.plot;
}
