// Moves through a table of results with Enter and the arrows, as on paper; without it Tab does.

type Way = "up" | "down" | "left" | "right";

function wayOf(event: KeyboardEvent, cell: HTMLInputElement): Way | null {
  const caret = cell.selectionStart === cell.selectionEnd ? cell.selectionStart : null;
  const all = cell.selectionStart === 0 && cell.selectionEnd === cell.value.length;
  switch (event.key) {
    case "Enter":
      return event.shiftKey ? "up" : "down";
    case "ArrowUp":
      return "up";
    case "ArrowDown":
      return "down";
    case "ArrowLeft":
      return all || caret === 0 ? "left" : null;
    case "ArrowRight":
      return all || caret === cell.value.length ? "right" : null;
    default:
      return null;
  }
}

/** The cell that lies that way; from the foot of a column Enter goes on at the head of the next. */
export function neighbour(rows: HTMLInputElement[][], from: HTMLInputElement, way: Way): HTMLInputElement | null {
  const row = rows.findIndex((cells) => cells.includes(from));
  const column = rows[row]?.indexOf(from) ?? -1;
  if (row < 0 || column < 0) return null;
  switch (way) {
    case "up":
      return rows[row - 1]?.[column] ?? null;
    case "down":
      return rows[row + 1]?.[column] ?? rows[0]?.[column + 1] ?? null;
    case "left":
      return rows[row]?.[column - 1] ?? null;
    case "right":
      return rows[row]?.[column + 1] ?? null;
  }
}

function rowsOf(table: HTMLTableElement): HTMLInputElement[][] {
  return Array.from(table.querySelectorAll("tbody tr")).map((row) =>
    Array.from(row.querySelectorAll<HTMLInputElement>("input.cell")),
  );
}

export function moveInTables(root: ParentNode): void {
  for (const table of root.querySelectorAll<HTMLTableElement>("table[data-enter]")) {
    table.addEventListener("keydown", (event) => {
      const cell = event.target;
      if (!(cell instanceof HTMLInputElement) || event.altKey || event.metaKey) return;
      if (event.ctrlKey) {
        if (event.key === "Enter") {
          event.preventDefault();
          cell.form?.requestSubmit();
        }
        return;
      }
      const way = wayOf(event, cell);
      if (way === null) return;
      const next = neighbour(rowsOf(table), cell, way);
      // A half-filled table is not sent by a stray Enter.
      if (event.key === "Enter" || next !== null) event.preventDefault();
      next?.focus();
      next?.select();
    });
  }
}

/** Enter in a part that draws the form anew presses its own button, not the one that keeps everything. */
export function pressOwnButton(root: ParentNode): void {
  for (const part of root.querySelectorAll<HTMLElement>("[data-own-button]")) {
    part.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
      event.preventDefault();
      part.querySelector("button")?.click();
    });
  }
}
