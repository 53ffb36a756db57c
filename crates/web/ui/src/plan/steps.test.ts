import { expect, it } from "vitest";
import { Steps } from "./steps";

it("goes back and forth over many steps", () => {
  const steps = new Steps<number>();
  for (let at = 1; at <= 60; at += 1) steps.add(at);
  const back = Array.from({ length: 60 }, () => steps.back());
  expect(back).toEqual(Array.from({ length: 60 }, (_, at) => 60 - at));
  expect(steps.back()).toBeUndefined();
  expect(steps.forth()).toBe(1);
  expect(steps.next()).toBe(2);
  expect(steps.last()).toBe(1);
});

it("forgets what was taken back once something new is done", () => {
  const steps = new Steps<string>();
  steps.add("one");
  steps.add("two");
  steps.back();
  steps.add("three");
  expect(steps.next()).toBeUndefined();
  expect([steps.back(), steps.back(), steps.back()]).toEqual(["three", "one", undefined]);
});
