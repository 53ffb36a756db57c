import { beforeEach, expect, it } from "vitest";
import { followAnswers } from "./only-when";

const FORM = `
  <form>
    <input type="radio" name="shape" value="straight" id="straight" checked>
    <input type="radio" name="shape" value="widths" id="widths">
    <fieldset data-only="shape" data-answer="widths" id="group"><input name="width_1" value="3"></fieldset>
    <select name="sample"><option value="plot" selected></option><option value="new"></option></select>
    <fieldset data-only="sample" data-answer="new" id="bag"><input name="label"></fieldset>
  </form>`;

const fieldset = (id: string): HTMLFieldSetElement => document.getElementById(id) as HTMLFieldSetElement;

beforeEach(() => {
  document.body.innerHTML = FORM;
});

it("hides and leaves out what the answers do not ask for", () => {
  followAnswers(document);
  expect(fieldset("group").hidden).toBe(true);
  expect(fieldset("group").disabled).toBe(true);
  expect(fieldset("bag").hidden).toBe(true);
});

it("shows a group as soon as its answer is given, with what was typed before", () => {
  followAnswers(document);
  (document.getElementById("widths") as HTMLInputElement).checked = true;
  document.querySelector("form")?.dispatchEvent(new Event("change"));
  expect(fieldset("group").hidden).toBe(false);
  expect(fieldset("group").disabled).toBe(false);
  expect((fieldset("group").firstElementChild as HTMLInputElement).value).toBe("3");
  const sample = document.querySelector("select") as HTMLSelectElement;
  sample.value = "new";
  document.querySelector("form")?.dispatchEvent(new Event("change"));
  expect(fieldset("bag").hidden).toBe(false);
});

it("never hides a problem", () => {
  fieldset("group").innerHTML = '<div class="field-refused"></div>';
  followAnswers(document);
  expect(fieldset("group").hidden).toBe(false);
});
