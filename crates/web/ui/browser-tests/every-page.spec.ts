// Each page and each refused form: scanned, without console errors, without a request to anywhere else.
import { expect, methodPages, pages, scan, test } from "./app";

test("every page stands up to a scan and asks nobody else", async ({ page, baseURL }) => {
  test.setTimeout(900_000);
  const base = baseURL ?? "";
  const trouble: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") trouble.push(`${page.url()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => trouble.push(`${page.url()}: ${error.message}`));
  page.on("request", (request) => {
    if (!request.url().startsWith(base) && !request.url().startsWith("data:")) trouble.push(request.url());
  });
  for (const path of [...(await pages(base)), ...(await methodPages(base))]) {
    const answer = await page.goto(path);
    expect(answer?.status(), path).toBeLessThan(400);
    await scan(page);
  }
  expect(trouble).toEqual([]);
});

test("a page that is not there says so", async ({ page }) => {
  const answer = await page.goto("/no/such/page");
  expect(answer?.status()).toBe(404);
  await scan(page);
});

test("a refused trial shows the problem first, keeps what was typed, and leads to the field", async ({ page }) => {
  await page.goto("/methods/texture-class");
  const sand = page.getByLabel("sand_percent");
  await sand.fill("about 40");
  await page.getByRole("button", { name: "Compute" }).click();
  const summary = page.getByRole("alert");
  await expect(summary).toBeFocused();
  await expect(page).toHaveTitle(/^Error: /);
  await expect(sand).toHaveValue("about 40");
  await expect(sand).toHaveAccessibleDescription(/could not|not/);
  await scan(page);
  await summary.getByRole("link").first().click();
  await expect(sand).toBeFocused();
});

test("a trial answers with its working", async ({ page }) => {
  await page.goto("/methods/texture-class");
  await page.getByLabel("sand_percent").fill("10");
  await page.getByLabel("silt_percent").fill("30");
  await page.getByLabel("clay_percent").fill("60");
  await page.getByRole("button", { name: "Compute" }).click();
  const result = page.locator(".result");
  await expect(result.locator("td", { hasText: /^clay$/ })).toBeVisible();
  await expect(page.locator(".working li").first()).toBeVisible();
});
