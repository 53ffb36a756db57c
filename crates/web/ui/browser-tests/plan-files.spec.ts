// What comes onto the plan from elsewhere: a walk of a phone, and a picture fixed by known spots.
import { crc32, deflateSync } from "node:zlib";
import { expect, scan } from "./app";
import { test } from "./own-farm";

/** A walk round a rectangle, as GPX 1.1 (the open schema of topografix.com) has it. */
function walk(south: number, west: number, north: number, east: number): string {
  const corners = [
    [south, west],
    [south, east],
    [north, east],
    [north, west],
    [south, west],
  ];
  const points = corners.map(([lat, lon]) => `<trkpt lat="${lat ?? 0}" lon="${lon ?? 0}"></trkpt>`).join("");
  return `<?xml version="1.0" encoding="UTF-8"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><name>Round the new ground</name><trkseg>${points}</trkseg></trk></gpx>`;
}

/** A grey picture of so many pixels, as PNG (ISO/IEC 15948). */
function png(width: number, height: number): Buffer {
  const chunk = (kind: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(kind, "latin1"), data]);
    const out = Buffer.alloc(body.length + 8);
    out.writeUInt32BE(data.length, 0);
    body.copy(out, 4);
    out.writeUInt32BE(crc32(body), body.length + 4);
    return out;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 8;
  const rows = Buffer.alloc((width + 1) * height, 0xc0);
  for (let row = 0; row < height; row += 1) rows[row * (width + 1)] = 0;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(rows)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

test("a walk round a plot is taken in, and one half a world away is told", async ({ page, demo }) => {
  test.setTimeout(120_000);
  const told = (await (await page.request.get(`${demo}/api/plan`)).json()) as {
    origin: { latitude_degrees: number; longitude_degrees: number };
  };
  const [south, west] = [told.origin.latitude_degrees, told.origin.longitude_degrees];
  await page.goto(`${demo}/plan`);
  await page.getByRole("link", { name: "Take in a walk or a file" }).click();
  await scan(page);
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByRole("alert")).toBeVisible();
  await scan(page);
  // 0.0009 degrees of latitude are some 100 m (the metre was made so: 10,000 km from pole to equator).
  await page.getByLabel("A file").setInputFiles({
    name: "walk.gpx",
    mimeType: "application/gpx+xml",
    buffer: Buffer.from(walk(south + 0.004, west + 0.004, south + 0.0049, west + 0.0052)),
  });
  await page.getByLabel("What it shows").selectOption("plot");
  await page.getByLabel("A walk in it went").selectOption({ index: 1 });
  await page.getByRole("button", { name: "Take it in" }).click();
  await expect(page.getByText("One thing came in from walk.gpx.")).toBeVisible();
  // It stands in the list to draw by, and once more in a table where there is room for both.
  await expect(page.getByRole("button", { name: /^Round the new ground/ })).toBeVisible();
  const is_wide = (page.viewportSize()?.width ?? 0) >= 960;
  await expect(page.getByRole("row", { name: /Round the new ground/ })).toBeVisible({ visible: is_wide });
  const parts = (await (await page.request.get(`${demo}/api/plan`)).json()) as {
    parts: { name: string; area_m2: number }[];
  };
  const area = parts.parts.find((part) => part.name === "Round the new ground")?.area_m2 ?? 0;
  // A degree of longitude is that of latitude times the cosine of the latitude, on the ellipsoid within 1 %.
  const square = 100.0 * (133.4 * Math.cos((south * Math.PI) / 180));
  expect(area / square).toBeGreaterThan(0.98);
  expect(area / square).toBeLessThan(1.02);
  await scan(page);
});

test("a picture is put under the plan and fixed by known spots", async ({ page, demo }) => {
  test.setTimeout(120_000);
  await page.goto(`${demo}/plan`);
  await page.getByRole("link", { name: "Put a picture under it" }).click();
  await scan(page);
  await page
    .getByLabel("Picture", { exact: true })
    .setInputFiles({ name: "air.png", mimeType: "image/png", buffer: png(1000, 500) });
  await page.getByLabel("What it is").fill("The farm from the air");
  await page.getByLabel(/^Two or three spots/).fill("somewhere = 120 ft, 40 ft");
  await page.getByRole("button", { name: "Keep it" }).click();
  await expect(page.getByRole("alert")).toContainText("two numbers of pixels are needed");
  await scan(page);
  // A refused page cannot hold a file: the browser asks for it again.
  await page
    .getByLabel("Picture", { exact: true })
    .setInputFiles({ name: "air.png", mimeType: "image/png", buffer: png(1000, 500) });
  await expect(page.getByLabel("What it is")).toHaveValue("The farm from the air");
  // Ten pixels to a metre, the upper left corner at the origin, north up.
  await page.getByLabel(/^Two or three spots/).fill("0, 0 = 0 m, 0 m\n1000, 0 = 100 m, 0 m");
  await page.getByRole("button", { name: "Keep it" }).click();
  await expect(page.getByText("The farm from the air").first()).toBeVisible();
  const plan = (await (await page.request.get(`${demo}/api/plan`)).json()) as {
    underlays: { name: string; corners: [number, number][] | null }[];
  };
  const corners = plan.underlays.find((one) => one.name === "The farm from the air")?.corners ?? [];
  expect(corners).toHaveLength(4);
  const far = [
    [0, 0],
    [100, 0],
    [100, -50],
    [0, -50],
  ].map((wanted) =>
    Math.min(...corners.map(([e, n]) => Math.hypot(e - (wanted[0] ?? 0), n - (wanted[1] ?? 0)))),
  );
  for (const off of far) expect(off).toBeLessThan(0.01);
  await scan(page);
});
