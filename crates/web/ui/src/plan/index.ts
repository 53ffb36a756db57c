/**
 * The drawing table of the plan page. The page itself works without it; this adds drawing by hand. Loaded only where
 * a page holds the plan.
 */
import "leaflet/dist/leaflet.css";
import "./plan.css";
import "./beside.css";
import { Board } from "./board";
import { Fixing } from "./fixing";
import { freshen } from "./fresh";
import { List } from "./list";
import { make } from "./make";
import { Trouble, app_at } from "./server";
import { type Keep, Session } from "./session";
import { Sheet } from "./sheet";
import { Tools } from "./tools";

/** Where an unsaved part waits: in this tab, for this address. */
function keep_for(address: string): Keep {
  const key = `plan ${address}`;
  return {
    read: () => {
      try {
        return sessionStorage.getItem(key);
      } catch {
        return null;
      }
    },
    write: (text) => {
      try {
        if (text === null) sessionStorage.removeItem(key);
        else sessionStorage.setItem(key, text);
      } catch {
        // A browser that keeps nothing: the part is on the screen all the same.
      }
    },
  };
}

function listen_for_keys(table: HTMLElement, session: Session, sheet: Sheet): void {
  let escaped = 0;
  table.addEventListener("keydown", (event) => {
    const is_typing = event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement;
    const with_control = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    if (with_control && !is_typing && (key === "z" || key === "y")) {
      event.preventDefault();
      void (key === "y" || event.shiftKey ? session.redo() : session.undo());
    } else if (event.key === "Escape" && session.tool === "picture") {
      session.fix_pictures(false);
    } else if (event.key === "Escape" && session.draft !== null) {
      // What was drawn goes only when asked twice.
      if (!session.is_dirty() || Date.now() - escaped < 5000) session.discard();
      else {
        escaped = Date.now();
        session.say(`${session.called(session.draft)} is not saved. Press Escape once more to discard it.`);
      }
    } else if (is_typing || with_control || event.defaultPrevented) {
      return;
    } else if (event.target instanceof Element && event.target.classList.contains("plan-map")) {
      if (event.key === "Enter") session.finish();
      if (event.key === "Delete" || event.key === "Backspace")
        void (session.is_tapping() ? session.undo() : undefined);
      if (/^\d$/.test(event.key) && session.is_tapping() && session.draft?.form !== "point") {
        event.preventDefault();
        sheet.type_side(event.key);
      }
    }
  });
}

/** Builds the table into its place on the page. */
export async function start_plan(place: HTMLElement, ask: typeof fetch = fetch): Promise<Session | null> {
  const address = place.dataset["address"] ?? "/api/plan";
  const server = app_at(address, ask);
  let session: Session;
  try {
    session = new Session(await server.load(), server, keep_for(address));
  } catch (error) {
    const why = error instanceof Trouble && error.status !== 0 ? error.message : "The app did not answer.";
    place.append(
      make(
        "p",
        { class: "note" },
        `The plan cannot be drawn on just now. ${why} Reload the page to try again.`,
      ),
    );
    return null;
  }
  const held: { board?: Board } = {};
  const the_board = (): Board => {
    if (held.board === undefined) throw new Error("The board is not there yet.");
    return held.board;
  };
  const map = make("div", {
    class: "plan-map",
    role: "application",
    "aria-label": "The plan, north up. Arrow keys move it, plus and minus zoom.",
  });
  const said = make("p", { class: "plan-said", role: "status", "aria-live": "polite" });
  const sheet = new Sheet(session, the_board);
  const fixing = new Fixing(session, the_board);
  const list = new List(session, (id) => {
    if (session.select(id)) the_board().go_to(session.draft?.points ?? []);
  });
  const tools = new Tools(session, () => {
    the_board().show_all();
  });
  const table = make(
    "div",
    { class: "plan-table" },
    tools.element,
    said,
    make(
      "div",
      { class: "plan-both" },
      map,
      make("div", { class: "plan-beside" }, sheet.element, fixing.element, list.element),
    ),
  );
  // The picture that stood here stays for paper.
  const still = make("div", { class: "plan-still" }, ...place.childNodes);
  place.replaceChildren(still, table);
  place.classList.add("plan-ready");
  held.board = new Board(map, session, {
    live: (draft) => {
      sheet.live(draft);
    },
    tapped: (point) => {
      fixing.tapped(point);
    },
  });
  session.listen(() => {
    if (said.textContent !== session.said) said.textContent = session.said;
  });
  let known = session.plan;
  session.listen(() => {
    if (session.plan === known) return;
    known = session.plan;
    void freshen(ask);
  });
  listen_for_keys(table, session, sheet);
  session.say(session.said);
  return session;
}
