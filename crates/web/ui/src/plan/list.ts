/** Everything on the plan as a list, to take up by a press. */
import type { Part } from "./contract";
import { make } from "./make";
import { sign_of } from "./looks";
import type { Session } from "./session";

/** So many equal ones are folded into one line. */
const FEW = 4;

/** Parts that show one record of beds together, in the order of the plan. */
function groups(parts: readonly Part[]): Part[][] {
  const found: Part[][] = [];
  const beds = new Map<string, Part[]>();
  for (const part of parts) {
    const known = part.bed == null ? undefined : beds.get(part.bed);
    if (known !== undefined) {
      known.push(part);
      continue;
    }
    const group = [part];
    found.push(group);
    if (part.bed != null) beds.set(part.bed, group);
  }
  return found;
}

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
      ...groups(this.in_order()).map((parts) => {
        const [first] = parts;
        if (first === undefined || parts.length < FEW) return parts.map((part) => this.item(part));
        return make(
          "li",
          {},
          make(
            "details",
            { class: "plan-group" },
            make(
              "summary",
              {},
              sign_of(first.kind),
              make("span", {}, make("strong", {}, session.called(first).replace(/, \d+$/, "")), ` ${parts.length} drawn`),
            ),
            make("ul", { class: "plain" }, ...parts.map((part) => this.item(part))),
          ),
        );
      }).flat(),
    );
  }

  /** Plots first, then as the kinds are listed: what one looks for stands above what lies about it. */
  private in_order(): Part[] {
    const { parts, kinds } = this.session.plan;
    const rank = (part: Part): number => kinds.findIndex((kind) => kind.key === part.kind);
    return [...parts].sort((a, b) => rank(a) - rank(b));
  }

  private item(part: Part): HTMLElement {
    const { session } = this;
    const size = part.form === "area" ? part.area_words : part.form === "line" ? part.perimeter_words : "";
    const kind = session.kind_words(part.kind);
    const remarks = part.remarks.length;
    const told = remarks === 0 ? "" : remarks === 1 ? "1 remark" : `${remarks} remarks`;
    const about = [part.name.trim() === "" || part.name.trim() === kind ? "" : kind, size, told]
      .filter((words) => words !== "")
      .join(", ");
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
  }
}
