// The international foot is 0.3048 m exactly and the acre 43,560 square feet (NIST Special Publication 811, appendix B).
import { describe, expect, it } from "vitest";
import { Refused, area_words, length_words, place_words, read_length, read_place } from "./measure";

describe("read_length", () => {
  it.each([
    ["40 ft", 12.192],
    ["40ft", 12.192],
    ["40", 12.192],
    ["31' 6\"", 9.6012],
    ["31′ 6", 9.6012],
    ["31 ft 6 1/2 in", 9.6139],
    ["1,200 ft", 365.76],
    ["12 m", 12],
    ["12,5 m", 12.5],
    ["4 yd", 3.6576],
    ["1/2 ft", 0.1524],
    ["900 mm", 0.9],
  ])("reads %s on a farm with US units", (text, metres) => {
    expect(read_length(text, "us")).toBeCloseTo(metres, 9);
  });

  it("takes a bare number in the farm's own unit", () => {
    expect(read_length("12.5", "metric")).toBe(12.5);
    expect(read_length("10", "us")).toBeCloseTo(3.048, 12);
  });

  it.each(["", "ft", "about 40", "40 furlongs", "0 ft", "12 m 3 m", "1.2.3 m", "40 ft N20E"])(
    "refuses %j with an example",
    (text) => {
      expect(() => read_length(text, "us")).toThrow(Refused);
      expect(() => read_length(text, "us")).toThrow(/40 ft/);
    },
  );
});

it("reads places west and south of the origin", () => {
  expect(read_place("-10 m", "us")).toBe(-10);
  expect(read_place("−3", "metric")).toBe(-3);
  expect(read_place("0", "metric")).toBe(0);
  expect(() => read_place("left", "us")).toThrow(/minus for west/);
});

it("writes lengths and areas in the farm's units", () => {
  expect(length_words(29.3624, "us")).toBe("96 ft 4 in");
  expect(length_words(9.144, "us")).toBe("30 ft");
  expect(length_words(0.2, "us")).toBe("8 in");
  expect(length_words(1523.4, "metric")).toBe("1,523.4 m");
  expect(area_words(30 * 96 * 0.3048 ** 2, "us")).toBe("2,880 sq ft");
  expect(area_words(4046.8564224, "us")).toBe("1 ac");
  expect(area_words(812.3, "metric")).toBe("812.3 m²");
  expect(area_words(12_345, "metric")).toBe("1.234 ha");
  expect(place_words(3.048, "us")).toBe("10");
  expect(place_words(-0.00001, "metric")).toBe("0");
});
