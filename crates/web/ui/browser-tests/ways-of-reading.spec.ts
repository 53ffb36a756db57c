// The same pages by keyboard, without script, at twice the size, in forced colours, and on paper.
import { expect, fits, scan, test } from "./app";

test("the keyboard reaches the page, the top bar and the form in order", async ({ page }) => {
  await page.goto("/methods/texture-class");
  await page.keyboard.press("Tab");
  await expect(page.getByRole("link", { name: "Skip to the page" })).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("main")).toBeFocused();
  const seen: string[] = [];
  for (let step = 0; step < 12; step += 1) {
    await page.keyboard.press("Tab");
    seen.push(await page.evaluate(() => document.activeElement?.id ?? ""));
  }
  expect(seen.filter((id) => id.startsWith("field-"))).toEqual([
    "field-sand_percent",
    "field-silt_percent",
    "field-clay_percent",
  ]);
});

test("what has the focus is seen to have it", async ({ page }) => {
  await page.goto("/patterns");
  for (const target of [page.getByRole("button", { name: "Save", exact: true }), page.getByLabel("Name")]) {
    await target.focus();
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Tab");
    const outline = await target.evaluate((element) => getComputedStyle(element).outlineStyle);
    expect(outline).toBe("solid");
  }
});

test.describe("without script", () => {
  test.use({ javaScriptEnabled: false });

  test("a method is tried by a plain form", async ({ page }) => {
    await page.goto("/methods/texture-class");
    await page.getByLabel("sand_percent").fill("140");
    await page.getByRole("button", { name: "Compute" }).click();
    await expect(page.getByRole("alert")).toContainText("0 to 100 %");
    await expect(page.getByLabel("sand_percent")).toHaveValue("140");
  });

  test("a timer still says when", async ({ page }) => {
    await page.goto("/patterns");
    await expect(page.getByText("The next mark is due on 1 January 2999")).toBeVisible();
  });
});

test("at twice the size of type nothing is lost sideways", async ({ page }) => {
  for (const path of ["/patterns", "/methods/texture-class"]) {
    await page.goto(path);
    // Set from outside, as a reader's browser would: the content policy forbids styles inside the page.
    await page.evaluate(() => {
      document.documentElement.style.setProperty("font-size", "200%");
    });
    await fits(page);
  }
});

test("forced colours and reduced motion keep everything readable", async ({ page }) => {
  await page.emulateMedia({ forcedColors: "active", reducedMotion: "reduce" });
  await page.goto("/patterns");
  await scan(page);
});

test("on paper the top bar and the forms stay away", async ({ page }) => {
  await page.emulateMedia({ media: "print" });
  await page.goto("/methods/texture-class");
  await expect(page.getByRole("navigation", { name: "Main" })).toBeHidden();
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  await expect(page.locator("form")).toBeHidden();
});

test("targets are large enough for a thumb", async ({ page }) => {
  await page.goto("/patterns");
  for (const target of await page.locator("form :is(.button, .answer, input[type=text], select), .top a").all()) {
    const box = await target.boundingBox();
    expect(box?.height ?? 0, await target.innerHTML()).toBeGreaterThanOrEqual(44);
  }
});
