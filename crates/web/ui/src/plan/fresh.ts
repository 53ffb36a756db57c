/**
 * The rest of the page says what stands on the plan too: the picture for paper, the table of areas. After something was
 * written down these pieces (`data-fresh`, each with an id) are taken anew from the page itself.
 */

/** Puts the pieces of a freshly read page in place of the old ones. The drawing table itself is left alone. */
export function take_fresh(page: Document, now: Document): void {
  for (const old of page.querySelectorAll("[data-fresh]")) {
    const fresh = old.id === "" ? null : now.getElementById(old.id);
    if (fresh !== null) old.replaceWith(page.importNode(fresh, true));
  }
  const still = page.querySelector(".plan-still");
  const drawn = now.querySelector("[data-plan]");
  if (still !== null && drawn !== null)
    still.replaceChildren(...[...drawn.childNodes].map((node) => page.importNode(node, true)));
}

/** Reads the page again and takes the pieces from it. Where that fails they wait for the next time. */
export async function freshen(ask: typeof fetch): Promise<void> {
  try {
    const response = await ask(`${window.location.pathname}${window.location.search}`, {
      headers: { accept: "text/html" },
    });
    if (response.ok)
      take_fresh(document, new DOMParser().parseFromString(await response.text(), "text/html"));
  } catch {
    // The plan is written down all the same.
  }
}
