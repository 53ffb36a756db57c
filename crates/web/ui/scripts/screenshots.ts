// Pictures of the pages for the README, at the width of a desk and of a phone: `npm run screenshots`.
// SPADEWORK_BOOK names the farm book to show.
import { mkdirSync } from "node:fs";
import { resolve } from "node:path";
import { pages, test } from "../browser-tests/app";

const FOLDER = resolve(import.meta.dirname, "../../../../docs/screenshots");
const SIZES = { desktop: { width: 1280, height: 900 }, phone: { width: 390, height: 844 } };

/** What is worth a picture; a page that this book does not have is left out. */
const WANTED = ["/", "/record", "/methods", "/methods/texture-class", "/patterns"];

test("take the pictures", async ({ page, baseURL }) => {
  mkdirSync(FOLDER, { recursive: true });
  const there = [...(await pages(baseURL ?? "")), "/methods/texture-class"];
  for (const path of WANTED.filter((wanted) => there.includes(wanted))) {
    for (const [size, viewport] of Object.entries(SIZES)) {
      await page.setViewportSize(viewport);
      await page.goto(path);
      const name = path === "/" ? "farm" : path.slice(1).replaceAll("/", "-");
      await page.screenshot({ path: resolve(FOLDER, `${name}-${size}.png`) });
    }
  }
});
