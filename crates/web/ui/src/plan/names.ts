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

/** Marks the names that find room, the higher ranks first. */
export function fitting(names: readonly Name[]): boolean[] {
  const placed: { left: number; right: number; top: number; bottom: number }[] = [];
  const shown = names.map(() => false);
  const order = names.map((_, index) => index).sort((a, b) => (names[b]?.rank ?? 0) - (names[a]?.rank ?? 0));
  for (const index of order) {
    const name = names[index];
    if (name === undefined || name.words === "") continue;
    const half = (name.words.length * LETTER_PX) / 2 + 4;
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
