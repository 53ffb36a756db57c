/** The row above the plan: what to draw and how, steps back and forth, snapping. */
import { button, choices, make } from "./make";
import type { Form } from "./contract";
import type { Session } from "./session";

const FORM_WORDS: Readonly<Record<Form, string>> = { area: "an area", line: "a line", point: "a spot" };

export class Tools {
  readonly element: HTMLElement;
  private readonly session: Session;
  private readonly kind: HTMLSelectElement;
  private readonly form: HTMLSelectElement;
  private readonly form_label: HTMLElement;
  private readonly tap: HTMLButtonElement;
  private readonly rectangle: HTMLButtonElement;
  private readonly back: HTMLButtonElement;
  private readonly forth: HTMLButtonElement;
  private readonly pictures: HTMLButtonElement;

  constructor(session: Session, show_all: () => void) {
    this.session = session;
    this.kind = make("select", {
      id: "plan-draw-kind",
      change: () => {
        this.show();
      },
    });
    this.form = make("select", {
      id: "plan-draw-form",
      change: () => {
        this.show();
      },
    });
    this.form_label = make("label", { class: "label", for: "plan-draw-form" }, "as");
    this.tap = button("Tap the corners", () => {
      session.begin(this.kind.value, this.chosen_form(), "corners");
    });
    this.rectangle = button("Drag a rectangle", () => {
      session.begin(this.kind.value, "area", "rectangle");
    });
    this.back = button("Undo", () => void session.undo());
    this.forth = button("Redo", () => void session.redo());
    this.pictures = button("Fix a picture", () => {
      session.fix_pictures(session.tool !== "picture");
    });
    const snapping = make("input", {
      type: "checkbox",
      checked: true,
      change: () => {
        session.snapping = snapping.checked;
      },
    });
    this.element = make(
      "div",
      { class: "plan-tools", role: "group", "aria-label": "Drawing" },
      make(
        "div",
        { class: "plan-draw" },
        make("label", { class: "label", for: "plan-draw-kind" }, "Draw"),
        this.kind,
        this.form_label,
        this.form,
        this.tap,
        this.rectangle,
      ),
      make(
        "div",
        { class: "plan-steps" },
        this.back,
        this.forth,
        button("Show all", show_all),
        this.pictures,
        make("label", { class: "answer" }, snapping, "Snap to corners, edges and right angles"),
      ),
    );
    session.listen(() => {
      this.show();
    });
    this.show();
  }

  private forms(): Form[] {
    return this.session.plan.kinds.find((kind) => kind.key === this.kind.value)?.forms ?? ["area"];
  }

  private chosen_form(): Form {
    return this.forms().find((form) => form === this.form.value) ?? this.forms()[0] ?? "area";
  }

  private show(): void {
    const { session } = this;
    const { kinds } = session.plan;
    choices(
      this.kind,
      kinds.map((kind) => [kind.key, session.kind_words(kind.key)] as const),
      this.kind.value || (kinds[0]?.key ?? ""),
    );
    choices(
      this.form,
      this.forms().map((form) => [form, FORM_WORDS[form]] as const),
      this.chosen_form(),
    );
    const many = this.forms().length > 1;
    this.form.hidden = !many;
    this.form_label.hidden = !many;
    this.tap.textContent = this.chosen_form() === "point" ? "Tap the spot" : "Tap the corners";
    this.rectangle.hidden = this.chosen_form() !== "area";
    this.tap.setAttribute("aria-pressed", String(session.tool === "corners"));
    this.rectangle.setAttribute("aria-pressed", String(session.tool === "rectangle"));
    this.pictures.hidden = session.plan.underlays.length === 0;
    this.pictures.setAttribute("aria-pressed", String(session.tool === "picture"));
    for (const [press, word, step] of [
      [this.back, "Undo", session.can_undo()],
      [this.forth, "Redo", session.can_redo()],
    ] as const) {
      // Marked, not disabled: the focus stays where it is after the last step.
      press.setAttribute("aria-disabled", String(step === null));
      press.title = step === null ? "" : `${word}: ${step}`;
    }
  }
}
