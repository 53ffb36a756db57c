/**
 * What is being done on the plan: the plan as the app has it, the part being drawn, and all steps back. It knows
 * nothing of the screen; the board and the panel listen to it.
 */
import type { Form, Part, Plan, Refusal } from "./contract";
import {
  type Draft,
  added,
  added_to_hole,
  complaint,
  draft_of,
  is_closed,
  new_draft,
  same,
  same_shape,
  with_hole,
} from "./draft";
import { type Point, centre, halfway, is_inside } from "./point";
import { type Server, Trouble } from "./server";
import { Steps } from "./steps";

/** Looking around, tapping corners, dragging a rectangle, cutting a piece out, or changing what is drawn. */
export type Tool = "look" | "corners" | "rectangle" | "cut" | "change" | "picture";

interface Moment {
  points: Point[];
  holes: Point[][];
  tool: Tool;
}

/** Something the app has written down, with its way back. */
type Saved =
  | { did: "added"; id: string; words: string }
  | { did: "removed"; id: string; words: string }
  | { did: "changed"; id: string; before: Draft; after: Draft; words: string };

/** Where an unsaved part waits for the page to come back. */
export interface Keep {
  read(): string | null;
  write(text: string | null): void;
}

export class Session {
  plan: Plan;
  draft: Draft | null = null;
  tool: Tool = "look";
  snapping = true;
  busy = false;
  refusals: Refusal[] = [];
  /** The part as somebody else left it, where a save met another version; `null` where it was taken off the plan. */
  clash: { theirs: Part | null } | null = null;
  private readonly strokes = new Steps<{ before: Moment; after: Moment; words: string }>();
  private readonly saved = new Steps<Saved>();
  private readonly listeners: (() => void)[] = [];
  private readonly server: Server;
  private readonly keep: Keep;
  /** Told to those who hear the page, and shown. */
  said = "";

  constructor(plan: Plan, server: Server, keep: Keep) {
    this.plan = plan;
    this.server = server;
    this.keep = keep;
    this.take_up();
  }

  listen(listener: () => void): void {
    this.listeners.push(listener);
  }

  private tell(said?: string): void {
    if (said !== undefined) this.said = said;
    this.keep.write(this.draft !== null && this.is_dirty() ? JSON.stringify(this.draft) : null);
    for (const listener of this.listeners) listener();
  }

  say(words: string): void {
    this.tell(words);
  }

  part(id: string | null): Part | undefined {
    return this.plan.parts.find((part) => part.id === id);
  }

  kind_words(key: string): string {
    const words = this.plan.kinds.find((kind) => kind.key === key)?.words ?? key.replaceAll("_", " ");
    return words.charAt(0).toUpperCase() + words.slice(1);
  }

  /** How a part is called: its name, else its kind. */
  called(part: { name: string; kind: string }): string {
    return part.name.trim() === "" ? this.kind_words(part.kind) : part.name;
  }

  /** Whether the part being drawn says something that the book does not. */
  is_dirty(): boolean {
    if (this.draft === null) return false;
    const known = this.part(this.draft.id);
    if (known === undefined)
      return this.draft.points.length > 0 || this.draft.name !== "" || this.draft.id !== null;
    return !same(draft_of(known), this.draft);
  }

  /** A part that was not saved when the page went away. */
  private take_up(): void {
    try {
      const kept = JSON.parse(this.keep.read() ?? "null") as Draft | null;
      if (kept === null || !Array.isArray(kept.points)) return;
      const known = this.part(kept.id);
      const draft = { ...kept, why: kept.why ?? null };
      this.draft = known === undefined ? { ...draft, id: null, revision: null } : draft;
      const is_cut = draft.holes.some((hole) => hole.length < 3);
      this.tool = complaint(draft) === null ? "change" : is_cut ? "cut" : "corners";
      this.said = `${this.called(kept)} was not saved yet. It is as you left it.`;
    } catch {
      this.keep.write(null);
    }
  }

  private moment(draft: Draft): Moment {
    return { points: draft.points, holes: draft.holes, tool: this.tool };
  }

  /** Whether something else may be begun; says why not. */
  private is_free(): boolean {
    if (this.busy) return false;
    if (this.draft !== null && this.is_dirty()) {
      this.tell(`${this.called(this.draft)} is not saved yet. Save it or discard it first.`);
      return false;
    }
    return true;
  }

  private close(): void {
    this.draft = null;
    this.tool = "look";
    this.refusals = [];
    this.clash = null;
    this.strokes.clear();
  }

  /** Begins a new part. */
  begin(kind: string, form: Form, tool: "corners" | "rectangle"): boolean {
    if (!this.is_free()) return false;
    this.close();
    this.draft = new_draft(kind, form);
    this.tool = tool;
    const how = {
      point: "Tap the spot on the plan, or type where it is.",
      line: "Tap its corners one after the other. Tap the last one again to end.",
      area: "Tap its corners one after the other. Tap the first one again to close it.",
    };
    this.tell(tool === "rectangle" ? "Drag from one corner to the opposite one." : how[form]);
    return true;
  }

  /** Takes up a part of the plan to change it. */
  select(id: string): boolean {
    if (this.draft?.id === id) return true;
    const part = this.part(id);
    if (part === undefined || !this.is_free()) return false;
    this.close();
    this.draft = draft_of(part);
    this.tool = "change";
    this.tell(`${this.called(part)} is open for changes.`);
    return true;
  }

  /** Begins to fix a picture. */
  fix_pictures(on: boolean): boolean {
    if (on && !this.is_free()) return false;
    this.close();
    this.tool = on ? "picture" : "look";
    this.tell();
    return true;
  }

  /** The plot that a new part lies in, where it lies in one. */
  private plot_around(draft: Draft): string | null {
    if (draft.id !== null || draft.plot !== null || draft.kind === "plot" || draft.kind === "farm_edge")
      return draft.plot;
    const middle = draft.form === "line" ? halfway(draft.points) : centre(draft.points, is_closed(draft));
    return (
      this.plan.parts.find(
        (part) => part.kind === "plot" && part.form === "area" && is_inside(middle, part.points),
      )?.plot ?? null
    );
  }

  /** Another shape for the part at hand: one step back. */
  change(shape: Draft, words: string, tool: Tool = this.tool): void {
    if (this.draft === null || this.busy) return;
    if (same_shape(shape, this.draft) && tool === this.tool) return;
    const is_drawn = tool === "change" && this.tool !== "change";
    const draft = is_drawn ? { ...shape, plot: this.plot_around(shape) } : shape;
    const before = this.moment(this.draft);
    this.strokes.add({ before, after: { points: draft.points, holes: draft.holes, tool }, words });
    this.draft = draft;
    this.tool = tool;
    this.refusals = [];
    this.tell(words);
  }

  /** Whether corners are being set, of an outline or of a piece to cut out. */
  is_tapping(): boolean {
    return this.tool === "corners" || this.tool === "cut";
  }

  /** The corners that are being set. */
  open_ring(): readonly Point[] {
    const { draft } = this;
    if (draft === null) return [];
    return this.tool === "cut" ? (draft.holes[draft.holes.length - 1] ?? []) : draft.points;
  }

  /** The part at hand with one more corner where corners are being set. */
  with_corner(draft: Draft, point: Point): Draft {
    return this.tool === "cut" ? added_to_hole(draft, point) : added(draft, point);
  }

  /** Begins to cut a piece out of the area at hand. */
  cut(): void {
    const { draft } = this;
    if (draft === null || this.tool !== "change" || draft.form !== "area") return;
    this.change(
      with_hole(draft),
      "Tap the corners of the piece that is cut out. Tap the first one again to close it.",
      "cut",
    );
  }

  /** What is not drawn: name, kind, plot, why. */
  describe(change: Partial<Pick<Draft, "name" | "kind" | "plot" | "why">>): void {
    if (this.draft === null) return;
    this.draft = { ...this.draft, ...change };
    this.tell();
  }

  /** Ends the tapping of corners. */
  finish(): void {
    if (this.draft === null || this.tool === "change") return;
    const problem = complaint(this.draft);
    if (problem !== null) {
      this.tell(problem);
      return;
    }
    if (this.tool === "cut") {
      this.change(this.draft, "Cut out. Save it, or drag its corners.", "change");
      return;
    }
    this.change(this.draft, "Drawn. Give it a name and save it, or drag its corners.", "change");
  }

  /** Lets go of the part at hand without writing anything down. */
  discard(): void {
    if (this.busy) return;
    const words = this.draft === null || !this.is_dirty() ? "" : `${this.called(this.draft)} was not saved.`;
    this.close();
    this.tell(words);
  }

  can_undo(): string | null {
    if (this.busy) return null;
    const stroke = this.strokes.last();
    if (stroke !== undefined) return stroke.words;
    return this.draft !== null && this.is_dirty() ? null : (this.saved.last()?.words ?? null);
  }

  can_redo(): string | null {
    if (this.busy) return null;
    const stroke = this.strokes.next();
    if (stroke !== undefined) return stroke.words;
    return this.draft !== null && this.is_dirty() ? null : (this.saved.next()?.words ?? null);
  }

  private put(moment: Moment, words: string): void {
    if (this.draft === null) return;
    this.draft = { ...this.draft, points: moment.points, holes: moment.holes };
    this.tool = moment.tool;
    this.refusals = [];
    this.tell(words);
  }

  async undo(): Promise<void> {
    if (this.can_undo() === null) return;
    const stroke = this.strokes.back();
    if (stroke !== undefined) {
      this.put(stroke.before, `Taken back: ${stroke.words}`);
      return;
    }
    const step = this.saved.last();
    if (step === undefined) return;
    await this.write(`Taken back: ${step.words}`, async () => {
      await this.turn(step, "back");
      this.saved.back();
      this.close();
    });
  }

  async redo(): Promise<void> {
    if (this.can_redo() === null) return;
    const stroke = this.strokes.forth();
    if (stroke !== undefined) {
      this.put(stroke.after, `Done again: ${stroke.words}`);
      return;
    }
    const step = this.saved.next();
    if (step === undefined) return;
    await this.write(`Done again: ${step.words}`, async () => {
      await this.turn(step, "forth");
      this.saved.forth();
      this.close();
    });
  }

  /** One written step, back or forth again, by the opposite call. */
  private async turn(step: Saved, way: "back" | "forth"): Promise<void> {
    const revision = this.part(step.id)?.revision ?? 0;
    if (step.did === "changed") {
      await this.server.correct(step.id, revision, way === "back" ? step.before : step.after);
    } else if ((step.did === "added") === (way === "back")) {
      await this.server.remove(step.id, revision);
    } else {
      await this.server.back(step.id);
    }
  }

  async save(): Promise<void> {
    const draft = this.draft;
    if (draft === null || this.busy) return;
    const problem = complaint(draft);
    if (problem !== null) {
      this.refusals = [{ field: "points", message: problem }];
      this.tell(problem);
      return;
    }
    const name = this.called(draft);
    const { id, revision } = draft;
    await this.write(`${name} is in the book.`, async () => {
      if (id === null || revision === null) {
        const made = await this.server.add(draft);
        this.saved.add({ did: "added", id: made, words: `${name} drawn` });
      } else {
        const known = this.part(id);
        await this.server.correct(id, revision, draft);
        const before = known === undefined ? draft : draft_of(known);
        this.saved.add({ did: "changed", id, before, after: draft, words: `${name} changed` });
      }
      this.close();
    });
  }

  /** Takes the part at hand off the plan. It stays in the history and can come back. */
  async remove(): Promise<void> {
    const draft = this.draft;
    if (draft === null || draft.id === null || this.busy) return;
    const { id } = draft;
    const name = this.called(this.part(id) ?? draft);
    await this.write(`${name} is off the plan. Undo brings it back.`, async () => {
      await this.server.remove(id, draft.revision ?? 0);
      this.saved.add({ did: "removed", id, words: `${name} taken off the plan` });
      this.close();
    });
  }

  /** Lays a picture on its known spots. */
  async fix(
    id: string,
    fixed: { x_px: number; y_px: number; at: Point }[],
    opacity_percent: number,
  ): Promise<boolean> {
    const known = this.plan.underlays.find((underlay) => underlay.id === id);
    if (known === undefined || this.busy) return false;
    return this.write(`${known.name} is fixed.`, async () => {
      await this.server.fix(id, known.revision, fixed, opacity_percent);
      this.close();
    });
  }

  /** After two versions met: ours over theirs, or theirs. */
  settle(ours: boolean): Promise<void> {
    const { draft, clash } = this;
    if (draft === null || clash === null) return Promise.resolve();
    this.clash = null;
    this.refusals = [];
    if (!ours) {
      this.close();
      this.tell("The version of the book stays.");
      return Promise.resolve();
    }
    this.draft =
      clash.theirs === null
        ? { ...draft, id: null, revision: null }
        : { ...draft, revision: clash.theirs.revision };
    return this.save();
  }

  /** Writes, then reads the plan anew. Where it fails the drawing stays as it is. */
  private async write(done: string, act: () => Promise<void>): Promise<boolean> {
    this.busy = true;
    this.refusals = [];
    this.tell("Writing it down");
    try {
      await act();
    } catch (error) {
      await this.failed(error);
      return false;
    }
    try {
      this.plan = await this.server.load();
      this.busy = false;
      this.tell(done);
    } catch {
      this.busy = false;
      this.tell(`${done} The plan could not be read again: reload the page to see it.`);
    }
    return true;
  }

  private async failed(error: unknown): Promise<void> {
    const trouble =
      error instanceof Trouble ? error : new Trouble(0, [{ field: "", message: String(error) }]);
    this.refusals = trouble.refusals;
    if (trouble.status === 409) {
      try {
        this.plan = await this.server.load();
        const theirs = this.part(this.draft?.id ?? null);
        const id = this.draft?.id ?? null;
        if (id !== null && (theirs === undefined || theirs.revision !== this.draft?.revision))
          this.clash = { theirs: theirs ?? null };
      } catch {
        // The refusal itself is told below.
      }
    }
    this.busy = false;
    this.tell(trouble.message);
  }
}
