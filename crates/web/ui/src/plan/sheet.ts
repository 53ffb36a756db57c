/** The part at hand beside the plan: its measures, its corners to type, its name, and what to do with it. */
import { read_side } from "./bearing";
import type { Board } from "./board";
import { CornersTable } from "./corners-table";
import { type Draft, complaint, is_closed, rotated } from "./draft";
import { Field, button, choices, make } from "./make";
import { Refused, type Units, area_words, length_words } from "./measure";
import { measures } from "./measures";
import { along, area_m2, bearing_degrees, between, length_m } from "./point";
import type { Session } from "./session";
import { ask_device, can_ask, on_plan } from "./standpoint";

export class Sheet {
  readonly element: HTMLElement;
  private readonly session: Session;
  private readonly board: () => Board;
  private readonly heading = make("h2", { tabindex: "-1" });
  private readonly problems = make("div", { class: "error-summary", role: "alert", hidden: true });
  private readonly side = make("p", { class: "plan-side-now" });
  private readonly whole = make("p", { class: "plan-whole-now" });
  private readonly drawing: HTMLElement;
  private readonly next_side: Field<HTMLInputElement>;
  private readonly walk: HTMLButtonElement;
  private readonly name: Field<HTMLInputElement>;
  private readonly kind: Field<HTMLSelectElement>;
  private readonly plot: Field<HTMLSelectElement>;
  private readonly why: Field<HTMLSelectElement>;
  private readonly turn: Field<HTMLInputElement>;
  private readonly turning: HTMLElement;
  private readonly cutting: HTMLElement;
  private readonly corners: CornersTable;
  private readonly two: HTMLElement;
  private readonly save: HTMLButtonElement;
  private readonly done: HTMLButtonElement;
  private readonly remove: HTMLButtonElement;
  private readonly remarks = make("div");
  private id: string | null | undefined;

  constructor(session: Session, board: () => Board) {
    this.session = session;
    this.board = board;
    const text = (): HTMLInputElement =>
      make("input", { type: "text", autocomplete: "off", class: "input-middle" });

    this.next_side = new Field("Next side", text(), "");
    this.done = button("Done drawing", () => {
      session.finish();
    });
    this.walk = button("Add the spot where I stand", () => void this.stand());
    this.drawing = make(
      "div",
      { class: "plan-drawing" },
      this.next_side.box,
      make(
        "p",
        { class: "plan-buttons" },
        button("Add the side", () => {
          this.add_side();
        }),
        this.done,
        this.walk,
      ),
    );
    this.next_side.input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      event.stopPropagation();
      this.add_side();
    });

    this.name = new Field("Name", text());
    this.name.input.addEventListener("input", () => {
      session.describe({ name: this.name.input.value });
    });
    this.kind = new Field("What it is", make("select"));
    this.kind.input.addEventListener("change", () => {
      session.describe({ kind: this.kind.input.value });
    });
    this.plot = new Field("Plot", make("select"));
    this.plot.input.addEventListener("change", () => {
      session.describe({ plot: this.plot.input.value === "" ? null : this.plot.input.value });
    });
    this.why = new Field("Why nothing is sampled there", make("select"));
    this.why.input.addEventListener("change", () => {
      session.describe({ why: this.why.input.value === "" ? null : this.why.input.value });
    });
    this.cutting = make(
      "details",
      { class: "group" },
      make("summary", {}, "Cut a piece out of it"),
      make("p", { class: "hint" }, "A pond, a barn or a yard inside it that is no part of it."),
      button("Tap the corners of the piece", () => {
        session.cut();
        board().map.getContainer().focus({ preventScroll: true });
      }),
    );
    this.turn = new Field(
      "Turn clockwise, degrees",
      make("input", { type: "text", autocomplete: "off", class: "input-short" }),
    );
    this.turning = make(
      "details",
      { class: "group" },
      make("summary", {}, "Turn it"),
      this.turn.box,
      button("Turn", () => {
        this.turn_it();
      }),
    );
    this.corners = new CornersTable(session, (spot) => {
      board().delete_corner(spot);
    });
    this.two = make("div", { class: "plan-two", hidden: true });

    this.save = make("button", { class: "button" }, "Save");
    this.remove = button("Take it off the plan", () => void session.remove());
    const form = make(
      "form",
      { novalidate: true, class: "plan-form" },
      this.name.box,
      this.kind.box,
      this.why.box,
      this.plot.box,
      make(
        "p",
        { class: "actions" },
        this.save,
        button("Discard", () => {
          session.discard();
        }),
        this.remove,
      ),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      void session.save();
    });
    const typed = make(
      "details",
      { class: "group", open: window.matchMedia("(min-width: 60rem)").matches },
      make("summary", {}, "Corners"),
      this.corners.element,
    );
    this.element = make(
      "section",
      { class: "plan-sheet", hidden: true },
      this.heading,
      this.two,
      this.problems,
      make("div", { class: "plan-now" }, this.side, this.whole),
      this.remarks,
      this.drawing,
      form,
      typed,
      this.cutting,
      this.turning,
    );
    session.listen(() => {
      this.show();
    });
  }

  private add_side(): void {
    const { draft, plan } = this.session;
    const ring = this.session.open_ring();
    const last = ring[ring.length - 1];
    if (draft === null) return;
    if (last === undefined) {
      this.next_side.refuse(
        "A side begins at a corner: tap the first corner on the plan, or type it under Corners.",
      );
      return;
    }
    const before_last = ring[ring.length - 2];
    const before = before_last === undefined ? undefined : bearing_degrees(before_last, last);
    try {
      const typed = read_side(this.next_side.input.value, plan.units, before);
      const { aim } = this.board();
      const aimed = aim === null || between(last, aim) < 1e-6 ? undefined : bearing_degrees(last, aim);
      const bearing = typed.bearing ?? aimed ?? (before === undefined ? undefined : (before + 90) % 360);
      if (bearing === undefined) {
        this.next_side.refuse(
          `The first side needs its bearing too: type ${this.next_side.input.value.trim()} N20E, or point the way on the plan.`,
        );
        return;
      }
      this.next_side.refuse("");
      this.next_side.input.value = "";
      this.board().aim = null;
      const point = along(last, bearing, typed.length_m);
      const first = ring[0];
      // Back at the first corner: the outline is closed.
      if (is_closed(draft) && first !== undefined && ring.length > 2 && between(point, first) < 0.02)
        this.session.finish();
      else {
        this.session.change(this.session.with_corner(draft, point), `Corner ${ring.length + 1} set`);
        this.board().go_to([last, point]);
      }
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      this.next_side.refuse(error.message);
    }
  }

  /** A digit typed over the plan goes to the next side, which then follows the pointer. */
  type_side(digit: string): void {
    this.next_side.input.value = digit;
    this.next_side.input.focus();
  }

  private turn_it(): void {
    const { draft } = this.session;
    const degrees = Number(this.turn.input.value.replace(",", ".").replace("°", ""));
    if (draft === null) return;
    if (this.turn.input.value.trim() === "" || !Number.isFinite(degrees) || Math.abs(degrees) > 360) {
      this.turn.refuse("Type degrees from -360 to 360, for example 15 or -7.5.");
      return;
    }
    this.turn.refuse("");
    this.session.change(rotated(draft, degrees), `Turned by ${degrees}°`);
  }

  private async stand(): Promise<void> {
    const { draft, plan } = this.session;
    if (draft === null || plan.origin === null) return;
    this.session.say("Looking for where you stand");
    try {
      const { latitude, longitude, accuracy_m } = await ask_device();
      const now = this.session.draft;
      if (now === null) return;
      const within = length_words(accuracy_m, plan.units);
      const words = `Corner set where you stand, good to about ${within}. Measure a small plot by tape instead.`;
      this.session.change(this.session.with_corner(now, on_plan(plan.origin, latitude, longitude)), words);
      this.board().go_to(this.session.draft?.points ?? []);
    } catch (error) {
      this.session.say(error instanceof Error ? error.message : String(error));
    }
  }

  /** Tells the measures of a shape, with the pointer where it is. */
  live(draft: Draft | null): void {
    if (draft === null) return;
    const { side, whole } = measures(draft, this.session.plan.units);
    this.side.textContent = this.session.tool === "corners" ? side : "";
    this.whole.textContent = whole;
  }

  private show(): void {
    const { session } = this;
    const { draft, plan, tool } = session;
    this.element.hidden = draft === null;
    if (draft === null) {
      // The focus that stood in the sheet goes on to the plan, not to nowhere.
      if (this.id !== undefined && tool === "look" && document.activeElement === document.body) {
        this.board().map.getContainer().focus({ preventScroll: true });
      }
      this.id = undefined;
      return;
    }
    const is_new = draft.id === null;
    const words = session.kind_words(draft.kind);
    this.heading.textContent = is_new ? `New: ${words.toLowerCase()}` : session.called(draft);
    if (this.id !== draft.id) {
      this.id = draft.id;
      this.next_side.input.value = "";
      this.turn.input.value = "";
      this.heading.focus({ preventScroll: true });
    }
    if (this.name.input.value !== draft.name) this.name.input.value = draft.name;
    const kinds = plan.kinds
      .filter((kind) => kind.forms.includes(draft.form))
      .map((kind) => [kind.key, session.kind_words(kind.key)] as const);
    choices(this.kind.input, kinds, draft.kind);
    this.show_plots(draft);
    const whys = plan.whys.map(({ key, words }) => [key, words.charAt(0).toUpperCase() + words.slice(1)] as const);
    choices(this.why.input, [["", "Not said"], ...whys], draft.why ?? "");
    this.why.box.hidden = draft.kind !== "keep_out";
    const is_corners = session.is_tapping() && draft.form !== "point";
    const had_focus = this.drawing.contains(document.activeElement);
    this.drawing.hidden = !is_corners;
    if (!is_corners && had_focus) this.name.input.focus({ preventScroll: true });
    this.walk.hidden = !can_ask() || plan.origin === null;
    this.done.disabled = complaint(draft) !== null;
    this.cutting.hidden = tool !== "change" || draft.form !== "area";
    this.turning.hidden = tool !== "change" || draft.form === "point" || draft.points.length < 2;
    this.remove.hidden = is_new;
    this.save.disabled = session.busy;
    this.save.textContent = session.busy ? "Writing it down" : is_new ? "Save" : "Save the change";
    this.remarks.replaceChildren(
      ...(session.part(draft.id)?.remarks ?? []).map((remark) => make("p", { class: "note" }, remark)),
    );
    this.hint(plan.units);
    this.corners.show(draft);
    this.show_refusals();
    this.show_clash(draft);
  }

  private hint(units: Units): void {
    this.next_side.input.placeholder = units === "us" ? "40 ft N20E" : "12 m 20°";
    const label = this.next_side.box.querySelector("label");
    if (label !== null)
      label.textContent = "Next side: length and bearing, or length and right, left or straight";
  }

  private show_plots(draft: Draft): void {
    const { plan } = this.session;
    const is_plot = draft.kind === "plot";
    const taken = new Set(
      plan.parts.filter((part) => part.kind === "plot" && part.id !== draft.id).map((part) => part.plot),
    );
    const plots = plan.plots
      .filter((plot) => !is_plot || !taken.has(plot.id))
      .map((plot) => [plot.id, plot.name] as const);
    choices(this.plot.input, [["", is_plot ? "A new plot" : "None"], ...plots], draft.plot ?? "");
    this.plot.box.hidden = plots.length === 0;
    const label = this.plot.box.querySelector("label");
    if (label !== null) label.textContent = is_plot ? "Which plot" : "On which plot";
  }

  private show_refusals(): void {
    const { refusals, clash } = this.session;
    const at: Record<string, Field<HTMLInputElement | HTMLSelectElement>> = {
      name: this.name,
      kind: this.kind,
      plot: this.plot,
      why: this.why,
    };
    for (const field of Object.values(at)) field.refuse("");
    const told = clash === null ? refusals : [];
    for (const refusal of told) at[refusal.field]?.refuse(refusal.message);
    this.problems.hidden = told.length === 0;
    if (told.length === 0) return;
    this.problems.replaceChildren(
      make("h3", {}, "Not saved yet"),
      make(
        "ul",
        {},
        ...told.map((refusal) => {
          const field = at[refusal.field];
          const help = refusal.example ? ` For example: ${refusal.example}` : "";
          return make(
            "li",
            {},
            field === undefined
              ? refusal.message + help
              : make("a", { href: `#${field.input.id}` }, refusal.message),
          );
        }),
      ),
    );
  }

  private show_clash(draft: Draft): void {
    const { clash, plan } = this.session;
    this.two.hidden = clash === null;
    if (clash === null) return;
    const tell = (shape: { form: string; points: Draft["points"]; holes: Draft["holes"] }): string =>
      shape.form === "area"
        ? area_words(area_m2(shape.points, shape.holes), plan.units)
        : `${length_words(length_m(shape.points, false), plan.units)} long`;
    const { theirs } = clash;
    this.two.replaceChildren(
      make("h3", {}, "Two versions"),
      make(
        "p",
        {},
        theirs === null
          ? "Meanwhile it was taken off the plan. Yours can be drawn as a new one."
          : "It was changed meanwhile. The book's version is dotted on the plan, yours is full.",
      ),
      make(
        "dl",
        {},
        make("dt", {}, "In the book"),
        make(
          "dd",
          {},
          theirs === null ? "not on the plan" : `${this.session.called(theirs)}, ${tell(theirs)}`,
        ),
        make("dt", {}, "Yours"),
        make("dd", {}, `${this.session.called(draft)}, ${tell(draft)}`),
      ),
      make(
        "p",
        { class: "plan-buttons" },
        button("Save mine in its place", () => void this.session.settle(true)),
        button("Leave the book's version", () => void this.session.settle(false)),
      ),
    );
  }
}
