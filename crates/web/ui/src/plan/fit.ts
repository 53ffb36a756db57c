/**
 * Lays a picture on the plan by spots known in both. Two spots give a similarity (shift, turn, one scale; the
 * picture is not stretched); three or more an affine map by least squares. Pixels count right and down.
 */
import type { Point } from "./point";
import { Refused } from "./measure";

export interface Pair {
  x_px: number;
  y_px: number;
  at: Point;
}

/** e = a x + b y + c, n = d x + f y + g. */
export interface Affine {
  a: number;
  b: number;
  c: number;
  d: number;
  f: number;
  g: number;
}

export function place(map: Affine, x_px: number, y_px: number): Point {
  return [map.a * x_px + map.b * y_px + map.c, map.d * x_px + map.f * y_px + map.g];
}

const mean = (values: number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** As many spots as the book keeps of a picture. */
export const MOST_SPOTS = 3;

/** Fits the map; refuses spots that lie on each other or in one line. */
export function fit(pairs: readonly Pair[]): Affine {
  return fitted(pairs, pairs.length === 2);
}

/** How far the spots miss where the picture is only shifted, turned and scaled: what its slant and stretch take up. */
export function plain_miss_m(pairs: readonly Pair[]): number {
  return worst_miss_m(fitted(pairs, true), pairs);
}

function fitted(pairs: readonly Pair[], plain: boolean): Affine {
  if (pairs.length < 2) throw new Refused("A picture is fixed by two spots or more: mark another one.");
  const [x0, y0] = [mean(pairs.map((pair) => pair.x_px)), mean(pairs.map((pair) => pair.y_px))];
  const [e0, n0] = [mean(pairs.map((pair) => pair.at[0])), mean(pairs.map((pair) => pair.at[1]))];
  // Both seen from their own middle, which keeps the sums small; y turned up, as north is.
  const seen = pairs.map((pair) => ({
    x: pair.x_px - x0,
    y: y0 - pair.y_px,
    e: pair.at[0] - e0,
    n: pair.at[1] - n0,
  }));
  const sum = (of: (one: (typeof seen)[number]) => number): number =>
    seen.reduce((total, one) => total + of(one), 0);
  const [xx, yy, xy] = [sum((p) => p.x * p.x), sum((p) => p.y * p.y), sum((p) => p.x * p.y)];
  if (xx + yy < 1)
    throw new Refused("The spots lie on each other in the picture: mark spots that are far apart.");
  if (sum((p) => p.e * p.e + p.n * p.n) < 1e-6) {
    throw new Refused("The spots lie on each other on the plan: give places that are far apart.");
  }

  let turn: [number, number, number, number];
  if (plain) {
    const p = sum((one) => one.x * one.e + one.y * one.n) / (xx + yy);
    const q = sum((one) => one.x * one.n - one.y * one.e) / (xx + yy);
    turn = [p, -q, q, p];
  } else {
    const whole = xx * yy - xy * xy;
    if (whole < 1e-6 * (xx + yy) ** 2) {
      throw new Refused(
        "The spots lie in one line, so the picture could be stretched any way: mark one to the side of it.",
      );
    }
    const [xe, ye] = [sum((p) => p.x * p.e), sum((p) => p.y * p.e)];
    const [xn, yn] = [sum((p) => p.x * p.n), sum((p) => p.y * p.n)];
    turn = [
      (xe * yy - ye * xy) / whole,
      (ye * xx - xe * xy) / whole,
      (xn * yy - yn * xy) / whole,
      (yn * xx - xn * xy) / whole,
    ];
    if (Math.abs(turn[0] * turn[3] - turn[1] * turn[2]) < 1e-12) {
      throw new Refused("The places lie in one line on the plan: give one to the side of it.");
    }
  }
  const [a, up_e, d, up_n] = turn;
  const [b, f] = [-up_e, -up_n];
  return { a, b, c: e0 - a * x0 - b * y0, d, f, g: n0 - d * x0 - f * y0 };
}

/** The corners of the picture on the plan: top left, top right, bottom right, bottom left. */
export function corners(map: Affine, width_px: number, height_px: number): [Point, Point, Point, Point] {
  return [
    place(map, 0, 0),
    place(map, width_px, 0),
    place(map, width_px, height_px),
    place(map, 0, height_px),
  ];
}

/** How far the known spots miss their places: the largest distance. */
export function worst_miss_m(map: Affine, pairs: readonly Pair[]): number {
  return Math.max(
    0,
    ...pairs.map(({ x_px, y_px, at }) => {
      const [e, n] = place(map, x_px, y_px);
      return Math.hypot(e - at[0], n - at[1]);
    }),
  );
}

/** The CSS matrix that lays an image of this size so that its top left, top right and bottom left come to three spots of the screen. */
export function screen_matrix(
  width_px: number,
  height_px: number,
  top_left: readonly [number, number],
  top_right: readonly [number, number],
  bottom_left: readonly [number, number],
): string {
  const a = (top_right[0] - top_left[0]) / width_px;
  const b = (top_right[1] - top_left[1]) / width_px;
  const c = (bottom_left[0] - top_left[0]) / height_px;
  const d = (bottom_left[1] - top_left[1]) / height_px;
  return `matrix(${a}, ${b}, ${c}, ${d}, ${top_left[0]}, ${top_left[1]})`;
}
