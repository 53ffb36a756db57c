// A map that is known beforehand is found again from its spots; least squares is held to its own definition: the
// misses are square to every column of the design (the normal equations, any textbook of linear regression).
import { describe, expect, it } from "vitest";
import { type Affine, type Pair, corners, fit, place, plain_miss_m, screen_matrix, worst_miss_m } from "./fit";

const spot = (map: Affine, x_px: number, y_px: number): Pair => ({ x_px, y_px, at: place(map, x_px, y_px) });

describe("fit", () => {
  // Plane geometry: three corners of a square of 100 m, the third 2 m too far; the best turn, scale and shift leaves more
  // than nothing and less than that.
  it("tells what three spots miss without slant and stretch", () => {
    const exact: Pair[] = [
      { x_px: 0, y_px: 0, at: [0, 100] },
      { x_px: 1000, y_px: 0, at: [100, 100] },
      { x_px: 1000, y_px: 1000, at: [100, 0] },
    ];
    expect(plain_miss_m(exact)).toBeLessThan(1e-9);
    const off = exact.map((pair, at): Pair => (at === 2 ? { ...pair, at: [100, -2] } : pair));
    expect(worst_miss_m(fit(off), off)).toBeLessThan(1e-9);
    expect(plain_miss_m(off)).toBeGreaterThan(0.3);
    expect(plain_miss_m(off)).toBeLessThan(2);
  });

  it("lays a picture with north up by two spots, and does not mirror it", () => {
    const map = fit([
      { x_px: 0, y_px: 0, at: [100, 200] },
      { x_px: 1000, y_px: 800, at: [200, 120] },
    ]);
    expect(corners(map, 1000, 800).map(([e, n]) => [Math.round(e), Math.round(n)])).toEqual([
      [100, 200],
      [200, 200],
      [200, 120],
      [100, 120],
    ]);
  });

  it("finds a turned and scaled picture again from two spots", () => {
    const [scale, angle] = [0.05, 0.4];
    const known: Affine = {
      a: scale * Math.cos(angle),
      b: scale * Math.sin(angle),
      c: -40,
      d: scale * Math.sin(angle),
      f: -scale * Math.cos(angle),
      g: 75,
    };
    const pairs = [spot(known, 120, 90), spot(known, 3010, 2200)];
    const found = fit(pairs);
    for (const key of ["a", "b", "c", "d", "f", "g"] as const) expect(found[key]).toBeCloseTo(known[key], 9);
    expect(worst_miss_m(found, pairs)).toBeLessThan(1e-9);
  });

  it("finds a stretched picture again from three", () => {
    const known: Affine = { a: 0.04, b: 0.011, c: 12, d: 0.002, f: -0.06, g: 310 };
    const found = fit([spot(known, 10, 20), spot(known, 900, 50), spot(known, 400, 700)]);
    for (const key of ["a", "b", "c", "d", "f", "g"] as const) expect(found[key]).toBeCloseTo(known[key], 9);
  });

  it("takes the least squares of four", () => {
    const pairs: Pair[] = [
      { x_px: 0, y_px: 0, at: [0.3, 99.6] },
      { x_px: 1000, y_px: 0, at: [100.2, 100.1] },
      { x_px: 1000, y_px: 1000, at: [99.7, 0.4] },
      { x_px: 0, y_px: 1000, at: [0.1, -0.2] },
    ];
    const map = fit(pairs);
    for (const axis of [0, 1] as const) {
      const miss = pairs.map((pair) => pair.at[axis] - place(map, pair.x_px, pair.y_px)[axis]);
      expect(miss.reduce((sum, one) => sum + one, 0)).toBeCloseTo(0, 9);
      expect(miss.reduce((sum, one, at) => sum + one * (pairs[at]?.x_px ?? 0), 0)).toBeCloseTo(0, 6);
      expect(miss.reduce((sum, one, at) => sum + one * (pairs[at]?.y_px ?? 0), 0)).toBeCloseTo(0, 6);
    }
    expect(worst_miss_m(map, pairs)).toBeGreaterThan(0.05);
  });

  it("refuses spots that settle nothing", () => {
    expect(() => fit([{ x_px: 1, y_px: 1, at: [0, 0] }])).toThrow(/two spots/);
    expect(() =>
      fit([
        { x_px: 1, y_px: 1, at: [0, 0] },
        { x_px: 1, y_px: 1, at: [9, 0] },
      ]),
    ).toThrow(/in the picture/);
    expect(() =>
      fit([
        { x_px: 1, y_px: 1, at: [5, 5] },
        { x_px: 800, y_px: 1, at: [5, 5] },
      ]),
    ).toThrow(/on the plan/);
    const line = [0, 500, 1000].map((x): Pair => ({ x_px: x, y_px: x, at: [x / 10, x / 10] }));
    expect(() => fit(line)).toThrow(/in one line/);
  });
});

it("lays an image on the screen by three of its corners", () => {
  expect(screen_matrix(200, 100, [10, 20], [110, 20], [10, 70])).toBe("matrix(0.5, 0, 0, 0.5, 10, 20)");
});
