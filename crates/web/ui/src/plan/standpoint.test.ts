// Expected: metres for one degree on the WGS 84 ellipsoid, and the geodesic area of a field as computed with
// GeographicLib (16,287.017 m² for 43.0700 to 43.0712 N, 89.4000 to 89.3985 W).
import { describe, expect, it } from "vitest";
import { area_m2 } from "./point";
import { metres_per_degree, on_plan, trouble_words } from "./standpoint";

describe("metres_per_degree", () => {
  it.each([
    [0, 110_574.276, 111_319.491],
    [30, 110_852.442, 96_486.28],
    [40, 111_034.633, 85_393.857],
    [45, 111_131.777, 78_846.835],
    [60, 111_412.287, 55_800.002],
  ])("at %i degrees", (latitude, north, east) => {
    const { north_m, east_m } = metres_per_degree(latitude);
    expect(north_m).toBeCloseTo(north, 3);
    expect(east_m).toBeCloseTo(east, 3);
  });
});

it("gives a field its geodesic area", () => {
  const origin = { latitude_degrees: 43.0706, longitude_degrees: -89.4 };
  const ring = [
    [43.07, -89.4],
    [43.07, -89.3985],
    [43.0712, -89.3985],
    [43.0712, -89.4],
  ].map(([latitude, longitude]) => on_plan(origin, latitude ?? 0, longitude ?? 0));
  expect(area_m2(ring)).toBeCloseTo(16_287.017, 2);
});

it("crosses the date line", () => {
  const [east] = on_plan({ latitude_degrees: 0, longitude_degrees: 179.9999 }, 0, -179.9999);
  expect(east).toBeCloseTo(0.0002 * 111_319.491, 3);
});

it("says in words why the device gave no place", () => {
  expect(trouble_words(1)).toMatch(/not allowed/);
  expect(trouble_words(2)).toMatch(/could not tell/);
  expect(trouble_words(3)).toMatch(/in time/);
});
