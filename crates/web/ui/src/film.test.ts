import { beforeEach, describe, expect, it } from "vitest";
import { showFrame, startFilms, told } from "./film";

const FILM = `
  <div data-film data-last="2">
    <div data-film-frames><figure id="small"></figure></div>
    <figure data-film-picture hidden><svg>
      <g class="frame" data-frame="0" data-hours="0"></g>
      <g class="frame" data-frame="1" data-hours="0.5" display="none"></g>
      <g class="frame" data-frame="2" data-hours="6" display="none"></g>
    </svg></figure>
  </div>`;

beforeEach(() => {
  document.body.innerHTML = FILM;
});

const shown = (): (string | null)[] =>
  [...document.querySelectorAll("[data-frame]:not([display])")].map((frame) =>
    frame.getAttribute("data-frame"),
  );

describe("showFrame", () => {
  it("shows one moment and tells its hours", () => {
    expect(showFrame(document.body, 2)).toBe("6");
    expect(shown()).toEqual(["2"]);
  });
});

describe("startFilms", () => {
  it("puts a slider under the picture and folds the small ones", () => {
    startFilms(document);
    const slider = document.querySelector<HTMLInputElement>("input[type=range]") as HTMLInputElement;
    expect(slider.max).toBe("2");
    expect(document.querySelector<HTMLElement>("[data-film-picture]")?.hidden).toBe(false);
    slider.value = "1";
    slider.dispatchEvent(new Event("input"));
    expect(shown()).toEqual(["1"]);
    expect(slider.getAttribute("aria-valuetext")).toBe("30 minutes");
    expect(document.querySelector("details #small")).not.toBeNull();
  });

  it("leaves a film of one moment alone", () => {
    document.querySelector("[data-film]")?.setAttribute("data-last", "0");
    startFilms(document);
    expect(document.querySelector("input")).toBeNull();
  });
});

it("tells time as people say it", () => {
  expect(["0", "0.5", "1", "6.54", "", "x"].map(told)).toEqual([
    "0 hours",
    "30 minutes",
    "1 hour",
    "6.5 hours",
    "",
    "",
  ]);
});
