/**
 * The film of a watering: a slider over the moments that the page already holds. Without script the
 * small pictures stay, one below the other.
 */

/** Shows one moment of a film and hides the others. */
export function showFrame(picture: Element, wanted: number): string {
  let hours = "";
  for (const frame of picture.querySelectorAll<SVGElement>("[data-frame]")) {
    const shown = frame.dataset["frame"] === String(wanted);
    if (shown) {
      frame.removeAttribute("display");
      hours = frame.dataset["hours"] ?? "";
    } else {
      frame.setAttribute("display", "none");
    }
  }
  return hours;
}

/** "40 minutes", "6.5 hours", from the hours a frame carries. */
export function told(hours: string): string {
  const value = Number(hours);
  if (hours === "" || Number.isNaN(value)) return "";
  if (value > 0 && value < 0.95) return `${Math.round(value * 60)} minutes`;
  const tenths = Math.round(value * 10) / 10;
  return tenths === 1 ? "1 hour" : `${tenths} hours`;
}

/** Puts a slider under each film of the page. */
export function startFilms(root: ParentNode): void {
  for (const film of root.querySelectorAll<HTMLElement>("[data-film]")) {
    const picture = film.querySelector<HTMLElement>("[data-film-picture]");
    const last = Number(film.dataset["last"] ?? "0");
    if (picture === null || !(last > 0)) continue;
    const label = document.createElement("label");
    label.className = "label film-label screen-only";
    const slider = document.createElement("input");
    slider.type = "range";
    slider.className = "film-slider";
    slider.min = "0";
    slider.max = String(last);
    slider.step = "1";
    slider.value = "0";
    const time = document.createElement("output");
    const show = (): void => {
      const text = told(showFrame(picture, Number(slider.value)));
      time.textContent = text;
      slider.setAttribute("aria-valuetext", text);
    };
    label.append("Time since the water was turned on: ", time, slider);
    slider.addEventListener("input", show);
    show();
    picture.hidden = false;
    picture.append(label);
    // The small pictures stay for paper, and for who opens them.
    const frames = film.querySelector<HTMLElement>("[data-film-frames]");
    if (frames !== null) {
      const folded = document.createElement("details");
      const summary = document.createElement("summary");
      summary.textContent = "The same as small pictures, one below the other";
      folded.append(summary);
      frames.before(folded);
      folded.append(frames);
      film.append(folded);
    }
  }
}
