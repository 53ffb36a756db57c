/**
 * A button beside each reading that a wet thumb can press instead of typing "not seen".
 * Without script the words are typed; the app reads them either way.
 */

const WORDS = "not seen";

/** Adds the button to every field that takes a reading (`data-reading`). */
export function offerNotSeen(root: ParentNode): void {
  for (const input of root.querySelectorAll<HTMLInputElement>("input[data-reading]")) {
    // A form with a box to tick for it needs no second way.
    if (input.form?.elements.namedItem("not_seen")) continue;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button button-second button-small";
    button.textContent = "Could not see it";
    const label = root.querySelector(`label[for="${CSS.escape(input.id)}"]`);
    button.setAttribute("aria-label", `Could not see it: ${label?.firstChild?.textContent?.trim() ?? ""}`);
    button.addEventListener("click", () => {
      input.value = WORDS;
      input.dispatchEvent(new Event("input", { bubbles: true }));
      input.focus();
    });
    input.parentElement?.append(button);
  }
}
