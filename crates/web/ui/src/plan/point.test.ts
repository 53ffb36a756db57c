// Expected values are worked from the plane geometry itself: rectangles, the 3-4-5 triangle, shifts far from the origin.
import { describe, expect, it } from "vitest";
import {
  type Point,
  along,
  area_m2,
  bearing_degrees,
  centre,
  halfway,
  is_inside,
  length_m,
  nearest,
  rectangle,
  self_crossing,
  turned,
} from "./point";

const FIELD: Point[] = [
  [0, 0],
  [0, 20],
  [50, 20],
  [50, 0],
];

describe("area and length", () => {
  it("gives a rectangle its sides", () => {
    expect(area_m2(FIELD)).toBe(1000);
    expect(length_m(FIELD, true)).toBe(140);
    expect(length_m(FIELD, false)).toBe(90);
  });

  it("takes the holes out and does not mind the way round", () => {
    const pond: Point[] = [
      [10, 5],
      [14, 5],
      [10, 8],
    ];
    expect(area_m2(FIELD, [pond])).toBe(994);
    expect(area_m2([...FIELD].reverse(), [[...pond].reverse()])).toBe(994);
    expect(length_m(pond, true)).toBe(12);
  });

  it("keeps its digits far from the origin", () => {
    const far = FIELD.map(([e, n]): Point => [e + 4e6, n - 7e6]);
    expect(area_m2(far)).toBeCloseTo(1000, 6);
    expect(centre(far, true)).toEqual([4e6 + 25, -7e6 + 10]);
  });

  it("has no area in a line or a point", () => {
    expect(area_m2([[3, 4]])).toBe(0);
    expect(
      area_m2([
        [0, 0],
        [5, 5],
      ]),
    ).toBe(0);
    expect(area_m2([])).toBe(0);
  });
});

it("puts a name in the middle", () => {
  expect(centre(FIELD, true)).toEqual([25, 10]);
  expect(
    centre(
      [
        [0, 0],
        [10, 0],
      ],
      false,
    ),
  ).toEqual([5, 0]);
  // The centre of area of an L is not the mean of its corners: two rectangles, 4 × 1 at (2, 0.5) and 1 × 3 at (0.5, 2.5).
  const [e, n] = centre(
    [
      [0, 0],
      [4, 0],
      [4, 1],
      [1, 1],
      [1, 4],
      [0, 4],
    ],
    true,
  );
  expect(e).toBeCloseTo((4 * 2 + 3 * 0.5) / 7, 12);
  expect(n).toBeCloseTo((4 * 0.5 + 3 * 2.5) / 7, 12);
});

it("counts bearings from north by east, and goes along them", () => {
  expect(bearing_degrees([0, 0], [0, 5])).toBe(0);
  expect(bearing_degrees([0, 0], [5, 0])).toBe(90);
  expect(bearing_degrees([0, 0], [-5, -5])).toBe(225);
  const [e, n] = along([10, 10], 30, 20);
  expect(e).toBeCloseTo(20, 12);
  expect(n).toBeCloseTo(10 + 10 * Math.sqrt(3), 12);
});

it("turns a part clockwise and keeps its size", () => {
  const round = turned(FIELD, [0, 0], 90);
  expect(round[1]?.[0]).toBeCloseTo(20, 12);
  expect(round[1]?.[1]).toBeCloseTo(0, 12);
  expect(area_m2(round)).toBeCloseTo(1000, 9);
});

it("finds the nearest spot of a side, never beyond its ends", () => {
  expect(
    nearest(
      [5, 3],
      [
        [0, 0],
        [10, 0],
      ],
    ),
  ).toEqual([5, 0]);
  expect(
    nearest(
      [15, 3],
      [
        [0, 0],
        [10, 0],
      ],
    ),
  ).toEqual([10, 0]);
});

it("finds where an outline crosses itself", () => {
  expect(
    self_crossing([
      [0, 0],
      [10, 10],
      [10, 0],
      [0, 10],
    ]),
  ).toEqual([5, 5]);
  expect(self_crossing(FIELD)).toBeNull();
});

it("draws a rectangle along a bearing", () => {
  expect(rectangle([0, 0], [50, 20])).toEqual(FIELD);
  const slanted = rectangle([0, 0], [0, 10], 45);
  expect(area_m2(slanted)).toBeCloseTo(50, 9);
  expect(bearing_degrees(slanted[0] as Point, slanted[1] as Point)).toBeCloseTo(45, 9);
});

it("finds the point halfway along a line, and what lies inside", () => {
  expect(
    halfway([
      [0, 0],
      [10, 0],
      [10, 30],
    ]),
  ).toEqual([10, 10]);
  expect(halfway([[3, 4]])).toEqual([3, 4]);
  expect(is_inside([25, 10], FIELD)).toBe(true);
  expect(is_inside([51, 10], FIELD)).toBe(false);
  expect(
    is_inside(
      [3, 3],
      [
        [0, 0],
        [4, 0],
        [4, 1],
        [1, 1],
        [1, 4],
        [0, 4],
      ],
    ),
  ).toBe(false);
});
