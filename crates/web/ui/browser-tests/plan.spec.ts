// The plan of the farm in a browser: a plot drawn by dragging and another by typing its sides, steps back, a corner
// moved, a refusal, two people at once; each is still there after a reload, on a desk and on a phone.
import { type Locator, type Page, expect } from "@playwright/test";
import { fits, scan } from "./app";
import { test } from "./own-farm";

interface Part {
  id: string;
  revision: number;
  kind: string;
  name: string;
  plot: string | null;
  form: string;
  points: [number, number][];
  holes: [number, number][][];
  area_m2: number;
}

async function part(page: Page, farm: string, name: string): Promise<Part | undefined> {
  const plan = (await (await page.request.get(`${farm}/api/plan`)).json()) as { parts: Part[] };
  return plan.parts.find((one) => one.name === name);
}

const said = (page: Page): Locator => page.locator(".plan-said");
const button = (page: Page, name: string | RegExp): Locator =>
  page.locator(".plan-table").getByRole("button", { name });

/** Drags over the plan: with a finger where the device has one, else with the mouse. */
async function drag(
  page: Page,
  from: readonly [number, number],
  to: readonly [number, number],
): Promise<void> {
  const steps = [0.2, 0.4, 0.6, 0.8, 1].map(
    (share) => [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share] as const,
  );
  const has_finger = await page.evaluate(() => navigator.maxTouchPoints > 0);
  if (!has_finger) {
    await page.mouse.move(...from);
    await page.mouse.down();
    for (const step of steps) await page.mouse.move(...step);
    await page.mouse.up();
    return;
  }
  const finger = await page.context().newCDPSession(page);
  const touch = (
    type: "touchStart" | "touchMove" | "touchEnd",
    at?: readonly [number, number],
  ): Promise<unknown> =>
    finger.send("Input.dispatchTouchEvent", {
      type,
      touchPoints: at === undefined ? [] : [{ x: at[0], y: at[1] }],
    });
  await touch("touchStart", from);
  for (const step of steps) await touch("touchMove", step);
  await touch("touchEnd");
}

/** The plan in sight, as a box on the screen. */
async function board(page: Page): Promise<{ x: number; y: number; width: number; height: number }> {
  const map = page.locator(".plan-map");
  await map.scrollIntoViewIfNeeded();
  const box = await map.boundingBox();
  if (box === null) throw new Error("The plan is not on the screen.");
  return box;
}

async function open(page: Page, farm: string): Promise<void> {
  await page.goto(`${farm}/plan`);
  await expect(page.locator(".plan-map")).toBeVisible();
}

/** Zooms out until a rectangle in a corner of the plan lies beyond what is drawn. */
async function draw_rectangle(page: Page, name: string): Promise<void> {
  await button(page, "Zoom out").click();
  await button(page, "Zoom out").click();
  await page.getByLabel("Draw", { exact: true }).selectOption("plot");
  await button(page, "Drag a rectangle").click();
  const box = await board(page);
  const [left, top] = [box.x + box.width * 0.3, box.y + box.height * 0.7];
  await drag(page, [left, top], [left + 110, top + 80]);
  await expect(said(page)).toContainText("Rectangle drawn");
  await page.getByLabel("Name", { exact: true }).fill(name);
}

test("a plot is drawn by dragging, taken back, brought again, mended, and stays", async ({ page, demo }) => {
  test.setTimeout(240_000);
  const trouble: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") trouble.push(message.text());
  });
  page.on("pageerror", (error) => trouble.push(error.message));
  await open(page, demo);
  await scan(page);

  await draw_rectangle(page, "Far corner");
  await expect(page.locator(".plan-whole-now")).toHaveText(/(sq ft|ac|m²|ha), .+ around/);
  await scan(page);
  await button(page, "Save").click();
  await expect(said(page)).toHaveText("Far corner is in the book.");
  const drawn = await part(page, demo, "Far corner");
  expect(drawn?.form).toBe("area");
  expect(drawn?.points).toHaveLength(4);
  expect(drawn?.plot).not.toBeNull();

  await button(page, "Undo").click();
  await expect(said(page)).toContainText("Taken back");
  expect(await part(page, demo, "Far corner")).toBeUndefined();
  await button(page, "Redo").click();
  await expect(said(page)).toContainText("Done again");
  expect((await part(page, demo, "Far corner"))?.points).toEqual(drawn?.points);

  await page.reload();
  await button(page, /^Far corner/).click();
  const handle = page.locator('[data-handle="corner-0-2"]');
  await handle.scrollIntoViewIfNeeded();
  const box = await handle.boundingBox();
  expect(box?.width).toBeGreaterThanOrEqual(44);
  expect(box?.height).toBeGreaterThanOrEqual(44);
  const from = [(box?.x ?? 0) + 22, (box?.y ?? 0) + 22] as const;
  await drag(page, from, [from[0] - 40, from[1] - 25]);
  await expect(said(page)).toHaveText("Corner 3 of 4 moved");
  await handle.focus();
  await page.keyboard.press("ArrowLeft");
  await expect(handle).toBeFocused();
  await page.keyboard.press("Control+z");
  await expect(said(page)).toContainText("Taken back: Corner 3 of 4 moved");
  await fits(page);
  await scan(page);
  await button(page, "Save the change").click();
  await expect(said(page)).toHaveText("Far corner is in the book.");

  await page.reload();
  await expect(button(page, /^Far corner/)).toBeVisible();
  const mended = await part(page, demo, "Far corner");
  const apart = (at: number): number => {
    const [before, after] = [drawn?.points[at], mended?.points[at]];
    return Math.hypot((after?.[0] ?? 0) - (before?.[0] ?? 0), (after?.[1] ?? 0) - (before?.[1] ?? 0));
  };
  expect(apart(2)).toBeGreaterThan(1);
  // Kept as degrees to a tenth of a millimetre.
  expect(apart(0)).toBeLessThan(0.001);
  expect(trouble).toEqual([]);
});

/** How far names reach over the edge of the plan, and how many are shown. */
async function names_over(page: Page): Promise<{ over: number; shown: number }> {
  return page.locator(".plan-map").evaluate((map) => {
    const box = map.getBoundingClientRect();
    const names = [...map.querySelectorAll(".plan-name span")].map((name) => name.getBoundingClientRect());
    const over = names.map((name) =>
      Math.max(box.left - name.left, name.right - box.right, box.top - name.top, name.bottom - box.bottom),
    );
    return { over: Math.max(...over), shown: names.length };
  });
}

test("no name is cut by the edge of the plan, and the parts stand once where there is little room", async ({
  page,
  demo,
}) => {
  await open(page, demo);
  const is_wide = (page.viewportSize()?.width ?? 0) >= 960;
  await expect(page.locator(".plan-list")).toBeVisible();
  await expect(page.locator("#plan-drawn table")).toBeVisible({ visible: is_wide });
  for (let times = 0; times < 4; times += 1) {
    const { over, shown } = await names_over(page);
    expect(shown, "names are shown").toBeGreaterThan(0);
    expect(over, "pixels over the edge").toBeLessThanOrEqual(0);
    await button(page, "Zoom in").click();
  }
  // Moved, they are put right again.
  const box = await board(page);
  const middle = [box.x + box.width / 2, box.y + box.height / 2] as const;
  await drag(page, middle, [middle[0] - 60, middle[1] - 40]);
  await expect.poll(async () => (await names_over(page)).over).toBeLessThanOrEqual(0);
});

test("a plot is drawn by its sides and bearings, with the keyboard alone", async ({ page, demo }) => {
  test.setTimeout(240_000);
  await open(page, demo);
  await page.getByLabel("Draw", { exact: true }).selectOption("plot");
  await button(page, "Tap the corners").focus();
  await page.keyboard.press("Enter");
  const east = page.getByLabel("East of a new corner");
  if (!(await east.isVisible())) await page.locator("summary", { hasText: "Corners" }).press("Enter");
  await east.fill("-900 ft");
  await page.getByLabel("North of a new corner").fill("250 ft");
  await page.keyboard.press("Enter");
  const side = page.getByLabel(/^Next side/);
  await side.fill("about thirty");
  await page.keyboard.press("Enter");
  await expect(side).toHaveAccessibleDescription(/not a length/);
  for (const text of ["96 ft N20E", "30 ft right", "96 ft right"]) {
    await side.fill(text);
    await page.keyboard.press("Enter");
  }
  // 30 × 96 ft.
  await expect(page.locator(".plan-whole-now")).toHaveText("2,880 sq ft, 252 ft around");
  await expect(page.locator(".plan-side-now")).toHaveText("Side 3: 96 ft, S 20° W");
  await scan(page);
  await side.fill("30 ft right");
  await page.keyboard.press("Enter");
  await expect(page.getByLabel("Name", { exact: true })).toBeFocused();
  await page.keyboard.type("Slope");
  await page.keyboard.press("Enter");
  await expect(said(page)).toHaveText("Slope is in the book.");
  await page.reload();
  await expect(button(page, /^Slope/)).toBeVisible();
  // A foot is 0.3048 m exactly.
  expect((await part(page, demo, "Slope"))?.area_m2).toBeCloseTo(30 * 96 * 0.3048 ** 2, 1);
});

test("what is refused, unsaved or changed by somebody else is told, and nothing drawn is lost", async ({
  page,
  demo,
}) => {
  test.setTimeout(240_000);
  await open(page, demo);
  await draw_rectangle(page, "");
  await button(page, "Save").click();
  await expect(page.locator(".plan-table .error-summary")).toBeVisible();
  await expect(page.getByLabel("Name", { exact: true })).toHaveAttribute("aria-invalid", "true");
  await scan(page);
  await page.getByLabel("Name", { exact: true }).fill("Far corner");

  await page.context().setOffline(true);
  await button(page, "Save").click();
  await expect(said(page)).toContainText("What you drew stays here");
  await page.context().setOffline(false);
  await page.reload();
  await expect(said(page)).toContainText("Far corner was not saved yet");
  await button(page, "Save").click();
  await expect(said(page)).toHaveText("Far corner is in the book.");

  await button(page, /^Far corner/).click();
  await page.getByLabel("Name", { exact: true }).fill("Mine");
  const { id, revision, ...shape } = (await part(page, demo, "Far corner")) as Part;
  const theirs = {
    kind: shape.kind,
    name: "Theirs",
    plot: shape.plot,
    form: shape.form,
    points: shape.points,
    revision,
  };
  const answer = await page.request.post(`${demo}/api/plan/parts/${id}`, {
    data: theirs,
    headers: { origin: demo },
  });
  expect(answer.ok()).toBe(true);
  await button(page, "Save the change").click();
  await expect(page.locator(".plan-two")).toContainText("Theirs");
  await expect(page.locator(".plan-two")).toContainText("Mine");
  await scan(page);
  await button(page, "Save mine in its place").click();
  await expect(said(page)).toHaveText("Mine is in the book.");
  expect(await part(page, demo, "Theirs")).toBeUndefined();
  expect((await part(page, demo, "Mine"))?.id).toBe(id);
});

test("a pond is cut out of a field, and a place to keep out of says why", async ({ page, demo }) => {
  test.setTimeout(240_000);
  await open(page, demo);
  await button(page, /^Long pasture/).click();
  const whole = (await part(page, demo, "Long pasture"))?.area_m2 ?? 0;
  await page.locator(".plan-sheet summary", { hasText: "Cut a piece out of it" }).click();
  await button(page, "Tap the corners of the piece").click();
  await expect(said(page)).toContainText("Tap the corners of the piece that is cut out");
  await page.locator(".plan-map").scrollIntoViewIfNeeded();
  const field = await page.locator(".plan-draft").first().boundingBox();
  if (field === null) throw new Error("The field is not on the screen.");
  const has_finger = await page.evaluate(() => navigator.maxTouchPoints > 0);
  const tap = async (x: number, y: number): Promise<void> => {
    const [east, south] = [field.x + field.width * x, field.y + field.height * y];
    await (has_finger ? page.touchscreen.tap(east, south) : page.mouse.click(east, south));
  };
  for (const [corner, at] of (
    [
      [0.3, 0.3],
      [0.7, 0.3],
      [0.7, 0.7],
    ] as const
  ).entries()) {
    await tap(at[0], at[1]);
    await expect(said(page)).toHaveText(`Corner ${corner + 1} set`);
  }
  await button(page, "Done drawing").click();
  await expect(said(page)).toContainText("Cut out");
  await scan(page);
  await fits(page);
  await button(page, "Save the change").click();
  await expect(said(page)).toHaveText("Long pasture is in the book.");
  const cut = await part(page, demo, "Long pasture");
  expect(cut?.holes).toHaveLength(1);
  // Half of 0.4 by 0.4 of the field, as near as a finger comes.
  expect((cut?.area_m2 ?? 0) / whole).toBeGreaterThan(0.88);
  expect((cut?.area_m2 ?? 0) / whole).toBeLessThan(0.96);
  await button(page, "Undo").click();
  await expect(said(page)).toContainText("Taken back");
  expect((await part(page, demo, "Long pasture"))?.holes).toEqual([]);

  await button(page, /^Manure heap/).click();
  await page.getByLabel("Why nothing is sampled there").selectOption("burn_spot");
  await button(page, "Save the change").click();
  await expect(said(page)).toHaveText("Manure heap is in the book.");
  const heap = (await part(page, demo, "Manure heap")) as Part & { why: string };
  expect(heap.why).toBe("burn_spot");
});

test("a walk saved by a phone comes in as a plot, and goes again as a whole", async ({ page, demo }) => {
  const walk = [
    [42.5001, -87.004],
    [42.5006, -87.004],
    [42.5006, -87.0033],
    [42.5001, -87.0033],
    [42.5001, -87.004],
  ];
  // Where it is winter in the north the demonstration lies in the south.
  const plan = (await (await page.request.get(`${demo}/api/plan`)).json()) as {
    origin: { latitude_degrees: number };
  };
  const south = plan.origin.latitude_degrees < 0 ? -85 : 0;
  const points = walk.map(([lat, lon]) => `<trkpt lat="${(lat ?? 0) + south}" lon="${lon}"/>`).join("");
  const gpx = `<gpx version="1.1" creator="a test"><trk><name>Round the far field</name><trkseg>${points}</trkseg></trk></gpx>`;
  await page.goto(`${demo}/plan/files`);
  await page
    .getByLabel("A file")
    .setInputFiles({ name: "walk.gpx", mimeType: "application/gpx+xml", buffer: Buffer.from(gpx) });
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("status").first()).toContainText("One thing came in from walk.gpx");
  await fits(page);
  const drawn = await part(page, demo, "Round the far field");
  // 55.5 m north to south by 57.5 m east to west (WGS 84).
  expect(drawn?.area_m2).toBeGreaterThan(3100);
  expect(drawn?.area_m2).toBeLessThan(3300);
  await page.getByRole("button", { name: /^Undo it as a whole/ }).click();
  await expect(page.getByRole("status").first()).toContainText("undone as a whole");
  expect(await part(page, demo, "Round the far field")).toBeUndefined();
});

test.describe("without script", () => {
  test.use({ javaScriptEnabled: false });

  test("the plan is read, drawn on by typing and mended", async ({ page, demo }) => {
    await page.goto(`${demo}/plan`);
    await expect(page.locator("svg.figure-plan:visible")).toHaveCount(1);
    await page.getByRole("link", { name: "Add by typing" }).click();
    await page.getByLabel("What it is").selectOption("plot");
    await page.getByLabel("Name").fill("Bow tie");
    await page.getByLabel("Or its corners or places").fill("900, 0\n1000, 100\n1000, 0\n900, 100");
    await page.getByRole("button", { name: "Keep it" }).click();
    await expect(page.getByText("Its outline crosses itself").first()).toBeVisible();
    await page.getByRole("link", { name: /^Look at/ }).click();
    await page.getByRole("button", { name: /^Part it where it crosses itself.*Bow tie/ }).click();
    await expect(page.getByText("The outline was mended")).toBeVisible();
    await page.getByRole("button", { name: /^Undo it as a whole/ }).click();
    await expect(page.getByText("Its outline crosses itself").first()).toBeVisible();
  });
});
