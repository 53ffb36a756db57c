/**
 * Groups of fields that are asked only for one answer of another field (`data-only`, `data-answer`).
 *
 * Without script every group is in sight. A group that is out of sight is also disabled, so that
 * what was typed in it before the answer changed is not sent.
 */

function answerOf(form: HTMLFormElement, name: string): string {
  const field = form.elements.namedItem(name);
  if (field instanceof RadioNodeList) return field.value;
  if (field instanceof HTMLSelectElement || field instanceof HTMLInputElement) return field.value;
  return "";
}

/** Shows the groups of a form that its answers ask for. */
export function showGroups(form: HTMLFormElement): void {
  for (const group of form.querySelectorAll<HTMLFieldSetElement>("fieldset[data-only]")) {
    const wanted = answerOf(form, group.dataset["only"] ?? "") === group.dataset["answer"];
    // A problem is never hidden.
    const refused = group.querySelector(".field-refused") !== null;
    group.hidden = !wanted && !refused;
    group.disabled = group.hidden;
  }
}

/** Keeps the groups of every form in step with its answers. */
export function followAnswers(root: ParentNode): void {
  for (const form of root.querySelectorAll("form")) {
    if (form.querySelector("fieldset[data-only]") === null) continue;
    const show = (): void => {
      showGroups(form);
    };
    form.addEventListener("change", show);
    show();
  }
}
