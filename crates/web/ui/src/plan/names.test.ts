import { expect, it } from "vitest";
import { aside, fitting } from "./names";

it("shows the name of higher rank where two would lie on each other", () => {
  const field = { words: "Home field", x: 100, y: 100, rank: 5 };
  const bed = { words: "Bed 3", x: 110, y: 104, rank: 1 };
  const shed = { words: "Shed", x: 300, y: 100, rank: 1 };
  expect(fitting([bed, field, shed])).toEqual([false, true, true]);
  expect(fitting([bed, shed])).toEqual([true, true]);
  expect(fitting([{ ...shed, words: "" }])).toEqual([false]);
  // A button that lies over the plan would hide it.
  expect(fitting([field, shed], [{ left: 290, right: 330, top: 80, bottom: 120 }])).toEqual([true, false]);
});

it("moves a name that the edge of the plan would cut, and no other", () => {
  const plan = { x: 390, y: 500 };
  const words = "Mulched path";
  expect(aside({ words, x: 200, y: 250 }, plan)).toEqual([0, 0]);
  const [right] = aside({ words, x: 10, y: 250 }, plan) ?? [0];
  const [left] = aside({ words, x: 385, y: 250 }, plan) ?? [0];
  // As far from either edge as from the other.
  expect(right).toBeGreaterThan(0);
  expect(10 + right).toBeCloseTo(390 - (385 + left), 9);
  expect(aside({ words, x: 200, y: 2 }, plan)?.[1]).toBeGreaterThan(0);
  // Under a sign at the foot there is no room: it goes above the sign, as far as it stood below.
  expect(aside({ words, x: 200, y: 511 }, plan, 21)).toEqual([0, -42]);
  // What is out of sight has no name to be cut.
  expect(aside({ words, x: -1, y: 250 }, plan)).toBeNull();
  expect(aside({ words, x: 200, y: 700 }, plan, 21)).toBeNull();
  // Longer than the plan is wide, it is centred.
  const long = "x".repeat(80);
  expect(aside({ words: long, x: 10, y: 250 }, plan)?.[0]).toBe(185);
});
