// What every browser test leans on: the running app, its list of pages, and the scan of a page.
import AxeBuilder from "@axe-core/playwright";
import { type Page, expect, test as base } from "@playwright/test";

/** A test with the app's address as its base. */
export const test = base.extend({
  baseURL: async ({}, use) => {
    const url = process.env["SPADEWORK_URL"];
    if (url === undefined) throw new Error("The app was not started.");
    await use(url);
  },
});

export { expect };

interface Document {
  paths: Record<string, Record<string, unknown>>;
}

/** Every page that is reached without knowing a plot: from the app's own description of itself. */
export async function pages(base: string): Promise<string[]> {
  const answer = await fetch(`${base}/api/openapi.json`);
  const document = (await answer.json()) as Document;
  return Object.entries(document.paths)
    .filter(([path, verbs]) => "get" in verbs && !path.includes("{") && path !== "/api/openapi.json")
    .map(([path]) => path.replace(/^\/api/, "") || "/");
}

/** Every page of the handbook. */
export async function methodPages(base: string): Promise<string[]> {
  const answer = await fetch(`${base}/api/methods`);
  const contents = (await answer.json()) as { chapters: { methods: { name: string }[] }[] };
  return contents.chapters.flatMap((chapter) => chapter.methods.map((method) => `/methods/${method.name}`));
}

/** WCAG 2.2 AA by axe, and nothing wider than the screen. */
export async function scan(page: Page): Promise<void> {
  const found = await new AxeBuilder({ page })
    .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"])
    .analyze();
  const told = found.violations.map(
    (violation) => `${violation.id} (${violation.impact ?? ""}): ${violation.nodes.map((node) => node.html).join("; ")}`,
  );
  expect(told, page.url()).toEqual([]);
  await fits(page);
}

/** Nothing is wider than the screen. A phone widens its window to what it is given, so the screen itself is asked. */
export async function fits(page: Page): Promise<void> {
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width, `width of ${page.url()}`).toBeLessThanOrEqual(page.viewportSize()?.width ?? 0);
}
