/** The corners of a part as a table to type in: the way to draw without a pointer. */
import { type Draft, type Spot, moved, rings_of, spot_words } from "./draft";
import { Refused, place_words, read_place, unit_words } from "./measure";
import { make } from "./make";
import { side_words } from "./measures";
import type { Point } from "./point";
import type { Session } from "./session";

interface Row {
  element: HTMLTableRowElement;
  heading: HTMLElement;
  fields: [HTMLInputElement, HTMLInputElement];
  side: HTMLElement;
}

const AXES = ["east", "north"] as const;

export class CornersTable {
  readonly element: HTMLElement;
  private readonly session: Session;
  private readonly body = make("tbody");
  private readonly error = make("p", { class: "field-error", role: "alert", hidden: true });
  private rows: Row[] = [];
  private readonly next: [HTMLInputElement, HTMLInputElement];
  private readonly unit_heads: HTMLElement[];
  private readonly more: HTMLButtonElement;

  constructor(session: Session, delete_corner: (spot: Spot) => void) {
    this.session = session;
    this.delete_corner = delete_corner;
    this.unit_heads = AXES.map(() => make("th", { scope: "col" }));
    this.next = [this.input("East of a new corner"), this.input("North of a new corner")];
    for (const input of this.next) {
      input.addEventListener("keydown", (event) => {
        if (event.key !== "Enter") return;
        event.preventDefault();
        event.stopPropagation();
        this.add();
      });
    }
    this.more = make(
      "button",
      {
        type: "button",
        class: "button button-second plan-button",
        click: () => {
          this.add();
        },
      },
      "Add",
    );
    const table = make(
      "table",
      { class: "plan-corners" },
      make("caption", { class: "unseen" }, "Corners"),
      make(
        "thead",
        {},
        make(
          "tr",
          {},
          make("th", { scope: "col" }, "Corner"),
          ...this.unit_heads,
          make("th", { scope: "col" }, "Side to the next"),
        ),
      ),
      this.body,
      make(
        "tfoot",
        {},
        make(
          "tr",
          {},
          make("th", { scope: "row" }, "New"),
          ...this.next.map((input) => make("td", {}, input)),
          make("td", {}, this.more),
        ),
      ),
    );
    this.element = make("div", { class: "scroll" }, this.error, table);
  }

  private readonly delete_corner: (spot: Spot) => void;

  private input(label: string): HTMLInputElement {
    return make("input", { type: "text", class: "plan-place", autocomplete: "off", "aria-label": label });
  }

  private refuse(input: HTMLInputElement | null, words: string): void {
    this.error.textContent = words;
    this.error.hidden = words === "";
    for (const one of this.element.querySelectorAll("input")) {
      if (one === input && words !== "") one.setAttribute("aria-invalid", "true");
      else one.removeAttribute("aria-invalid");
    }
  }

  private read(input: HTMLInputElement): number | null {
    try {
      return read_place(input.value, this.session.plan.units);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      this.refuse(input, error.message);
      input.focus();
      return null;
    }
  }

  private add(): void {
    const { draft, tool } = this.session;
    if (draft === null) return;
    const east = this.read(this.next[0]);
    if (east === null) return;
    const north = this.read(this.next[1]);
    if (north === null) return;
    this.refuse(null, "");
    for (const input of this.next) input.value = "";
    const count = this.session.tool === "cut" ? this.session.open_ring().length : draft.points.length;
    this.session.change(
      this.session.with_corner(draft, [east, north]),
      draft.form === "point" ? "The spot is set" : `Corner ${count + 1} set`,
      draft.form === "point" ? "change" : tool,
    );
    this.next[0].focus();
  }

  private make_row(spot: Spot): Row {
    const heading = make("th", { scope: "row" });
    const fields = AXES.map((_, axis) => {
      const input = this.input("");
      input.addEventListener("change", () => {
        this.typed(spot, axis as 0 | 1, input);
      });
      return input;
    }) as [HTMLInputElement, HTMLInputElement];
    const side = make("span", { class: "small" });
    const cross = make(
      "button",
      {
        type: "button",
        class: "plan-small-button",
        "aria-label": "",
        click: () => {
          this.delete_corner(spot);
        },
      },
      "Delete",
    );
    const element = make(
      "tr",
      {},
      heading,
      ...fields.map((input) => make("td", {}, input)),
      make("td", { class: "plan-side-cell" }, side, cross),
    );
    return { element, heading, fields, side };
  }

  private typed(spot: Spot, axis: 0 | 1, input: HTMLInputElement): void {
    const { draft } = this.session;
    const known = draft === null ? undefined : rings_of(draft)[spot.ring]?.[spot.at];
    if (draft === null || known === undefined) return;
    // A field that still says what it said keeps every digit behind it.
    if (input.value.trim() === place_words(known[axis], this.session.plan.units)) return;
    const value = this.read(input);
    if (value === null) return;
    this.refuse(null, "");
    const point: Point = axis === 0 ? [value, known[1]] : [known[0], value];
    this.session.change(moved(draft, spot, point), `${spot_words(draft, spot)} moved`);
  }

  /** Shows the corners of a draft; a field that is being typed in is left alone. */
  show(draft: Draft): void {
    const { units } = this.session.plan;
    for (const [axis, head] of this.unit_heads.entries())
      head.textContent = `${axis === 0 ? "East" : "North"}, ${unit_words(units)}`;
    const spots = rings_of(draft).flatMap((ring, index) => ring.map((_, at): Spot => ({ ring: index, at })));
    const shape = spots.map(({ ring, at }) => `${ring}.${at}`).join(" ");
    if (this.body.dataset["shape"] !== shape) {
      this.body.dataset["shape"] = shape;
      this.rows = spots.map((spot) => this.make_row(spot));
      this.body.replaceChildren(...this.rows.map((row) => row.element));
    }
    for (const [index, spot] of spots.entries()) {
      const row = this.rows[index];
      const point = rings_of(draft)[spot.ring]?.[spot.at];
      if (row === undefined || point === undefined) continue;
      const words = spot_words(draft, spot);
      row.heading.textContent =
        draft.form === "point"
          ? "Spot"
          : spot.ring === 0
            ? String(spot.at + 1)
            : `Hole ${spot.ring}, ${spot.at + 1}`;
      row.side.textContent = spot.ring === 0 ? side_words(draft, spot.at, units) : "";
      for (const [axis, input] of row.fields.entries()) {
        input.setAttribute("aria-label", `${words}, ${AXES[axis] ?? ""}`);
        if (input !== document.activeElement) input.value = place_words(point[axis] ?? 0, units);
      }
      const cross = row.element.querySelector("button");
      cross?.setAttribute("aria-label", `Delete ${words.toLowerCase()}`);
      if (cross !== null) cross.hidden = draft.form === "point";
    }
    const foot = this.element.querySelector("tfoot");
    if (foot !== null) foot.hidden = draft.form === "point" && draft.points.length > 0;
  }
}
