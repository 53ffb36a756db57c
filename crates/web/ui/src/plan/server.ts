/** Asks the app, and tells what went wrong in its words or in ours where it gave no answer. */
import type { Draft } from "./draft";
import type { Fixed, Part, Plan, Refusal, Revision } from "./contract";

/** Why something was not done. Status 0: the app gave no answer. */
export class Trouble extends Error {
  readonly status: number;
  readonly refusals: Refusal[];

  constructor(status: number, refusals: Refusal[]) {
    super(refusals.map((refusal) => refusal.message).join(" "));
    this.status = status;
    this.refusals = refusals;
  }
}

/** What the session asks of the app. */
export interface Server {
  load(): Promise<Plan>;
  add(draft: Draft): Promise<string>;
  correct(id: string, revision: Revision, draft: Draft): Promise<void>;
  remove(id: string, revision: Revision): Promise<void>;
  back(id: string): Promise<void>;
  fix(id: string, revision: Revision, fixed: Fixed[], opacity_percent: number): Promise<void>;
}

/** A plan as it is sent: what is empty may be left out. */
type Sent = Partial<Omit<Plan, "parts">> & {
  parts?: (Omit<Part, "holes" | "remarks" | "why"> & Partial<Pick<Part, "holes" | "remarks" | "why">>)[];
};

const NO_ANSWER =
  "The app did not answer, so nothing was written down. What you drew stays here: see that the app is running, and save again.";

/** A refusal as a sentence of its own. */
function sentence(text: string): string {
  const words = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(words) ? words : `${words}.`;
}

function words(status: number, body: unknown): Refusal[] {
  if (typeof body === "object" && body !== null && "errors" in body && Array.isArray(body.errors)) {
    const errors = body.errors as Partial<Refusal>[];
    const told = errors.filter((error) => typeof error.message === "string");
    if (told.length > 0)
      return told.map((error) => ({
        ...error,
        field: error.field ?? "",
        message: sentence(error.message ?? ""),
      }));
  }
  return [{ field: "", message: `The app could not do this (answer ${status}). What you drew stays here.` }];
}

function shape(draft: Draft): Record<string, unknown> {
  return {
    kind: draft.kind,
    name: draft.name,
    ...(draft.plot === null ? {} : { plot: draft.plot }),
    ...(draft.kind === "keep_out" ? { why: draft.why ?? "" } : {}),
    form: draft.form,
    points: draft.points,
    ...(draft.holes.length === 0 ? {} : { holes: draft.holes }),
  };
}

/** The app at an address of the plan, `/api/plan`. */
export function app_at(address: string, ask: typeof fetch = fetch): Server {
  const send = async (path: string, init: RequestInit): Promise<unknown> => {
    const headers = new Headers(init.headers);
    headers.set("accept", "application/json");
    let response: Response;
    try {
      response = await ask(path, { ...init, headers });
    } catch {
      throw new Trouble(0, [{ field: "", message: NO_ANSWER }]);
    }
    let body: unknown = null;
    try {
      body = await response.json();
    } catch {
      // An answer without JSON is told by its status alone.
    }
    if (!response.ok) throw new Trouble(response.status, words(response.status, body));
    return body;
  };
  const post = (path: string, body: unknown): Promise<unknown> =>
    send(`${address}${path}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
    });
  const part = (id: string): string => `/parts/${encodeURIComponent(id)}`;

  return {
    load: async () => {
      const plan = (await send(address, {})) as Sent;
      return {
        origin: plan.origin ?? null,
        units: plan.units ?? "metric",
        parts: (plan.parts ?? []).map((one) => ({
          ...one,
          // A part without a name is called by its kind, which is not a name to send back.
          name: plan.kinds?.some((kind) => kind.key === one.kind && kind.words === one.name) ? "" : one.name,
          why: one.why ?? null,
          holes: one.holes ?? [],
          remarks: one.remarks ?? [],
        })),
        underlays: plan.underlays ?? [],
        kinds: plan.kinds ?? [],
        whys: plan.whys ?? [],
        plots: plan.plots ?? [],
      };
    },
    add: async (draft) => {
      const answer = (await post("/parts", shape(draft))) as { id?: string } | null;
      return answer?.id ?? "";
    },
    correct: async (id, revision, draft) => {
      await post(part(id), { ...shape(draft), revision });
    },
    remove: async (id, revision) => {
      await post(`${part(id)}/remove`, { revision });
    },
    back: async (id) => {
      await post(`${part(id)}/back`, {});
    },
    fix: async (id, revision, fixed, opacity_percent) => {
      await post(`/underlays/${encodeURIComponent(id)}`, { revision, fixed, opacity_percent });
    },
  };
}
