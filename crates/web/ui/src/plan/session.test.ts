import { beforeEach, describe, expect, it } from "vitest";
import type { Part, Plan } from "./contract";
import { added, complaint, inserted, moved, new_draft, rotated, shifted, spot_words, without } from "./draft";
import { area_m2 } from "./point";
import { type Server, Trouble, app_at } from "./server";
import { type Keep, Session } from "./session";

/** An app in memory that keeps revisions as the real one does: each write makes a new one, an old one is refused. */
class Book implements Server {
  parts = new Map<string, Part & { off: boolean }>();
  down = false;
  refuse: Trouble | null = null;
  private made = 0;

  private answer(): void {
    if (this.down) throw new Trouble(0, [{ field: "", message: "no answer" }]);
    if (this.refuse !== null) throw this.refuse;
  }

  private held(id: string, revision: unknown): Part & { off: boolean } {
    const part = this.parts.get(id);
    if (part === undefined || part.off || part.revision !== revision) {
      throw new Trouble(409, [{ field: "revision", message: "changed meanwhile" }]);
    }
    return part;
  }

  load(): Promise<Plan> {
    if (this.down) return Promise.reject(new Trouble(0, []));
    const parts = [...this.parts.values()].filter((part) => !part.off);
    const kinds = [{ key: "plot", words: "Plot", forms: ["area" as const] }];
    return Promise.resolve({
      origin: null,
      units: "metric",
      parts: structuredClone(parts),
      underlays: [],
      kinds,
      whys: [],
      plots: [],
    });
  }

  async add(draft: ReturnType<typeof new_draft>): Promise<string> {
    await Promise.resolve();
    this.answer();
    this.made += 1;
    const id = `part-${this.made}`;
    const words = { area_words: "", perimeter_words: "", remarks: [] };
    this.parts.set(id, { ...draft, ...words, id, revision: 1, off: false });
    return id;
  }

  async correct(id: string, revision: unknown, draft: ReturnType<typeof new_draft>): Promise<void> {
    await Promise.resolve();
    this.answer();
    const part = this.held(id, revision);
    this.parts.set(id, { ...part, ...draft, id, revision: Number(part.revision) + 1 });
  }

  async remove(id: string, revision: unknown): Promise<void> {
    await Promise.resolve();
    this.answer();
    const part = this.held(id, revision);
    this.parts.set(id, { ...part, revision: Number(part.revision) + 1, off: true });
  }

  async back(id: string): Promise<void> {
    await Promise.resolve();
    this.answer();
    const part = this.parts.get(id);
    if (part !== undefined) this.parts.set(id, { ...part, revision: Number(part.revision) + 1, off: false });
  }

  async fix(): Promise<void> {
    await Promise.resolve();
    this.answer();
  }
}

let book: Book;
let session: Session;
let kept: string | null;
const keep: Keep = {
  read: () => kept,
  write: (text) => {
    kept = text;
  },
};

const draft = (): ReturnType<typeof new_draft> => {
  if (session.draft === null) throw new Error("nothing is being drawn");
  return session.draft;
};

function square(name: string, size = 10): void {
  session.begin("plot", "area", "corners");
  for (const point of [
    [0, 0],
    [0, size],
    [size, size],
    [size, 0],
  ] as const)
    session.change(added(draft(), point), "Corner added");
  session.finish();
  session.describe({ name });
}

beforeEach(async () => {
  book = new Book();
  kept = null;
  session = new Session(await book.load(), book, keep);
});

describe("drawing", () => {
  it("goes back corner by corner, and forth again", async () => {
    square("Home field");
    expect(session.tool).toBe("change");
    await session.undo();
    expect(session.tool).toBe("corners");
    await session.undo();
    expect(draft().points).toHaveLength(3);
    for (let at = 0; at < 3; at += 1) await session.undo();
    expect(draft().points).toEqual([]);
    for (let at = 0; at < 5; at += 1) await session.redo();
    expect(draft().points).toHaveLength(4);
    expect(session.tool).toBe("change");
    expect(draft().name).toBe("Home field");
  });

  it("does not begin another part over one that is not saved", () => {
    square("Home field");
    expect(session.begin("plot", "area", "corners")).toBe(false);
    expect(session.said).toMatch(/not saved yet/);
    session.discard();
    expect(session.begin("plot", "area", "rectangle")).toBe(true);
  });

  it("does not end before there is an area", () => {
    session.begin("plot", "area", "corners");
    session.change(added(draft(), [0, 0]), "Corner added");
    session.finish();
    expect(session.tool).toBe("corners");
    expect(session.said).toBe("An area has three corners or more; one is drawn so far.");
  });
});

describe("saving", () => {
  it("writes a part down, and takes it back and forth by opposite calls", async () => {
    square("Home field");
    await session.save();
    expect(session.plan.parts.map((part) => part.name)).toEqual(["Home field"]);
    expect(session.draft).toBeNull();
    expect(kept).toBeNull();

    session.select("part-1");
    session.change(moved(draft(), { ring: 0, at: 2 }, [20, 10]), "Corner moved");
    await session.save();
    expect(area_m2(session.plan.parts[0]?.points ?? [])).toBe(150);

    await session.undo();
    expect(area_m2(session.plan.parts[0]?.points ?? [])).toBe(100);
    await session.undo();
    expect(session.plan.parts).toEqual([]);
    expect(session.can_undo()).toBeNull();
    await session.redo();
    await session.redo();
    expect(area_m2(session.plan.parts[0]?.points ?? [])).toBe(150);
  });

  it("brings back what was taken off the plan", async () => {
    square("Home field");
    await session.save();
    session.select("part-1");
    await session.remove();
    expect(session.plan.parts).toEqual([]);
    await session.undo();
    expect(session.plan.parts.map((part) => part.id)).toEqual(["part-1"]);
  });

  it("keeps everything where the app does not answer, and saves it later", async () => {
    square("Home field");
    book.down = true;
    await session.save();
    expect(session.refusals[0]?.message).toBe("no answer");
    expect(draft().points).toHaveLength(4);
    book.down = false;
    await session.save();
    expect(session.plan.parts).toHaveLength(1);
  });

  it("shows the app's words and keeps the drawing where it refuses", async () => {
    square("");
    book.refuse = new Trouble(422, [{ field: "name", message: "A plot has a name." }]);
    await session.save();
    expect(session.refusals).toEqual([{ field: "name", message: "A plot has a name." }]);
    expect(draft().points).toHaveLength(4);
    expect(session.can_undo()).toMatch(/^Drawn/);
  });

  it("does not send an outline that crosses itself", async () => {
    session.begin("plot", "area", "corners");
    for (const point of [
      [0, 0],
      [10, 10],
      [10, 0],
      [0, 10],
    ] as const)
      session.change(added(draft(), point), "Corner added");
    await session.save();
    expect(session.refusals[0]?.message).toMatch(/crosses itself/);
    expect(book.parts.size).toBe(0);
  });

  it("keeps a step that could not be taken back", async () => {
    square("Home field");
    await session.save();
    book.down = true;
    await session.undo();
    expect(session.can_undo()).toBe("Home field drawn");
    book.down = false;
    await session.undo();
    expect(session.plan.parts).toEqual([]);
  });
});

describe("two people at once", () => {
  const meet = async (): Promise<void> => {
    square("Home field");
    await session.save();
    session.select("part-1");
    session.change(moved(draft(), { ring: 0, at: 2 }, [20, 10]), "Corner moved");
    const other = session.plan.parts[0] as Part;
    await book.correct("part-1", 1, { ...other, name: "Upper field" });
    await session.save();
  };

  it("shows both, and puts ours over theirs when told so", async () => {
    await meet();
    expect(session.clash?.theirs?.name).toBe("Upper field");
    expect(draft().points[2]).toEqual([20, 10]);
    await session.settle(true);
    expect(session.plan.parts[0]?.name).toBe("Home field");
    expect(session.plan.parts[0]?.points[2]).toEqual([20, 10]);
  });

  it("leaves theirs when told so", async () => {
    await meet();
    await session.settle(false);
    expect(session.plan.parts[0]?.name).toBe("Upper field");
    expect(session.draft).toBeNull();
  });

  it("draws it anew where the other one took it off the plan", async () => {
    square("Home field");
    await session.save();
    session.select("part-1");
    session.describe({ name: "Lower field" });
    await book.remove("part-1", 1);
    await session.save();
    expect(session.clash).toEqual({ theirs: null });
    await session.settle(true);
    expect(session.plan.parts.map((part) => part.name)).toEqual(["Lower field"]);
  });
});

it("takes up a drawing that was not saved when the page went away", async () => {
  square("Home field");
  const again = new Session(await book.load(), book, keep);
  expect(again.draft?.points).toHaveLength(4);
  expect(again.said).toMatch(/not saved yet/);
  kept = "{ broken";
  expect(new Session(await book.load(), book, keep).draft).toBeNull();
});

describe("cutting a piece out", () => {
  const tap = (...points: (readonly [number, number])[]): void => {
    for (const point of points) session.change(session.with_corner(draft(), point), "Corner set");
  };

  it("takes it off the area, keeps it through a save, and can be taken back", async () => {
    square("Home field");
    await session.save();
    session.select("part-1");
    const whole = area_m2(draft().points);
    session.cut();
    expect(session.tool).toBe("cut");
    tap([1, 1], [3, 1]);
    session.finish();
    expect(session.said).toMatch(/three corners or more; two are drawn/);
    await session.save();
    expect(session.refusals[0]?.message).toMatch(/three corners or more/);
    tap([3, 4]);
    session.finish();
    expect(session.tool).toBe("change");
    // Half of 2 by 3.
    expect(area_m2(draft().points, draft().holes)).toBeCloseTo(whole - 3, 9);
    await session.save();
    expect(session.plan.parts[0]?.holes).toHaveLength(1);
    await session.undo();
    expect(session.plan.parts[0]?.holes).toEqual([]);
  });

  it("refuses a piece that reaches over the outline or crosses itself", () => {
    square("Home field");
    session.cut();
    tap([1, 1], [99, 1], [99, 4]);
    expect(complaint(draft())).toMatch(/reaches over the outline/);
    void session.undo();
    void session.undo();
    tap([3, 3], [3, 1], [1, 3]);
    expect(complaint(draft())).toMatch(/piece to cut out crosses itself/);
  });

  it("comes back as it was left, corner by corner", async () => {
    square("Home field");
    session.cut();
    tap([1, 1]);
    const again = new Session(await book.load(), book, keep);
    expect(again.tool).toBe("cut");
    expect(again.open_ring()).toEqual([[1, 1]]);
  });
});

it("keeps why nothing is sampled somewhere", async () => {
  session.begin("keep_out", "area", "corners");
  session.change(
    {
      ...draft(),
      points: [
        [0, 0],
        [0, 4],
        [4, 4],
      ],
    },
    "Drawn",
    "change",
  );
  session.describe({ why: "old_fence" });
  await session.save();
  expect(session.plan.parts[0]?.why).toBe("old_fence");
  session.select("part-1");
  expect(session.is_dirty()).toBe(false);
  session.describe({ why: null });
  expect(session.is_dirty()).toBe(true);
});

it("changes holes with the outline, and drops one that is left with two corners", () => {
  const ring = {
    ...new_draft("plot", "area"),
    points: [
      [0, 0],
      [0, 9],
      [9, 9],
      [9, 0],
    ] as [number, number][],
    holes: [
      [
        [1, 1],
        [1, 2],
        [2, 2],
      ],
    ] as [number, number][][],
  };
  expect(shifted(ring, [5, 0]).holes[0]?.[0]).toEqual([6, 1]);
  expect(without(ring, { ring: 1, at: 0 }).holes).toEqual([]);
  expect(inserted(ring, { ring: 0, at: 0 }, [4, -1]).points[0]).toEqual([4, -1]);
  expect(area_m2(rotated(ring, 30).points)).toBeCloseTo(81, 9);
  expect(spot_words(ring, { ring: 1, at: 0 })).toBe("Corner 1 of hole 1");
  expect(complaint(ring)).toBeNull();
});

describe("app_at", () => {
  const asked: { url: string; body: unknown }[] = [];
  const answering = (status: number, body: unknown): typeof fetch =>
    ((url: string, init?: RequestInit) => {
      asked.push({ url, body: typeof init?.body === "string" ? JSON.parse(init.body) : null });
      return Promise.resolve(
        new Response(typeof body === "string" ? body : JSON.stringify(body), { status }),
      );
    }) as typeof fetch;

  it("reads a part without a name as one, not as named by its kind", async () => {
    const kinds = [{ key: "tree", words: "tree", forms: ["point"] }];
    const parts = ["tree", "Oak"].map((name) => ({ id: name, kind: "tree", name, form: "point", points: [[0, 0]] }));
    const plan = await app_at("/api/plan", answering(200, { kinds, parts })).load();
    expect(plan.parts.map((part) => part.name)).toEqual(["", "Oak"]);
  });

  it("sends a new part and gives its id", async () => {
    square("Home field");
    expect(await app_at("/api/plan", answering(201, { id: "x" })).add(draft())).toBe("x");
    expect(asked.at(-1)).toEqual({
      url: "/api/plan/parts",
      body: {
        kind: "plot",
        name: "Home field",
        form: "area",
        points: [
          [0, 0],
          [0, 10],
          [10, 10],
          [10, 0],
        ],
      },
    });
  });

  it("tells the app's refusal, an answer without words, and none at all", async () => {
    square("");
    const errors = [
      { field: "name", message: "A plot has a name.", given: "", accepted: "a name", example: "Home field" },
    ];
    await expect(app_at("/api/plan", answering(422, { errors })).add(draft())).rejects.toMatchObject({
      status: 422,
      refusals: errors,
    });
    await expect(app_at("/api/plan", answering(500, "oops")).add(draft())).rejects.toThrow(/answer 500/);
    const none = (() => Promise.reject(new TypeError("offline"))) as typeof fetch;
    await expect(app_at("/api/plan", none).remove("x", 1)).rejects.toMatchObject({ status: 0 });
  });
});
