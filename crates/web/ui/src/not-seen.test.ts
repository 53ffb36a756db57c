import { expect, it } from "vitest";
import { offerNotSeen } from "./not-seen";

it("writes the words and lets the form know", () => {
  document.body.innerHTML =
    '<form><label for="field-sand">Sand <span class="optional">if known</span></label><div class="with-unit"><input id="field-sand" data-reading value="2"></div></form>';
  offerNotSeen(document);
  let heard = 0;
  document.querySelector("form")?.addEventListener("input", () => {
    heard += 1;
  });
  const button = document.querySelector("button") as HTMLButtonElement;
  expect(button.getAttribute("aria-label")).toBe("Could not see it: Sand");
  button.click();
  expect((document.querySelector("input") as HTMLInputElement).value).toBe("not seen");
  expect(heard).toBe(1);
});
