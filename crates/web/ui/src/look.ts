/**
 * The live look: while a form is filled in, the app is asked what it would say so far. Everything
 * is worked out by the app itself; this only asks, and puts the answer where it belongs.
 */

/** What the app answers. */
export interface Answer {
  echoes: Record<string, string>;
  problems: Record<string, string>;
  html: string;
}

/** How long after the last key the app is asked. */
const PAUSE_MS = 300;

/** Puts a line under a field, or takes it away. */
function line(form: HTMLFormElement, name: string, text: string): void {
  const field = form.querySelector<HTMLElement>(`#field-${CSS.escape(name)}`);
  const box = field?.closest<HTMLElement>(".field");
  if (!box) return;
  const id = `field-${name}-echo`;
  let echo = box.querySelector<HTMLElement>(".echo");
  if (text === "") {
    echo?.remove();
    return;
  }
  if (echo === null) {
    echo = document.createElement("p");
    echo.className = "echo";
    echo.id = id;
    box.append(echo);
  }
  if (echo.textContent !== text) echo.textContent = text;
}

/** Shows an answer on its form. */
export function showAnswer(form: HTMLFormElement, answer: Answer): void {
  for (const input of form.querySelectorAll<HTMLInputElement>("input[type=text]")) {
    // What is still being typed is not yet wrong.
    const problem = document.activeElement === input ? "" : (answer.problems[input.name] ?? "");
    line(form, input.name, problem === "" ? (answer.echoes[input.name] ?? "") : problem);
    const echo = input.closest(".field")?.querySelector(".echo");
    echo?.classList.toggle("echo-problem", problem !== "");
  }
  const place = form.querySelector<HTMLElement>("[data-look]");
  // The app's own template, rendered by the app for this page.
  if (place !== null && place.innerHTML !== answer.html) place.innerHTML = answer.html;
}

/** The posted form of what was typed so far. */
export function typed(form: HTMLFormElement): URLSearchParams {
  const sent = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (typeof value === "string") sent.append(name, value);
  }
  return sent;
}

/** Asks the app while a form is filled in. */
export function lookWhileTyping(root: ParentNode, ask: typeof fetch = fetch): void {
  for (const form of root.querySelectorAll<HTMLFormElement>("form[data-preview]")) {
    const address = form.dataset["preview"] ?? "";
    form.querySelector<HTMLElement>("[data-look-button]")?.remove();
    let timer: ReturnType<typeof setTimeout> | undefined;
    let asked = 0;
    const look = async (): Promise<void> => {
      asked += 1;
      const turn = asked;
      try {
        const response = await ask(address, { method: "POST", body: typed(form) });
        if (!response.ok || turn !== asked) return;
        showAnswer(form, (await response.json()) as Answer);
      } catch {
        // The app was stopped; saving will say so.
      }
    };
    const soon = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => void look(), PAUSE_MS);
    };
    form.addEventListener("input", soon);
    form.addEventListener("focusout", soon);
    // A form that comes back refused, or is corrected, has something to show at once.
    soon();
  }
}
