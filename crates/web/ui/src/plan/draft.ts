/** A part that is being drawn or changed, and every way to change it. Nothing here draws or sends. */
import type { Form, Part, Revision } from "./contract";
import {
  type Point,
  area_m2,
  between,
  centre,
  is_inside,
  minus,
  nearest,
  plus,
  self_crossing,
  sides,
  turned,
} from "./point";

export interface Draft {
  /** Of the part in the book that this changes; a new part has none. */
  id: string | null;
  revision: Revision | null;
  kind: string;
  name: string;
  plot: string | null;
  why: string | null;
  form: Form;
  points: Point[];
  holes: Point[][];
}

/** A corner: of the outline (ring 0) or of a hole. */
export interface Spot {
  ring: number;
  at: number;
}

export const is_closed = (draft: { form: Form }): boolean => draft.form === "area";

/** How many corners a form needs at the least. */
export const LEAST: Readonly<Record<Form, number>> = { point: 1, line: 2, area: 3 };

export function draft_of(part: Part): Draft {
  return {
    id: part.id,
    revision: part.revision,
    kind: part.kind,
    name: part.name,
    plot: part.plot,
    why: part.why,
    form: part.form,
    points: [...part.points],
    holes: part.holes.map((hole) => [...hole]),
  };
}

export function new_draft(kind: string, form: Form): Draft {
  return { id: null, revision: null, kind, name: "", plot: null, why: null, form, points: [], holes: [] };
}

export const rings_of = (draft: Draft): Point[][] => [draft.points, ...draft.holes];

function with_rings(draft: Draft, rings: Point[][]): Draft {
  const [points = [], ...holes] = rings;
  return { ...draft, points, holes };
}

function with_ring(draft: Draft, ring: number, change: (points: Point[]) => Point[]): Draft {
  return with_rings(
    draft,
    rings_of(draft).map((points, at) => (at === ring ? change([...points]) : points)),
  );
}

/** One more corner at the end of the outline; the one place of a point is put anew. */
export function added(draft: Draft, point: Point): Draft {
  return { ...draft, points: draft.form === "point" ? [point] : [...draft.points, point] };
}

/** The same draft with a piece to cut out that has no corner yet. */
export function with_hole(draft: Draft): Draft {
  return { ...draft, holes: [...draft.holes, []] };
}

/** One more corner of the piece that is being cut out. */
export function added_to_hole(draft: Draft, point: Point): Draft {
  return with_ring(draft, draft.holes.length, (points) => [...points, point]);
}

/** A corner before the one at `spot`. */
export function inserted(draft: Draft, spot: Spot, point: Point): Draft {
  return with_ring(draft, spot.ring, (points) => [
    ...points.slice(0, spot.at),
    point,
    ...points.slice(spot.at),
  ]);
}

export function moved(draft: Draft, spot: Spot, point: Point): Draft {
  return with_ring(draft, spot.ring, (points) => points.map((known, at) => (at === spot.at ? point : known)));
}

/** Without one corner. A hole that would be left with two goes altogether. */
export function without(draft: Draft, spot: Spot): Draft {
  const after = with_ring(draft, spot.ring, (points) => points.filter((_, at) => at !== spot.at));
  return { ...after, holes: after.holes.filter((hole) => hole.length >= LEAST.area) };
}

export function shifted(draft: Draft, by: Point): Draft {
  return with_rings(
    draft,
    rings_of(draft).map((points) => points.map((point) => plus(point, by))),
  );
}

/** Turned clockwise about its middle. */
export function rotated(draft: Draft, degrees: number): Draft {
  const about = centre(draft.points, is_closed(draft));
  return with_rings(
    draft,
    rings_of(draft).map((points) => turned(points, about, degrees)),
  );
}

/** Why this cannot be kept yet, in words; nothing where it can. */
export function complaint(draft: Draft): string | null {
  const least = LEAST[draft.form];
  const count = draft.points.length;
  if (count < least) {
    if (draft.form === "point") return "The spot is not set yet: tap it on the plan, or type where it is.";
    const word = draft.form === "area" ? "An area has three corners or more" : "A line has two ends or more";
    return `${word}; ${count === 0 ? "none is" : count === 1 ? "one is" : "two are"} drawn so far.`;
  }
  if (draft.form === "area") {
    if (self_crossing(draft.points) !== null)
      return "The outline crosses itself: drag a corner so that no side runs across another.";
    if (area_m2(draft.points) < 0.01)
      return "The corners lie in one line, so there is no area between them: drag one to the side.";
    return draft.holes.map((hole) => hole_complaint(draft.points, hole)).find((words) => words !== null) ?? null;
  }
  return null;
}

/** Why a piece cannot be cut out. */
function hole_complaint(outline: readonly Point[], hole: readonly Point[]): string | null {
  if (hole.length < LEAST.area) {
    const count = ["none is", "one is", "two are"][hole.length] ?? "";
    return `A piece to cut out has three corners or more; ${count} drawn so far.`;
  }
  if (self_crossing(hole) !== null)
    return "The piece to cut out crosses itself: drag a corner so that no side runs across another.";
  const on_edge = (point: Point): boolean =>
    sides(outline, true).some((side) => between(point, nearest(point, side)) < 0.01);
  if (!hole.every((point) => is_inside(point, outline) || on_edge(point)))
    return "The piece to cut out reaches over the outline: drag its corners inside.";
  return null;
}

/** Whether two shapes are the same to the last digit. */
export function same_shape(a: Draft, b: Draft): boolean {
  return JSON.stringify([a.form, a.points, a.holes]) === JSON.stringify([b.form, b.points, b.holes]);
}

export function same(a: Draft, b: Draft): boolean {
  return (
    same_shape(a, b) && a.kind === b.kind && a.name === b.name && a.plot === b.plot && a.why === b.why
  );
}

/** Which ring and corner, in words: "Corner 2 of 4". */
export function spot_words(draft: Draft, spot: Spot): string {
  if (draft.form === "point") return "The spot";
  const count = rings_of(draft)[spot.ring]?.length ?? 0;
  const hole = spot.ring === 0 ? "" : ` of hole ${spot.ring}`;
  return `Corner ${spot.at + 1}${hole || ` of ${count}`}`;
}

/** The shift that brings one corner to a place. */
export const shift_to = (from: Point, to: Point): Point => minus(to, from);
