/**
 * How each kind of thing is drawn: line, hatch and sign, so that kinds are told apart without colour. The tints stand
 * in plan.css, from the app's own colours.
 */

export interface Look {
  weight: number;
  dashes: string;
  /** Lines of the hatch in a square of this size; none for a plain fill. */
  hatch?: { size: number; path: string };
  /** The sign of a point in a square of 20 by 20. */
  sign: string;
}

const DIAMOND = "M10 4L16 10L10 16L4 10Z";
const ROOF = "M4 16V9L10 4L16 9V16Z";

const LOOKS: Readonly<Record<string, Look>> = {
  plot: { weight: 3, dashes: "", sign: DIAMOND },
  bed: { weight: 1.5, dashes: "", hatch: { size: 6, path: "M0 3H6" }, sign: DIAMOND },
  tunnel: { weight: 3, dashes: "", hatch: { size: 9, path: "M4.5 0V9" }, sign: ROOF },
  building: { weight: 3, dashes: "", hatch: { size: 7, path: "M0 0L7 7M0 7L7 0" }, sign: ROOF },
  drain: { weight: 3.5, dashes: "12 6", sign: "M3 10H17M13 6L17 10L13 14" },
  post: { weight: 2, dashes: "2 6", sign: "M6 6H14V14H6Z" },
  tree: { weight: 4, dashes: "2 7", sign: "M10 3A7 7 0 1 0 10 17A7 7 0 1 0 10 3M10 6V14M6 10H14" },
  "standing-water": {
    weight: 1.5,
    dashes: "4 3",
    hatch: { size: 12, path: "M0 6Q3 3 6 6T12 6" },
    sign: "M3 8q3.5 -4 7 0t7 0M3 13q3.5 -4 7 0t7 0",
  },
  "keep-out": {
    weight: 2,
    dashes: "9 4",
    hatch: { size: 10, path: "M0 0L10 10M-1 9L1 11M9 -1L11 1" },
    sign: "M5 5L15 15M15 5L5 15",
  },
  track: { weight: 5, dashes: "2 6", hatch: { size: 9, path: "M2 2h1M6 6h1" }, sign: DIAMOND },
  "water-point": { weight: 2, dashes: "6 3 2 3", sign: "M10 3C14 10 15 16 10 16C5 16 6 10 10 3Z" },
  "farm-edge": { weight: 2.5, dashes: "14 4 3 4", sign: DIAMOND },
  other: { weight: 2, dashes: "", sign: DIAMOND },
};

const OTHER: Look = { weight: 2, dashes: "", sign: DIAMOND };

/** The key of a kind as it stands in classes and ids. */
export const key_of = (kind: string): string => kind.toLowerCase().replaceAll("_", "-");

export const look_of = (kind: string): Look => LOOKS[key_of(kind)] ?? OTHER;

const SVG = "http://www.w3.org/2000/svg";

function shape(name: string, attributes: Record<string, string>): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

/** The sign of a point, for the plan and for its list. */
export function sign_of(kind: string): SVGElement {
  const svg = shape("svg", {
    viewBox: "0 0 20 20",
    width: "20",
    height: "20",
    "aria-hidden": "true",
    class: "plan-sign",
  });
  svg.append(shape("path", { d: look_of(kind).sign }));
  return svg;
}

/** Every hatch once, to stand somewhere on the page; an area names its own by [`fill_of`]. */
export function hatches(): SVGElement {
  const svg = shape("svg", {
    width: "0",
    height: "0",
    "aria-hidden": "true",
    class: "plan-hatches",
    focusable: "false",
  });
  for (const [key, { hatch }] of Object.entries(LOOKS)) {
    if (hatch === undefined) continue;
    const size = String(hatch.size);
    const pattern = shape("pattern", {
      id: `plan-hatch-${key}`,
      width: size,
      height: size,
      patternUnits: "userSpaceOnUse",
    });
    pattern.append(shape("rect", { width: size, height: size, class: `plan-tint plan-tint-${key}` }));
    pattern.append(shape("path", { d: hatch.path, class: "plan-hatch" }));
    svg.append(pattern);
  }
  return svg;
}

/** The fill of an area; plain ones are tinted by plan.css. */
export function fill_of(kind: string): string | undefined {
  return look_of(kind).hatch === undefined ? undefined : `url(#plan-hatch-${key_of(kind)})`;
}
