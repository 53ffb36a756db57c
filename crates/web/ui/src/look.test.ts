import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { lookWhileTyping, showAnswer, typed } from "./look";

const FORM = `
  <form data-preview="/api/plots/1/record/jar/preview">
    <div class="field"><input type="text" id="field-sand" name="sand" value="2 3/16"></div>
    <div class="field"><input type="text" id="field-silt" name="silt" value="two"></div>
    <aside data-look></aside>
    <button data-look-button>Look</button>
  </form>`;

const ANSWER = {
  echoes: { sand: "2 3/16 in = 55.6 mm" },
  problems: { silt: "“two” could not be read as a length" },
  html: "<p>Sand 42 %</p>",
};

let form: HTMLFormElement;

beforeEach(() => {
  document.body.innerHTML = FORM;
  form = document.querySelector("form") as HTMLFormElement;
});

describe("showAnswer", () => {
  it("tells at each field how it was understood", () => {
    showAnswer(form, ANSWER);
    expect(document.querySelector("#field-sand-echo")?.textContent).toBe("2 3/16 in = 55.6 mm");
    expect(document.querySelector("#field-silt-echo")?.textContent).toContain("could not be read");
    expect(document.querySelector("#field-silt-echo")?.classList.contains("echo-problem")).toBe(true);
    expect(document.querySelector("[data-look]")?.textContent).toBe("Sand 42 %");
  });

  it("does not scold while a field is being typed in", () => {
    (document.querySelector("#field-silt") as HTMLInputElement).focus();
    showAnswer(form, ANSWER);
    expect(document.querySelector("#field-silt-echo")).toBeNull();
  });

  it("takes a line away when there is nothing to tell any more", () => {
    showAnswer(form, ANSWER);
    showAnswer(form, { echoes: {}, problems: {}, html: "" });
    expect(document.querySelectorAll(".echo")).toHaveLength(0);
    expect(document.querySelector("[data-look]")?.innerHTML).toBe("");
  });
});

describe("lookWhileTyping", () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it("asks once after a pause, and sends what was typed", async () => {
    const ask = vi.fn(() => Promise.resolve(new Response(JSON.stringify(ANSWER))));
    lookWhileTyping(document, ask);
    form.dispatchEvent(new Event("input"));
    form.dispatchEvent(new Event("input"));
    expect(ask).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(400);
    expect(ask).toHaveBeenCalledTimes(1);
    const [address, sent] = ask.mock.calls[0] as unknown as [string, { body: URLSearchParams }];
    expect(address).toBe("/api/plots/1/record/jar/preview");
    expect(sent.body.get("sand")).toBe("2 3/16");
    expect(document.querySelector("[data-look]")?.textContent).toBe("Sand 42 %");
  });

  it("leaves the page alone when the app does not answer", async () => {
    const ask = vi.fn(() => Promise.reject(new Error("stopped")));
    lookWhileTyping(document, ask);
    await vi.advanceTimersByTimeAsync(400);
    expect(document.querySelector("[data-look]")?.innerHTML).toBe("");
    expect(document.querySelector("[data-look-button]")).toBeNull();
  });
});

it("sends text only", () => {
  expect([...typed(form).keys()]).toEqual(["sand", "silt"]);
});
