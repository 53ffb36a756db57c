import { expect, it } from "vitest";
import { grid_lines, round_down_m, round_m } from "./grid";

it("takes round distances of the farm's own unit", () => {
  expect([0.03, 0.9, 1.5, 4, 5, 17, 60].map((least) => round_m(least, "metric"))).toEqual([
    0.05, 1, 2, 5, 5, 20, 100,
  ]);
  expect(round_m(17, "us")).toBeCloseTo(100 * 0.3048, 9);
  expect([0.9, 1.5, 4, 5, 17, 60].map((most) => round_down_m(most, "metric"))).toEqual([
    0.5, 1, 2, 5, 10, 50,
  ]);
  expect(round_down_m(17, "us")).toBeCloseTo(50 * 0.3048, 9);
});

it("draws its lines at whole steps over what is seen", () => {
  expect(grid_lines([-3, 2], [11, 6], 5)).toEqual([
    [
      [0, 2],
      [0, 6],
    ],
    [
      [5, 2],
      [5, 6],
    ],
    [
      [10, 2],
      [10, 6],
    ],
    [
      [-3, 5],
      [11, 5],
    ],
  ]);
});
