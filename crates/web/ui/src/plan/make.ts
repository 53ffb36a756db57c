/** Elements of the page, made by script. Texts go in as texts, never as markup. */

type Set = Record<string, string | boolean | ((event: Event) => void)>;

/** Makes an element: strings and true become attributes, functions listen. */
export function make<K extends keyof HTMLElementTagNameMap>(
  name: K,
  set: Set = {},
  ...children: (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(set)) {
    if (typeof value === "function") element.addEventListener(key, value);
    else if (value === true) element.setAttribute(key, "");
    else if (value !== false) element.setAttribute(key, value);
  }
  element.append(...children);
  return element;
}

export function button(words: string, press: () => void, more: Set = {}): HTMLButtonElement {
  return make(
    "button",
    { type: "button", class: "button button-second plan-button", ...more, click: press },
    words,
  );
}

let count = 0;

/** A labelled field with room for a refusal, read out with it. */
export class Field<Input extends HTMLInputElement | HTMLSelectElement> {
  readonly box: HTMLElement;
  readonly input: Input;
  private readonly error: HTMLElement;

  constructor(label: string, input: Input, hint = "") {
    count += 1;
    const id = `plan-field-${count}`;
    input.id = id;
    this.input = input;
    this.error = make("p", { id: `${id}-error`, class: "field-error", hidden: true });
    const about = hint === "" ? [] : [make("p", { id: `${id}-hint`, class: "hint" }, hint)];
    input.setAttribute("aria-describedby", hint === "" ? `${id}-error` : `${id}-hint ${id}-error`);
    this.box = make(
      "div",
      { class: "field plan-field" },
      make("label", { class: "label", for: id }, label),
      ...about,
      this.error,
      input,
    );
  }

  /** Shows a refusal at the field, or takes it away. */
  refuse(words: string): void {
    this.error.textContent = words;
    this.error.hidden = words === "";
    this.box.classList.toggle("field-refused", words !== "");
    if (words === "") this.input.removeAttribute("aria-invalid");
    else this.input.setAttribute("aria-invalid", "true");
  }
}

/** Fills a list of choices, and keeps the chosen one where it is still there. */
export function choices(
  select: HTMLSelectElement,
  all: readonly (readonly [value: string, words: string])[],
  chosen: string,
): void {
  const wanted = JSON.stringify(all);
  if (select.dataset["choices"] !== wanted) {
    select.dataset["choices"] = wanted;
    select.replaceChildren(...all.map(([value, words]) => make("option", { value }, words)));
  }
  if (select.value !== chosen) select.value = chosen;
}
