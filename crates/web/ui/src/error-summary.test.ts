import { expect, it } from "vitest";
import { focusSummary } from "./error-summary";

it("puts the focus on the list of problems", () => {
  document.body.innerHTML = '<div class="error-summary" tabindex="-1" data-focus></div>';
  focusSummary(document);
  expect(document.activeElement?.className).toBe("error-summary");
});

it("leaves the focus alone when there is no problem", () => {
  document.body.innerHTML = "<p>Fine</p>";
  focusSummary(document);
  expect(document.activeElement).toBe(document.body);
});
