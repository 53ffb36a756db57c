// Quadrant bearings count from north or south towards east or west, azimuths clockwise from north: as in any
// handbook of land surveying (common practice, no source).
import { describe, expect, it } from "vitest";
import { bearing_words, read_bearing, read_side } from "./bearing";

describe("read_bearing", () => {
  it.each([
    ["N20E", 20],
    ["n 20° e", 20],
    ["S20E", 160],
    ["S 20 W", 200],
    ["N20W", 340],
    ["N 20°30' E", 20.5],
    ["110", 110],
    ["110°", 110],
    ["360", 0],
    ["east", 90],
    ["north-west", 315],
    ["SW", 225],
    ["at 45 degrees", 45],
  ])("reads %s", (text, degrees) => {
    expect(read_bearing(text)).toBeCloseTo(degrees, 9);
  });

  it("turns from the side before", () => {
    expect(read_bearing("right", 300)).toBe(30);
    expect(read_bearing("left", 30)).toBe(300);
    expect(read_bearing("straight on", 30)).toBe(30);
    expect(() => read_bearing("right")).toThrow(/side before it/);
  });

  it.each(["N95E", "400", "uphill", "N-5E", "20°70'"])("refuses %s with an example", (text) => {
    expect(() => read_bearing(text)).toThrow(/N20E/);
  });
});

describe("read_side", () => {
  it("reads a length and a bearing", () => {
    expect(read_side("40 ft N20E", "us")).toEqual({ length_m: 12.192, bearing: 20 });
    expect(read_side("40 ft 110", "us")).toEqual({ length_m: 12.192, bearing: 110 });
    expect(read_side("12 m, 110°", "us")).toEqual({ length_m: 12, bearing: 110 });
    expect(read_side("12 m right", "metric", 0)).toEqual({ length_m: 12, bearing: 90 });
    expect(read_side("12N20E", "metric")).toEqual({ length_m: 12, bearing: 20 });
    expect(read_side("12 m", "us")).toEqual({ length_m: 12 });
  });

  it("refuses what it cannot follow", () => {
    expect(() => read_side("12 miles", "us")).toThrow(/not a bearing/);
    expect(() => read_side("0 ft N", "us")).toThrow(/no length/);
  });
});

it("writes bearings as the farm's people do", () => {
  expect([20, 90, 160, 200, 340, 359.7, 0].map((degrees) => bearing_words(degrees, "us"))).toEqual([
    "N 20° E",
    "due east",
    "S 20° E",
    "S 20° W",
    "N 20° W",
    "due north",
    "due north",
  ]);
  expect(bearing_words(359.7, "metric")).toBe("0°");
});
