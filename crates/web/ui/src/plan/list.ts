/** Everything on the plan as a list, to take up by a press. */
import { make } from "./make";
import { sign_of } from "./looks";
import type { Session } from "./session";

export class List {
  readonly element: HTMLElement;
  private readonly session: Session;
  private readonly all = make("ul", { class: "plain plan-list" });
  private readonly none = make(
    "p",
    {},
    "Nothing is drawn yet. Choose what to draw above, and tap its corners.",
  );
  private shown = "";

  constructor(session: Session, take_up: (id: string) => void) {
    this.session = session;
    this.take_up = take_up;
    this.element = make(
      "section",
      { class: "plan-parts" },
      make("h2", {}, "On the plan"),
      this.none,
      this.all,
    );
    session.listen(() => {
      this.show();
    });
    this.show();
  }

  private readonly take_up: (id: string) => void;

  private show(): void {
    const { session } = this;
    this.element.hidden = session.draft !== null || session.tool === "picture";
    const wanted = JSON.stringify(session.plan.parts);
    if (wanted === this.shown) return;
    this.shown = wanted;
    this.none.hidden = session.plan.parts.length > 0;
    this.all.replaceChildren(
      ...session.plan.parts.map((part) => {
        const size =
          part.form === "area" ? part.area_words : part.form === "line" ? part.perimeter_words : "";
        const kind = session.kind_words(part.kind);
        const about = [part.name.trim() === "" ? "" : kind, size].filter((words) => words !== "").join(", ");
        const press = make(
          "button",
          {
            type: "button",
            class: "plan-item",
            click: () => {
              this.take_up(part.id);
            },
          },
          sign_of(part.kind),
          make("span", {}, make("strong", {}, session.called(part)), about === "" ? "" : ` ${about}`),
        );
        return make("li", {}, press);
      }),
    );
  }
}
