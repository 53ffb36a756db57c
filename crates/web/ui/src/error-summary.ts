/** Moves the focus to the list of problems on a refused form, so that it is read first. */
export function focusSummary(root: ParentNode): void {
  root.querySelector<HTMLElement>(".error-summary[data-focus]")?.focus();
}
