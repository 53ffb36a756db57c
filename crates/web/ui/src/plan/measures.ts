/** What is told of a shape while it is drawn. */
import { bearing_words } from "./bearing";
import { type Draft, is_closed } from "./draft";
import { type Units, area_words, length_words } from "./measure";
import { area_m2, bearing_degrees, between, length_m } from "./point";

export interface Measures {
  /** The side drawn last. */
  side: string;
  whole: string;
}

/** The last side, and the area and perimeter or the length so far. */
export function measures(draft: Draft, units: Units): Measures {
  const { points, holes, form } = draft;
  const [last, before] = [points[points.length - 1], points[points.length - 2]];
  if (form === "point" || last === undefined) return { side: "", whole: "" };
  const side =
    before === undefined
      ? ""
      : `Side ${points.length - 1}: ${length_words(between(before, last), units)}, ${bearing_words(bearing_degrees(before, last), units)}`;
  if (form === "line")
    return { side, whole: points.length > 1 ? `${length_words(length_m(points, false), units)} long` : "" };
  if (points.length < 3) return { side, whole: "" };
  const around = length_words(length_m(points, is_closed(draft)), units);
  return { side, whole: `${area_words(area_m2(points, holes), units)}, ${around} around` };
}

/** Every side in words, for a list beside the drawing. */
export function side_words(draft: Draft, at: number, units: Units): string {
  const from = draft.points[at];
  const to =
    draft.points[at + 1] ?? (is_closed(draft) && draft.points.length > 2 ? draft.points[0] : undefined);
  if (from === undefined || to === undefined) return "";
  return `${length_words(between(from, to), units)}, ${bearing_words(bearing_degrees(from, to), units)}`;
}
