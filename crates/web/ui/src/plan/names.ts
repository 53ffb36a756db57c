/** Which names fit on the plan without lying on each other. */

export interface Name {
  words: string;
  /** Middle of the name on the screen. */
  x: number;
  y: number;
  /** Names of a higher rank are placed first. */
  rank: number;
}

const LETTER_PX = 7.4;
const HIGH_PX = 19;

const half_of = (words: string): number => (words.length * LETTER_PX) / 2 + 4;

/** How far a name is moved along one side of the plan, so that it lies on it whole. */
function inward(middle: number, half: number, side: number): number {
  if (2 * half > side) return side / 2 - middle;
  return Math.min(Math.max(middle, half), side - half) - middle;
}

/**
 * How far a name is moved so that the edge of the plan does not cut it: right and down, in pixels; nothing where its
 * place is out of sight. `above` is how far over its place a sign stands: where there is no room under the sign, the name
 * goes above it.
 */
export function aside(
  name: { words: string; x: number; y: number },
  plan: { x: number; y: number },
  above = 0,
): [number, number] | null {
  if (name.x < 0 || name.y - above < 0 || name.x > plan.x || name.y - above > plan.y) return null;
  const down = name.y + HIGH_PX / 2 > plan.y && above > 0 ? -2 * above : inward(name.y, HIGH_PX / 2, plan.y);
  return [inward(name.x, half_of(name.words), plan.x), down];
}

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Marks the names that find room beside what is taken, the higher ranks first. */
export function fitting(names: readonly Name[], taken: readonly Box[] = []): boolean[] {
  const placed = [...taken];
  const shown = names.map(() => false);
  const order = names.map((_, index) => index).sort((a, b) => (names[b]?.rank ?? 0) - (names[a]?.rank ?? 0));
  for (const index of order) {
    const name = names[index];
    if (name === undefined || name.words === "") continue;
    const half = half_of(name.words);
    const box = {
      left: name.x - half,
      right: name.x + half,
      top: name.y - HIGH_PX / 2,
      bottom: name.y + HIGH_PX / 2,
    };
    if (
      placed.some(
        (other) =>
          box.left < other.right &&
          other.left < box.right &&
          box.top < other.bottom &&
          other.top < box.bottom,
      )
    )
      continue;
    placed.push(box);
    shown[index] = true;
  }
  return shown;
}
