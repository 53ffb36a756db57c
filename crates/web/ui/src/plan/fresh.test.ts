import { afterEach, describe, expect, it, vi } from "vitest";
import { freshen, take_fresh } from "./fresh";

afterEach(() => {
  document.body.innerHTML = "";
});

const NOW = `<div data-plan><svg id="new"></svg></div><table id="areas" data-fresh><tr><td>two plots</td></tr></table><p id="typed">typed</p>`;

function page(): void {
  document.body.innerHTML = `<div data-plan><div class="plan-still"><svg id="old"></svg></div><div class="plan-table"></div></div>
    <table id="areas" data-fresh><tr><td>one plot</td></tr></table><p data-fresh id="gone">stays</p><p id="typed">being typed</p>`;
}

describe("take_fresh", () => {
  it("takes the marked pieces and the picture for paper, and nothing else", () => {
    page();
    take_fresh(document, new DOMParser().parseFromString(NOW, "text/html"));
    expect(document.querySelector("#areas")?.textContent).toBe("two plots");
    expect(document.querySelector(".plan-still #new")).not.toBeNull();
    expect(document.querySelector("#old")).toBeNull();
    expect(document.querySelector(".plan-table")).not.toBeNull();
    expect(document.querySelector("#gone")?.textContent).toBe("stays");
    expect(document.querySelector("#typed")?.textContent).toBe("being typed");
  });
});

describe("freshen", () => {
  it("asks the page itself, and leaves everything where that fails", async () => {
    page();
    const ask = vi.fn(() => Promise.resolve(new Response(NOW)));
    await freshen(ask);
    expect(document.querySelector("#areas")?.textContent).toBe("two plots");
    await freshen(() => Promise.reject(new TypeError("offline")));
    expect(document.querySelector("#areas")?.textContent).toBe("two plots");
  });
});
