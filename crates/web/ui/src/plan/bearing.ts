/** Directions as people write them: "N20E", "110°", "east", or a turn from the side before. */
import { Refused, type Units, take_length } from "./measure";

const NAMED: Readonly<Record<string, number>> = {
  n: 0,
  north: 0,
  ne: 45,
  northeast: 45,
  e: 90,
  east: 90,
  se: 135,
  southeast: 135,
  s: 180,
  south: 180,
  sw: 225,
  southwest: 225,
  w: 270,
  west: 270,
  nw: 315,
  northwest: 315,
};

const TURNS: Readonly<Record<string, number>> = {
  right: 90,
  left: -90,
  straight: 0,
  "straight on": 0,
  on: 0,
  back: 180,
};

const EXAMPLES = "for example N20E, 110° or east";

/** Degrees with minutes: "20", "20.5", "20°30'". */
function degrees(text: string): number | null {
  const found = /^(\d+(?:[.,]\d+)?)\s*(?:°|deg|degrees)?\s*(?:(\d+(?:[.,]\d+)?)\s*['’′]?)?$/.exec(
    text.trim(),
  );
  if (found === null) return null;
  const [whole, minutes] = [found[1] ?? "", found[2] ?? "0"].map((part) => Number(part.replace(",", ".")));
  return minutes === undefined || whole === undefined || minutes >= 60 ? null : whole + minutes / 60;
}

/** A bearing in degrees from north, clockwise. `before` is the bearing of the side before, where there is one. */
export function read_bearing(text: string, before?: number): number {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/^(?:at|towards?|to|bearing|,)\s*/, "");
  const named = NAMED[plain.replace(/[\s-]/g, "")];
  if (named !== undefined) return named;
  const turn = TURNS[plain];
  if (turn !== undefined) {
    if (before === undefined)
      throw new Refused(`"${text.trim()}" needs a side before it to turn from: give a bearing, ${EXAMPLES}.`);
    return (before + turn + 360) % 360;
  }
  const quadrant = /^(n|north|s|south)\s*(.+?)\s*(e|east|w|west)$/.exec(plain);
  if (quadrant !== null) {
    const angle = degrees(quadrant[2] ?? "");
    if (angle === null) throw new Refused(`"${text.trim()}" is not a bearing: type ${EXAMPLES}.`);
    if (angle > 90)
      throw new Refused(
        `"${text.trim()}" turns more than 90° from ${quadrant[1]?.startsWith("n") ? "north" : "south"}: a quadrant bearing has 0 to 90, ${EXAMPLES}.`,
      );
    const [north, east] = [quadrant[1]?.startsWith("n") === true, quadrant[3]?.startsWith("e") === true];
    const full = north ? (east ? angle : 360 - angle) : east ? 180 - angle : 180 + angle;
    return full % 360;
  }
  const angle = degrees(plain);
  if (angle === null) throw new Refused(`"${text.trim()}" is not a bearing: type ${EXAMPLES}.`);
  if (angle > 360)
    throw new Refused(`${angle}° is more than a full turn: a bearing has 0 to 360 from north, ${EXAMPLES}.`);
  return angle % 360;
}

/** A side as typed: its length, and its bearing where one was given. */
export function read_side(
  text: string,
  units: Units,
  before?: number,
): { length_m: number; bearing?: number } {
  const { length_m, rest } = take_length(text, units);
  if (!(length_m > 0))
    throw new Refused(`"${text.trim()}" has no length above nothing: type 40 ft, or 40 ft N20E.`);
  return rest.trim() === "" ? { length_m } : { length_m, bearing: read_bearing(rest, before) };
}

/** "N 20° E" on a farm with US units, "20°" on a metric one. */
export function bearing_words(bearing: number, units: Units): string {
  const turn = ((bearing % 360) + 360) % 360;
  if (units === "metric") return `${Math.round(turn) % 360}°`;
  const whole = Math.round(turn) % 360;
  const straight = ({ 0: "north", 90: "east", 180: "south", 270: "west" } as Record<number, string>)[whole];
  if (straight !== undefined) return `due ${straight}`;
  if (whole < 90) return `N ${whole}° E`;
  if (whole < 180) return `S ${180 - whole}° E`;
  return whole < 270 ? `S ${whole - 180}° W` : `N ${360 - whole}° W`;
}
