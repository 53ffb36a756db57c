/** Drawing to what is there: corners and edges of other parts, and right angles to the sides being drawn. */
import {
  type Point,
  along,
  bearing_degrees,
  between,
  cross,
  dot,
  meeting,
  minus,
  nearest,
  plus,
  sides,
  times,
} from "./point";

/** A straight line without ends that a side may follow. */
export interface Guide {
  through: Point;
  direction: Point;
}

/** What a point may be drawn to. */
export interface Targets {
  corners: readonly Point[];
  edges: readonly (readonly [Point, Point])[];
  guides: readonly Guide[];
}

export type Held = "corner" | "edge" | "square" | "square on an edge" | "square both ways";

export interface Snapped {
  at: Point;
  held: Held | null;
}

export const NO_TARGETS: Targets = { corners: [], edges: [], guides: [] };

function closest(point: Point, candidates: readonly Point[], within_m: number): Point | null {
  let best: Point | null = null;
  let least = within_m;
  for (const candidate of candidates) {
    const distance = between(point, candidate);
    if (distance <= least) [best, least] = [candidate, distance];
  }
  return best;
}

const onto = (point: Point, { through, direction }: Guide): Point =>
  plus(through, times(direction, dot(minus(point, through), direction) / dot(direction, direction)));

/**
 * Moves a point to the best thing within reach: a corner first, then where two things meet, then an edge,
 * then a right angle alone. Out of reach of all it stays where it is.
 */
export function snap(point: Point, targets: Targets, within_m: number): Snapped {
  const corner = closest(point, targets.corners, within_m);
  if (corner !== null) return { at: corner, held: "corner" };

  const guides = targets.guides.filter((guide) => between(point, onto(point, guide)) <= within_m);
  const edges = targets.edges.filter((edge) => between(point, nearest(point, edge)) <= within_m);
  const on_edges: Point[] = [];
  for (const guide of guides) {
    for (const [from, to] of edges) {
      const met = meeting(guide.through, guide.direction, from, minus(to, from));
      if (met !== null && between(met, nearest(met, [from, to])) < 1e-6) on_edges.push(met);
    }
  }
  const met = closest(point, on_edges, within_m);
  if (met !== null) return { at: met, held: "square on an edge" };

  const both: Point[] = [];
  for (const [at, one] of guides.entries()) {
    for (const other of guides.slice(at + 1)) {
      const cross_at = meeting(one.through, one.direction, other.through, other.direction);
      if (cross_at !== null) both.push(cross_at);
    }
  }
  const square = closest(point, both, within_m);
  if (square !== null) return { at: square, held: "square both ways" };

  const edge = closest(
    point,
    edges.map((one) => nearest(point, one)),
    within_m,
  );
  if (edge !== null) return { at: edge, held: "edge" };
  const guide = closest(
    point,
    guides.map((one) => onto(point, one)),
    within_m,
  );
  return guide === null ? { at: point, held: null } : { at: guide, held: "square" };
}

/** The lines through `from` that run on with, or square to, the side that ends there. */
function square_to(from: Point, before: Point): Guide[] {
  const side = minus(from, before);
  if (Math.hypot(...side) < 1e-9) return [];
  return [
    { through: from, direction: side },
    { through: from, direction: [side[1], -side[0]] },
  ];
}

/** Guides for the next corner of what is being drawn: square to the last side and, for an area, to the first. */
export function guides_for_next(points: readonly Point[], closed: boolean): Guide[] {
  const [last, before] = [points[points.length - 1], points[points.length - 2]];
  if (last === undefined) return [];
  if (before === undefined) {
    return [
      { through: last, direction: [0, 1] },
      { through: last, direction: [1, 0] },
    ];
  }
  const guides = square_to(last, before);
  const [first, second] = [points[0], points[1]];
  if (closed && points.length > 2 && first !== undefined && second !== undefined)
    guides.push(...square_to(first, second));
  return guides;
}

/** Guides for a corner that is moved: square to the sides beyond its two neighbours. */
export function guides_for_corner(points: readonly Point[], at: number, closed: boolean): Guide[] {
  const guides: Guide[] = [];
  const count = points.length;
  for (const way of [1, -1]) {
    const [next, beyond] = [at + way, at + 2 * way];
    if (!closed && (beyond < 0 || beyond >= count)) continue;
    if (closed && count < 4) continue;
    const [a, b] = [points[(next + count) % count], points[(beyond + count) % count]];
    if (a !== undefined && b !== undefined) guides.push(...square_to(a, b));
  }
  return guides;
}

/** How far to move a whole part so that one of its corners meets a corner or an edge of another. */
export function snap_whole(
  points: readonly Point[],
  moved: Point,
  targets: Targets,
  within_m: number,
): Point {
  let best: Point = moved;
  let least = within_m;
  let corner_found = false;
  for (const point of points) {
    const there = plus(point, moved);
    const { at, held } = snap(there, { ...targets, guides: [] }, within_m);
    if (held === null) continue;
    const distance = between(there, at);
    const is_corner = held === "corner";
    if ((is_corner && !corner_found) || (is_corner === corner_found && distance <= least)) {
      [best, least, corner_found] = [minus(at, point), distance, corner_found || is_corner];
    }
  }
  return best;
}

/** The bearing that a rectangle starting here should follow: that of an edge it starts on, else north. */
export function rectangle_bearing(
  from: Point,
  edges: readonly (readonly [Point, Point])[],
  within_m: number,
): number {
  let best = 0;
  let least = within_m;
  for (const edge of edges) {
    const distance = between(from, nearest(from, edge));
    if (distance <= least && between(...edge) > 1e-6) [best, least] = [bearing_degrees(...edge), distance];
  }
  return best;
}

/** Corners and edges of outlines. */
export function targets_of(outlines: readonly { points: readonly Point[]; closed: boolean }[]): Targets {
  return {
    corners: outlines.flatMap((outline) => outline.points),
    edges: outlines.flatMap((outline) => sides(outline.points, outline.closed)),
    guides: [],
  };
}

/** Whether two directions stand square to each other, for tests and for what is told while drawing. */
export function is_square(a: Point, corner: Point, b: Point): boolean {
  const [one, other] = [minus(a, corner), minus(b, corner)];
  const size = Math.hypot(...one) * Math.hypot(...other);
  return size > 0 && Math.abs(dot(one, other)) / size < 1e-6 && Math.abs(cross(one, other)) > 0;
}

/** A point at a length from another, in the direction of a third. */
export function towards(from: Point, aim: Point, distance_m: number): Point {
  return along(from, bearing_degrees(from, aim), distance_m);
}
