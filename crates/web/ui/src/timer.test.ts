import { beforeEach, describe, expect, it } from "vitest";
import { showTimer, timeLeft } from "./timer";

describe("timeLeft", () => {
  it.each([
    [-190_000, "due 3 min 10 s ago"],
    [-5, "due now"],
    [0, "due now"],
    [45_000, "45 s"],
    [245_000, "4 min 05 s"],
    [2 * 3_600_000, "2 h 0 min"],
    [27 * 3_600_000, "1 d 3 h"],
  ])("%d ms is %s", (ms, words) => {
    expect(timeLeft(ms)).toBe(words);
  });
});

describe("showTimer", () => {
  let timer: HTMLElement;

  beforeEach(() => {
    document.body.innerHTML =
      '<p class="timer" data-due="2025-04-16T10:00:00Z"><span class="timer-left"></span></p>';
    timer = document.querySelector(".timer") as HTMLElement;
  });

  it("counts down to the moment the page gives", () => {
    expect(showTimer(timer, Date.parse("2025-04-16T09:59:15Z"))).toBe(true);
    expect(timer.textContent).toBe("45 s to go");
    expect(timer.classList.contains("timer-due")).toBe(false);
  });

  it("says so when the moment has come, and goes on to say how late it is", () => {
    expect(showTimer(timer, Date.parse("2025-04-16T10:00:00Z"))).toBe(true);
    expect(timer.textContent).toBe("due now");
    expect(timer.classList.contains("timer-due")).toBe(true);
  });

  it("leaves the page as it is when the moment cannot be read", () => {
    timer.dataset["due"] = "soon";
    expect(showTimer(timer, 0)).toBe(false);
    expect(timer.textContent).toBe("");
  });
});
