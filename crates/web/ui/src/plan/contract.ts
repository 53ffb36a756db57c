/** What the app sends for the plan, and what it answers. The addresses are described in /api/openapi.json. */
import type { Point } from "./point";
import type { Units } from "./measure";
import type { Origin } from "./standpoint";

export type Form = "point" | "line" | "area";
export type Revision = number | string;

export interface Part {
  id: string;
  revision: Revision;
  kind: string;
  name: string;
  plot: string | null;
  /** Why nothing is sampled there, of a place to keep out of. */
  why: string | null;
  form: Form;
  points: Point[];
  holes: Point[][];
  area_words: string;
  perimeter_words: string;
  remarks: string[];
}

/** A spot of a picture whose place on the plan is known. */
export interface Fixed {
  x_px: number;
  y_px: number;
  at: Point;
}

export interface Underlay {
  id: string;
  revision: Revision;
  name: string;
  url: string;
  width_px: number;
  height_px: number;
  /** Top left, top right, bottom right, bottom left; none while the picture is not fixed. */
  corners: Point[] | null;
  opacity_percent: number;
  fixed: Fixed[];
}

export interface Kind {
  key: string;
  words: string;
  forms: Form[];
}

export interface Plan {
  origin: (Origin & { given: boolean }) | null;
  units: Units;
  parts: Part[];
  underlays: Underlay[];
  kinds: Kind[];
  /** Why nothing may be sampled somewhere. */
  whys: { key: string; words: string }[];
  /** Every plot of the farm, drawn or not. */
  plots: { id: string; name: string }[];
}

/** A field that was refused, in the app's words. */
export interface Refusal {
  field: string;
  message: string;
  accepted?: string;
  example?: string;
}
