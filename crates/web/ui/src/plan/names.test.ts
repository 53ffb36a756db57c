import { expect, it } from "vitest";
import { fitting } from "./names";

it("shows the name of higher rank where two would lie on each other", () => {
  const field = { words: "Home field", x: 100, y: 100, rank: 5 };
  const bed = { words: "Bed 3", x: 110, y: 104, rank: 1 };
  const shed = { words: "Shed", x: 300, y: 100, rank: 1 };
  expect(fitting([bed, field, shed])).toEqual([false, true, true]);
  expect(fitting([bed, shed])).toEqual([true, true]);
  expect(fitting([{ ...shed, words: "" }])).toEqual([false]);
});
