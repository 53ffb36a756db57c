/** Plane geometry of the plan. A point is [east, north] in metres of the plan, as the app sends it. */

export type Point = readonly [east: number, north: number];

export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const plus = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const times = (a: Point, by: number): Point => [a[0] * by, a[1] * by];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
export const between = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** Sides of a line, or of a ring that closes. */
export function sides(points: readonly Point[], closed: boolean): [Point, Point][] {
  const found: [Point, Point][] = [];
  for (let at = 0; at + 1 < points.length; at += 1)
    found.push([points[at] as Point, points[at + 1] as Point]);
  if (closed && points.length > 2) found.push([points[points.length - 1] as Point, points[0] as Point]);
  return found;
}

export function length_m(points: readonly Point[], closed: boolean): number {
  return sides(points, closed).reduce((sum, [from, to]) => sum + between(from, to), 0);
}

/** Twice the area with its sign: positive where the corners run against the clock. Worked from the first corner, so that no digits are lost far from the origin. */
function twice(ring: readonly Point[]): number {
  const first = ring[0];
  if (first === undefined) return 0;
  let sum = 0;
  for (const [from, to] of sides(ring, true)) sum += cross(minus(from, first), minus(to, first));
  return sum;
}

/** Area of a ring less its holes, by the shoelace rule. */
export function area_m2(ring: readonly Point[], holes: readonly (readonly Point[])[] = []): number {
  const own = (one: readonly Point[]): number => Math.abs(twice(one)) / 2;
  return own(ring) - holes.reduce((sum, hole) => sum + own(hole), 0);
}

/** Where a name stands: the centre of area of a ring, else the middle of the points. */
export function centre(points: readonly Point[], closed: boolean): Point {
  const first = points[0] ?? [0, 0];
  const whole = twice(points);
  // An outline across itself has next to no area of its own, and a centre of that lies anywhere.
  if (!closed || Math.abs(whole) < 1e-9 || self_crossing(points) !== null) {
    const sum = points.reduce<Point>((total, point) => plus(total, minus(point, first)), [0, 0]);
    return plus(first, times(sum, 1 / Math.max(points.length, 1)));
  }
  let sum: Point = [0, 0];
  for (const [from, to] of sides(points, true)) {
    const [a, b] = [minus(from, first), minus(to, first)];
    sum = plus(sum, times(plus(a, b), cross(a, b)));
  }
  return plus(first, times(sum, 1 / (3 * whole)));
}

/** The point halfway along a line. */
export function halfway(points: readonly Point[]): Point {
  let left = length_m(points, false) / 2;
  for (const [from, to] of sides(points, false)) {
    const long = between(from, to);
    if (long >= left && long > 0) return plus(from, times(minus(to, from), left / long));
    left -= long;
  }
  return points[0] ?? [0, 0];
}

/** Whether a point lies in a ring. */
export function is_inside(point: Point, ring: readonly Point[]): boolean {
  let inside = false;
  for (const [[east, north], [to_east, to_north]] of sides(ring, true)) {
    if (
      north > point[1] !== to_north > point[1] &&
      point[0] < east + ((point[1] - north) * (to_east - east)) / (to_north - north)
    )
      inside = !inside;
  }
  return inside;
}

/** Direction from one point to another in degrees from north, clockwise, 0 up to 360. */
export function bearing_degrees(from: Point, to: Point): number {
  const degrees = (Math.atan2(to[0] - from[0], to[1] - from[1]) * 180) / Math.PI;
  return (degrees + 360) % 360;
}

/** The point at a distance and direction from another. */
export function along(from: Point, bearing: number, distance_m: number): Point {
  const angle = (bearing * Math.PI) / 180;
  return [from[0] + Math.sin(angle) * distance_m, from[1] + Math.cos(angle) * distance_m];
}

/** The same points turned about a point, clockwise. */
export function turned(points: readonly Point[], about: Point, degrees: number): Point[] {
  const angle = (degrees * Math.PI) / 180;
  const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
  return points.map((point) => {
    const [e, n] = minus(point, about);
    return plus(about, [e * cos + n * sin, n * cos - e * sin]);
  });
}

/** Where a point is nearest to a side. */
export function nearest(point: Point, [from, to]: readonly [Point, Point]): Point {
  const side = minus(to, from);
  const share = dot(minus(point, from), side) / Math.max(dot(side, side), 1e-18);
  return plus(from, times(side, Math.min(Math.max(share, 0), 1)));
}

/** Where two straight lines through a point with a direction meet; nothing where they run side by side. */
export function meeting(a: Point, along_a: Point, b: Point, along_b: Point): Point | null {
  const turn = cross(along_a, along_b);
  if (Math.abs(turn) < 1e-9 * Math.hypot(...along_a) * Math.hypot(...along_b)) return null;
  return plus(a, times(along_a, cross(minus(b, a), along_b) / turn));
}

/** Where two sides cross between their ends. */
function crossing([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): Point | null {
  const [ab, cd] = [minus(b, a), minus(d, c)];
  const turn = cross(ab, cd);
  if (turn === 0) return null;
  const s = cross(minus(c, a), cd) / turn;
  const t = cross(minus(c, a), ab) / turn;
  return s > 1e-9 && s < 1 - 1e-9 && t > 1e-9 && t < 1 - 1e-9 ? plus(a, times(ab, s)) : null;
}

/** The first place where an outline crosses itself. */
export function self_crossing(ring: readonly Point[]): Point | null {
  const all = sides(ring, true);
  for (const [at, one] of all.entries()) {
    for (const other of all.slice(at + 1)) {
      const found = crossing(one, other);
      if (found !== null) return found;
    }
  }
  return null;
}

/** The four corners of a rectangle between two opposite corners, its sides along a bearing and square to it. */
export function rectangle(from: Point, to: Point, bearing = 0): Point[] {
  const up = along([0, 0], bearing, 1);
  const across: Point = [up[1], -up[0]];
  const way = minus(to, from);
  const [rise, run] = [times(up, dot(way, up)), times(across, dot(way, across))];
  return [from, plus(from, rise), to, plus(from, run)];
}
