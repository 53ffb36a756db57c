/** Lengths, areas and bearings as a grower types and reads them, in the units of the farm. */

export type Units = "us" | "metric";

export const FOOT_M = 0.3048;
const ACRE_M2 = 43_560 * FOOT_M * FOOT_M;

/** What was typed could not be used, in words. */
export class Refused extends Error {}

const UNITS: Readonly<Record<string, number>> = {
  mm: 0.001,
  cm: 0.01,
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  in: 0.0254,
  inch: 0.0254,
  inches: 0.0254,
  '"': 0.0254,
  "''": 0.0254,
  ft: FOOT_M,
  foot: FOOT_M,
  feet: FOOT_M,
  "'": FOOT_M,
  yd: 3 * FOOT_M,
  yard: 3 * FOOT_M,
  yards: 3 * FOOT_M,
};

/** 3, 3.5, 3,5, 1,200, 1/2 or 3 1/2. */
const NUMBER = String.raw`(?:\d+\s+\d+\/\d+|\d+\/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*[.,]\d+|\d+)(?![\d.,/])`;
const UNIT = String.raw`(mm|cm|metres?|meters?|m|inches|inch|in|feet|foot|ft|yards?|yd|''|"|')\.?(?![a-z])`;
const PIECE = new RegExp(String.raw`^\s*(${NUMBER})\s*(?:${UNIT})?\s*`, "i");

function number(text: string): number {
  const [whole, over] = text.includes("/") && /\s/.test(text) ? text.split(/\s+/) : ["0", text];
  const plain = /^\d{1,3}(,\d{3})+(\.\d+)?$/.test(over ?? "")
    ? (over ?? "").replaceAll(",", "")
    : (over ?? "0");
  const [above, below] = plain.replace(",", ".").split("/");
  return Number(whole) + Number(above) / Number(below ?? 1);
}

const own_unit = (units: Units): number => (units === "us" ? FOOT_M : 1);
const LENGTH_EXAMPLES = "for example 40 ft, 12 m or 31 ft 6 in";

/** Takes a length from the front of a text. A bare number is in the farm's unit; "31' 6" is feet and inches. */
export function take_length(text: string, units: Units): { length_m: number; rest: string } {
  let rest = text.replaceAll("’", "'").replaceAll("”", '"').replaceAll("″", '"').replaceAll("′", "'");
  let total: number | undefined;
  // How the feet before were written, where they were.
  let before = "";
  for (;;) {
    const found = PIECE.exec(rest);
    if (found === null) break;
    let unit = found[2] === undefined ? undefined : UNITS[found[2].toLowerCase()];
    if (total !== undefined) {
      // A second number goes on only where it is the smaller part of the first: feet and inches.
      const inches = unit === UNITS["in"] && before !== "";
      const bare = unit === undefined && before === "'" && number(found[1] ?? "") < 12;
      if (!inches && !(bare && rest.slice(found[0].length).trim() === "")) break;
      unit = UNITS["in"];
    }
    const factor = unit ?? own_unit(units);
    total = (total ?? 0) + number(found[1] ?? "") * factor;
    before = unit === FOOT_M ? (found[2] ?? "") : "";
    rest = rest.slice(found[0].length);
  }
  if (total === undefined) throw new Refused(`"${text.trim()}" is not a length: type ${LENGTH_EXAMPLES}.`);
  return { length_m: total, rest };
}

/** A length that fills the whole text and is more than nothing. */
export function read_length(text: string, units: Units): number {
  const { length_m, rest } = take_length(text, units);
  if (rest.trim() !== "")
    throw new Refused(`"${rest.trim()}" after the length was not understood: type ${LENGTH_EXAMPLES}.`);
  if (!Number.isFinite(length_m) || length_m <= 0)
    throw new Refused(`"${text.trim()}" is no length above nothing: type ${LENGTH_EXAMPLES}.`);
  return length_m;
}

/** A place on one of the two axes of the plan: a length that may be negative. */
export function read_place(text: string, units: Units): number {
  const trimmed = text.trim().replaceAll("−", "-");
  const negative = trimmed.startsWith("-");
  const refused = new Refused(
    `"${trimmed}" is not a distance: type ${LENGTH_EXAMPLES}, with a minus for west or south.`,
  );
  if (!/^[-+]?\s*[\d.,]/.test(trimmed)) throw refused;
  const { length_m, rest } = take_length(trimmed.replace(/^[-+]/, ""), units);
  if (rest.trim() !== "" || !Number.isFinite(length_m)) throw refused;
  return negative ? -length_m : length_m;
}

function trimmed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return (text.includes(".") ? text.replace(/\.?0+$/, "") : text).replace(/^-0$/, "0");
}

function grouped(text: string): string {
  const [whole, part] = text.split(".");
  const parted = (whole ?? "").replace(/\B(?=(\d{3})+$)/g, ",");
  return part === undefined ? parted : `${parted}.${part}`;
}

/** "96 ft 4 in" or "29.36 m". */
export function length_words(length_m: number, units: Units): string {
  if (units === "metric") return `${grouped(trimmed(length_m, 2))} m`;
  const inches = Math.round(length_m / 0.0254);
  const [feet, rest] = [Math.floor(inches / 12), inches % 12];
  if (feet === 0) return `${rest} in`;
  return rest === 0 ? `${grouped(String(feet))} ft` : `${grouped(String(feet))} ft ${rest} in`;
}

/** Four digits, as elsewhere in the app. */
function digits(value: number): string {
  const size = Math.floor(Math.log10(Math.max(Math.abs(value), 1e-9)));
  return grouped(trimmed(value, Math.min(Math.max(3 - size, 0), 4)));
}

/** "3,200 sq ft", "1.21 ac", "820 m²" or "1.2 ha". */
export function area_words(area_m2: number, units: Units): string {
  if (units === "us") {
    const square_feet = area_m2 / (FOOT_M * FOOT_M);
    return square_feet < 21_780 ? `${digits(square_feet)} sq ft` : `${digits(area_m2 / ACRE_M2)} ac`;
  }
  return area_m2 < 10_000 ? `${digits(area_m2)} m²` : `${digits(area_m2 / 10_000)} ha`;
}

/** A distance on an axis for a field: the farm's unit to two places, without the unit. */
export function place_words(metres: number, units: Units): string {
  return trimmed(metres / own_unit(units), 2);
}

export const unit_words = (units: Units): string => (units === "us" ? "ft" : "m");
export const step_m = (units: Units): number => (units === "us" ? FOOT_M : 0.5);
