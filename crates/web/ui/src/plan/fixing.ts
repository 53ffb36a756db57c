/** Lays a picture of the farm under the plan by spots that are known in both. */
import type { Board } from "./board";
import type { Fixed, Underlay } from "./contract";
import { type Affine, MOST_SPOTS, corners, fit, plain_miss_m } from "./fit";
import { Field, button, choices, make } from "./make";
import { Refused, length_words, place_words, read_place, unit_words } from "./measure";
import type { Point } from "./point";
import type { Session } from "./session";

export class Fixing {
  readonly element: HTMLElement;
  private readonly session: Session;
  private readonly board: () => Board;
  private readonly which: Field<HTMLSelectElement>;
  private readonly opacity: Field<HTMLInputElement>;
  private readonly sight = make("div", { class: "plan-sight" });
  private readonly image = make("img", {
    alt: "The picture. Tap a spot in it whose place on the plan is known.",
  });
  private readonly step = make("p", { class: "plan-step", role: "status" });
  private readonly spots = make("ol", { class: "plan-spots" });
  private readonly error = make("p", { class: "field-error", role: "alert", hidden: true });
  private readonly place: Record<"x" | "y" | "east" | "north", Field<HTMLInputElement>>;
  private readonly save: HTMLButtonElement;
  private underlay: Underlay | null = null;
  private pairs: Fixed[] = [];
  private waiting: { x_px: number; y_px: number } | null = null;

  constructor(session: Session, board: () => Board) {
    this.session = session;
    this.board = board;
    this.which = new Field("Picture", make("select"));
    this.which.input.addEventListener("change", () => {
      this.take(this.which.input.value);
    });
    this.opacity = new Field(
      "How strong it shows, percent",
      make("input", { type: "range", min: "10", max: "100", step: "5", class: "film-slider" }),
    );
    this.opacity.input.addEventListener("input", () => {
      this.show();
    });
    this.sight.append(this.image);
    this.image.addEventListener("click", (event) => {
      this.mark(event);
    });
    const short = (): HTMLInputElement =>
      make("input", { type: "text", class: "input-short", autocomplete: "off" });
    this.place = {
      x: new Field("In the picture, from its left edge, pixels", short()),
      y: new Field("In the picture, from its top edge, pixels", short()),
      east: new Field("On the plan, east", short()),
      north: new Field("On the plan, north", short()),
    };
    this.save = make("button", { type: "button", class: "button", click: () => void this.keep() }, "Save");
    this.element = make(
      "section",
      { class: "plan-sheet", hidden: true },
      make("h2", {}, "Fix a picture"),
      make(
        "p",
        {},
        "Tap a spot in the picture, then the same spot on the plan. Two spots turn and size it; three also straighten a picture that is stretched. Take spots far apart.",
      ),
      this.which.box,
      this.step,
      this.error,
      this.sight,
      this.spots,
      make(
        "details",
        { class: "group" },
        make("summary", {}, "Type a spot"),
        ...Object.values(this.place).map((field) => field.box),
        button("Add the spot", () => {
          this.type_spot();
        }),
      ),
      this.opacity.box,
      make(
        "p",
        { class: "actions" },
        this.save,
        button("Discard", () => {
          session.fix_pictures(false);
        }),
      ),
    );
    session.listen(() => {
      this.follow();
    });
  }

  private follow(): void {
    const is_on = this.session.tool === "picture";
    const was_on = !this.element.hidden;
    this.element.hidden = !is_on;
    if (is_on && !was_on) this.take(this.session.plan.underlays[0]?.id ?? "");
    if (!is_on && was_on) this.board().try_picture(null);
    if (is_on) this.show_refusals();
  }

  private take(id: string): void {
    this.underlay = this.session.plan.underlays.find((underlay) => underlay.id === id) ?? null;
    this.pairs = [...(this.underlay?.fixed ?? [])];
    this.waiting = null;
    if (this.underlay !== null) {
      this.image.src = this.underlay.url;
      this.opacity.input.value = String(this.underlay.opacity_percent);
    }
    this.show();
  }

  /** A spot of the picture, in its own pixels. */
  private mark(event: MouseEvent): void {
    if (this.underlay === null || this.is_full()) return;
    const box = this.image.getBoundingClientRect();
    this.waiting = {
      x_px: ((event.clientX - box.left) / box.width) * this.underlay.width_px,
      y_px: ((event.clientY - box.top) / box.height) * this.underlay.height_px,
    };
    this.show();
    this.board().map.getContainer().scrollIntoView({ block: "nearest" });
  }

  /** The plan was tapped. */
  tapped(at: Point): void {
    if (this.waiting === null) {
      this.refuse("First tap the spot in the picture, then on the plan.");
      return;
    }
    this.pairs = [...this.pairs, { ...this.waiting, at }];
    this.waiting = null;
    this.show();
  }

  /** The book keeps three spots; a fourth would be refused on saving. */
  private is_full(): boolean {
    const full = this.pairs.length >= MOST_SPOTS;
    if (full) this.refuse("Three spots fix a picture. Delete one of them to give it anew.");
    return full;
  }

  private type_spot(): void {
    const { units } = this.session.plan;
    const pixels = (field: Field<HTMLInputElement>, most: number): number | null => {
      const value = Number(field.input.value.replace(",", "."));
      const fits = field.input.value.trim() !== "" && value >= 0 && value <= most;
      field.refuse(fits ? "" : `Type pixels from 0 to ${most}, for example ${Math.round(most / 2)}.`);
      return fits ? value : null;
    };
    const metres = (field: Field<HTMLInputElement>): number | null => {
      try {
        const value = read_place(field.input.value, units);
        field.refuse("");
        return value;
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        field.refuse(error.message);
        return null;
      }
    };
    if (this.underlay === null || this.is_full()) return;
    const [x, y] = [
      pixels(this.place.x, this.underlay.width_px),
      pixels(this.place.y, this.underlay.height_px),
    ];
    const [east, north] = [metres(this.place.east), metres(this.place.north)];
    if (x === null || y === null || east === null || north === null) return;
    this.pairs = [...this.pairs, { x_px: x, y_px: y, at: [east, north] }];
    for (const field of Object.values(this.place)) field.input.value = "";
    this.show();
  }

  private refuse(words: string): void {
    this.error.textContent = words;
    this.error.hidden = words === "";
  }

  private show_refusals(): void {
    const { refusals } = this.session;
    if (refusals.length > 0) this.refuse(refusals.map((refusal) => refusal.message).join(" "));
  }

  private map(): Affine | null {
    if (this.pairs.length < 2) return null;
    try {
      const map = fit(this.pairs);
      this.refuse("");
      return map;
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      this.refuse(error.message);
      return null;
    }
  }

  private show(): void {
    const { units } = this.session.plan;
    choices(
      this.which.input,
      this.session.plan.underlays.map((one) => [one.id, one.name] as const),
      this.underlay?.id ?? "",
    );
    this.which.box.hidden = this.session.plan.underlays.length < 2;
    this.refuse("");
    const map = this.map();
    const all = this.pairs.length >= MOST_SPOTS;
    const miss =
      map === null || !all
        ? ""
        : ` Without slant and stretch the spots would miss their places by up to ${length_words(plain_miss_m(this.pairs), units)}: if that is more than you measured wrong, one of them is wrong or the picture was taken aslant.`;
    this.step.textContent =
      this.waiting !== null
        ? "Now tap the same spot on the plan."
        : this.pairs.length < 2
          ? `Tap spot ${this.pairs.length + 1} in the picture.`
          : `${this.pairs.length} spots known.${miss} See on the plan whether it lies right${all ? "" : ", add a spot"}, or save.`;
    const unit = unit_words(units);
    this.spots.replaceChildren(
      ...this.pairs.map((pair, index) =>
        make(
          "li",
          {},
          `${Math.round(pair.x_px)} right, ${Math.round(pair.y_px)} down in the picture: ${place_words(pair.at[0], units)} ${unit} east, ${place_words(pair.at[1], units)} ${unit} north `,
          make(
            "button",
            {
              type: "button",
              class: "plan-small-button",
              "aria-label": `Delete spot ${index + 1}`,
              click: () => {
                this.pairs = this.pairs.filter((_, at) => at !== index);
                this.show();
              },
            },
            "Delete",
          ),
        ),
      ),
    );
    this.show_marks();
    this.save.disabled = map === null;
    const board = this.board();
    if (map === null || this.underlay === null) board.try_picture(null);
    else
      board.try_picture({
        ...this.underlay,
        corners: corners(map, this.underlay.width_px, this.underlay.height_px),
        opacity_percent: Number(this.opacity.input.value),
      });
  }

  /** Numbers on the picture where spots are known. */
  private show_marks(): void {
    for (const old of this.sight.querySelectorAll(".plan-known")) old.remove();
    if (this.underlay === null) return;
    const { width_px, height_px } = this.underlay;
    const all = [
      ...this.pairs.map((pair, index) => ({ ...pair, words: String(index + 1) })),
      ...(this.waiting === null ? [] : [{ ...this.waiting, words: "?" }]),
    ];
    for (const { x_px, y_px, words } of all) {
      const known = make("span", { class: "plan-known", "aria-hidden": "true" }, words);
      known.style.left = `${(100 * x_px) / width_px}%`;
      known.style.top = `${(100 * y_px) / height_px}%`;
      this.sight.append(known);
    }
  }

  private async keep(): Promise<void> {
    if (this.underlay === null) return;
    // Where it fails everything stays as marked.
    const [pairs, id] = [this.pairs, this.underlay.id];
    if (!(await this.session.fix(id, pairs, Number(this.opacity.input.value)))) this.show_refusals();
  }
}
