// The whole table in a page without a pointer: drawn, saved and mended by typing alone.
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { start_plan } from "./index";
import type { Session } from "./session";

const KINDS = [
  { key: "plot", words: "plot", forms: ["area"] },
  { key: "tree", words: "tree", forms: ["point", "line"] },
];
const FIELD = {
  id: "a",
  revision: 3,
  kind: "plot",
  name: "Home field",
  plot: "p1",
  form: "area",
  points: [
    [0, 0],
    [0, 20],
    [50, 20],
    [50, 0],
  ],
  area_words: "1,000 m²",
  perimeter_words: "140 m",
};

const asked: { url: string; body: Record<string, unknown> | null }[] = [];
let refusal: object | null = null;
let down = false;

const app = ((url: string, init?: RequestInit) => {
  if (down) return Promise.reject(new TypeError("offline"));
  const body = typeof init?.body === "string" ? (JSON.parse(init.body) as Record<string, unknown>) : null;
  asked.push({ url, body });
  const answer = (status: number, sent: unknown): Promise<Response> =>
    Promise.resolve(new Response(JSON.stringify(sent), { status }));
  if (init?.method !== "POST")
    return answer(200, {
      origin: null,
      units: "metric",
      parts: [FIELD],
      underlays: [],
      kinds: KINDS,
      plots: [{ id: "p1", name: "Home field" }],
    });
  return refusal === null ? answer(201, { id: "b" }) : answer(422, { errors: [refusal] });
}) as typeof fetch;

const page = (): HTMLElement => document.querySelector<HTMLElement>("[data-plan]") as HTMLElement;

function press(words: string): void {
  const found = [...page().querySelectorAll("button")].find((button) => button.textContent.startsWith(words));
  if (found === undefined) throw new Error(`There is no button ${words}.`);
  found.click();
}

function field(label: string): HTMLInputElement {
  const by_label = [...page().querySelectorAll("label")].find((one) => one.textContent.startsWith(label));
  const id = by_label?.getAttribute("for") ?? "";
  const found = page().querySelector<HTMLInputElement>(id === "" ? `[aria-label="${label}"]` : `#${id}`);
  if (found === null) throw new Error(`There is no field ${label}.`);
  return found;
}

function type(label: string, text: string, event: "input" | "change" | "enter"): void {
  const input = field(label);
  input.value = text;
  input.dispatchEvent(
    event === "enter"
      ? new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true })
      : new Event(event, { bubbles: true }),
  );
}

const told = (): string => page().querySelector(".plan-said")?.textContent ?? "";

let session: Session;

beforeEach(async () => {
  asked.length = 0;
  refusal = null;
  down = false;
  sessionStorage.clear();
  document.body.innerHTML = `<div data-plan data-address="/api/plan"></div>`;
  session = (await start_plan(page(), app)) as Session;
});

afterEach(() => {
  document.body.innerHTML = "";
});

function draw(): void {
  press("Tap the corners");
  type("East of a new corner", "60", "input");
  type("North of a new corner", "0", "enter");
  for (const side of ["20 north", "30 ft right", "20 right"]) type("Next side", side, "enter");
}

describe("drawing by typing", () => {
  it("draws by a corner and sides, tells the measures, and saves", async () => {
    draw();
    expect(told()).toBe("Corner 4 set");
    expect(page().querySelector(".plan-whole-now")?.textContent).toBe("182.9 m², 58.29 m around");
    expect(page().querySelector(".plan-side-now")?.textContent).toBe("Side 3: 20 m, 180°");
    press("Done drawing");
    type("Name", "East field", "input");
    press("Save");
    await vi.waitFor(() => {
      expect(told()).toBe("East field is in the book.");
    });
    const sent = asked.find(({ url }) => url === "/api/plan/parts")?.body;
    expect(sent).toMatchObject({ kind: "plot", name: "East field", form: "area" });
    expect(sent?.["points"]).toEqual([
      [60, 0],
      [60, 20],
      [69.144, 20],
      [69.144, expect.closeTo(0, 9)],
    ]);
  });

  it("says what it cannot read, at the field, and keeps it", () => {
    press("Tap the corners");
    type("Next side", "40 ft", "enter");
    expect(field("Next side").closest(".field")?.textContent).toMatch(/begins at a corner/);
    type("East of a new corner", "0", "input");
    type("North of a new corner", "here", "enter");
    expect(page().querySelector(".plan-corners")?.parentElement?.textContent).toMatch(
      /"here" is not a distance/,
    );
    type("North of a new corner", "0", "enter");
    type("Next side", "12 m", "enter");
    expect(field("Next side").closest(".field")?.textContent).toMatch(
      /needs its bearing too: type 12 m N20E/,
    );
    type("Next side", "12 m uphill", "enter");
    expect(field("Next side").value).toBe("12 m uphill");
    expect(field("Next side").getAttribute("aria-invalid")).toBe("true");
  });

  it("sets a spot by its place", () => {
    const kind = field("Draw");
    kind.value = "tree";
    kind.dispatchEvent(new Event("change"));
    press("Tap the spot");
    type("East of a new corner", "5", "input");
    type("North of a new corner", "7.5", "enter");
    expect(session.draft?.points).toEqual([[5, 7.5]]);
    expect(session.tool).toBe("change");
    expect(session.draft?.plot).toBe("p1");
  });
});

describe("mending by typing", () => {
  it("moves a corner by its field, with its revision, and keeps the digits of the others", async () => {
    press("Home field");
    type("Corner 3 of 4, east", "55", "change");
    expect(told()).toBe("Corner 3 of 4 moved");
    press("Save the change");
    await vi.waitFor(() => {
      expect(told()).toBe("Home field is in the book.");
    });
    const sent = asked.find(({ url }) => url === "/api/plan/parts/a")?.body;
    expect(sent).toMatchObject({
      revision: 3,
      points: [
        [0, 0],
        [0, 20],
        [55, 20],
        [50, 0],
      ],
    });
    press("Undo");
    await vi.waitFor(() => {
      expect(told()).toBe("Taken back: Home field changed");
    });
    expect(asked.filter(({ url }) => url === "/api/plan/parts/a").at(-1)?.body).toMatchObject({
      points: FIELD.points,
    });
  });

  it("takes a corner out, but not below three", () => {
    press("Home field");
    page().querySelector<HTMLButtonElement>('[aria-label="Delete corner 2 of 4"]')?.click();
    expect(session.draft?.points).toHaveLength(3);
    page().querySelector<HTMLButtonElement>('[aria-label="Delete corner 2 of 3"]')?.click();
    expect(session.draft?.points).toHaveLength(3);
    expect(told()).toMatch(/An area needs 3/);
  });

  it("moves corners and the whole by the arrow keys on their handles, and takes a corner out by Delete", () => {
    press("Home field");
    const key = (handle: string, name: string, shiftKey = false): void => {
      const element = page().querySelector(`[data-handle="${handle}"]`);
      element?.dispatchEvent(
        new KeyboardEvent("keydown", { key: name, shiftKey, bubbles: true, cancelable: true }),
      );
    };
    expect(page().querySelector('[data-handle="corner-0-1"]')?.getAttribute("aria-label")).toBe(
      "Corner 2 of 4, 0 m east, 20 m north",
    );
    key("corner-0-1", "ArrowLeft");
    expect(session.draft?.points[1]).toEqual([-0.5, 20]);
    key("corner-0-1", "ArrowUp", true);
    expect(session.draft?.points[1]).toEqual([-0.5, 25]);
    key("whole", "ArrowDown");
    expect(session.draft?.points[0]).toEqual([0, -0.5]);
    key("corner-0-1", "Delete");
    expect(session.draft?.points).toHaveLength(3);
    page().dispatchEvent(new KeyboardEvent("keydown", { key: "z", ctrlKey: true }));
    page()
      .querySelector(".plan-map")
      ?.dispatchEvent(new KeyboardEvent("keydown", { key: "z", ctrlKey: true, bubbles: true }));
    expect(session.draft?.points).toHaveLength(4);
  });

  it("asks twice before Escape drops what was drawn", () => {
    const escape = (): void => {
      page()
        .querySelector(".plan-map")
        ?.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape", bubbles: true }));
    };
    draw();
    escape();
    expect(session.draft?.points).toHaveLength(4);
    expect(told()).toMatch(/once more/);
    escape();
    expect(session.draft).toBeNull();
  });

  it("turns a part", () => {
    press("Home field");
    type("Turn clockwise", "ninety", "input");
    press("Turn");
    expect(page().textContent).toMatch(/degrees from -360 to 360/);
    type("Turn clockwise", "90", "input");
    press("Turn");
    expect(session.draft?.points[0]).toEqual([expect.closeTo(15, 9), expect.closeTo(35, 9)]);
  });
});

describe("where it is not kept", () => {
  it("shows the app's words at their field and keeps the drawing", async () => {
    refusal = { field: "name", message: "a new plot needs a name", example: "Home field" };
    draw();
    press("Save");
    await vi.waitFor(() => {
      expect(field("Name").getAttribute("aria-invalid")).toBe("true");
    });
    expect(field("Name").closest(".field")?.textContent).toMatch(/A new plot needs a name\./);
    expect(page().querySelector(".error-summary a")?.getAttribute("href")).toBe(`#${field("Name").id}`);
    expect(session.draft?.points).toHaveLength(4);
  });

  it("says so where the app does not answer, and takes the drawing up after a reload", async () => {
    draw();
    type("Name", "East field", "input");
    down = true;
    press("Save");
    await vi.waitFor(() => {
      expect(told()).toMatch(/did not answer.*stays here/);
    });
    down = false;
    document.body.innerHTML = `<div data-plan data-address="/api/plan"></div>`;
    const again = (await start_plan(page(), app)) as Session;
    expect(again.draft?.points).toHaveLength(4);
    expect(field("Name").value).toBe("East field");
    expect(told()).toMatch(/East field was not saved yet/);
  });

  it("leaves the page as it is where the plan cannot be read", async () => {
    down = true;
    document.body.innerHTML = `<div data-plan data-address="/api/plan"><p>Picture</p></div>`;
    expect(await start_plan(page(), app)).toBeNull();
    expect(page().textContent).toMatch(/Picture.*cannot be drawn on just now/);
  });
});
