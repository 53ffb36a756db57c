/** Round distances for the grid and the scale bar, in the units of the farm. */
import { FOOT_M, type Units } from "./measure";
import type { Point } from "./point";

/** The smallest round distance that is at least so long: 1, 2 or 5 times a power of ten, of feet or metres. */
export function round_m(least_m: number, units: Units): number {
  const unit = units === "us" ? FOOT_M : 1;
  const wanted = least_m / unit;
  const ten = 10 ** Math.floor(Math.log10(wanted));
  const step = [1, 2, 5, 10].find((times) => times * ten >= wanted * (1 - 1e-9)) ?? 10;
  return step * ten * unit;
}

/** The largest round distance that is at most so long. */
export function round_down_m(most_m: number, units: Units): number {
  const unit = units === "us" ? FOOT_M : 1;
  const wanted = most_m / unit;
  const ten = 10 ** Math.floor(Math.log10(wanted));
  const step = [5, 2, 1].find((times) => times * ten <= wanted * (1 + 1e-9)) ?? 1;
  return step * ten * unit;
}

/** The lines of a grid over a part of the plan. */
export function grid_lines(south_west: Point, north_east: Point, step_m: number): [Point, Point][] {
  const lines: [Point, Point][] = [];
  const [west, south] = south_west;
  const [east, north] = north_east;
  for (let at = Math.ceil(west / step_m); at * step_m <= east; at += 1)
    lines.push([
      [at * step_m + 0, south],
      [at * step_m + 0, north],
    ]);
  for (let at = Math.ceil(south / step_m); at * step_m <= north; at += 1)
    lines.push([
      [west, at * step_m + 0],
      [east, at * step_m + 0],
    ]);
  return lines;
}
