import { beforeEach, describe, expect, it } from "vitest";
import { moveInTables, pressOwnButton } from "./enter";

function press(key: string, more: KeyboardEventInit = {}): KeyboardEvent {
  const event = new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true, ...more });
  document.activeElement?.dispatchEvent(event);
  return event;
}

const at = (): string | null => document.activeElement?.getAttribute("name") ?? null;

describe("a table of results", () => {
  beforeEach(() => {
    const row = (n: number): string =>
      `<tr><th><input type="hidden" name="bag_${n}"></th><td><input class="cell" name="cell_${n}_0"></td><td><input class="cell" name="cell_${n}_1"></td></tr>`;
    document.body.innerHTML = `<form><table data-enter><tbody>${row(0)}${row(1)}</tbody></table></form>`;
    moveInTables(document);
    document.querySelector<HTMLInputElement>("[name=cell_0_0]")?.focus();
  });

  it("goes down with Enter, and from the foot to the head of the next column", () => {
    expect(press("Enter").defaultPrevented).toBe(true);
    expect(at()).toBe("cell_1_0");
    press("Enter");
    expect(at()).toBe("cell_0_1");
    press("Enter", { shiftKey: true });
    expect(at()).toBe("cell_0_1");
  });

  it("moves with the arrows, sideways only from the end of the text", () => {
    press("ArrowRight");
    expect(at()).toBe("cell_0_1");
    press("ArrowDown");
    expect(at()).toBe("cell_1_1");
    const cell = document.activeElement as HTMLInputElement;
    cell.value = "12";
    cell.setSelectionRange(1, 1);
    press("ArrowLeft");
    expect(at()).toBe("cell_1_1");
    cell.setSelectionRange(0, 0);
    press("ArrowLeft");
    expect(at()).toBe("cell_1_0");
  });

  it("is never sent by Enter alone, and is by Ctrl+Enter", () => {
    let sent = 0;
    const form = document.querySelector("form");
    if (form) form.requestSubmit = () => void (sent += 1);
    for (let n = 0; n < 6; n += 1) expect(press("Enter").defaultPrevented).toBe(true);
    expect(sent).toBe(0);
    press("Enter", { ctrlKey: true });
    expect(sent).toBe(1);
  });
});

describe("a part with a button of its own", () => {
  it("presses that one with Enter", () => {
    document.body.innerHTML = `<form><button id="keep"></button><details open data-own-button><input name="figures"><button id="own" type="button"></button></details></form>`;
    pressOwnButton(document);
    let pressed = 0;
    document.getElementById("own")?.addEventListener("click", () => (pressed += 1));
    document.querySelector<HTMLInputElement>("[name=figures]")?.focus();
    expect(press("Enter").defaultPrevented).toBe(true);
    expect(pressed).toBe(1);
    expect(press("a").defaultPrevented).toBe(false);
  });
});
