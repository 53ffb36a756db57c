/** What stands around the drawing: the grid, the scale bar and the north arrow. */
import L from "leaflet";
import { grid_lines, round_down_m, round_m } from "./grid";
import { type Units, length_words } from "./measure";
import { at, point_at } from "./picture";

const SQUARE_PX = 48;
const BAR_PX = 140;

/** Puts a grid of round distances under the drawing and keeps it so. */
export function add_grid(map: L.Map, units: () => Units): void {
  const pane = map.createPane("plan-grid");
  pane.style.zIndex = "250";
  const grid = L.polyline([], {
    pane: "plan-grid",
    className: "plan-grid",
    interactive: false,
    weight: 1,
  }).addTo(map);
  const draw = (): void => {
    const scale = 2 ** map.getZoom();
    const bounds = map.getBounds();
    const lines = grid_lines(
      point_at(bounds.getSouthWest()),
      point_at(bounds.getNorthEast()),
      round_m(SQUARE_PX / scale, units()),
    );
    grid.setLatLngs(lines.map((line) => line.map(at)));
  };
  map.on("moveend zoomend viewreset resize", draw);
  draw();
}

/** The scale bar, with the size of a square of the grid, and the arrow to the north. */
export function add_scale(map: L.Map, units: () => Units): void {
  const box = document.createElement("div");
  box.className = "plan-scale";
  const bar = document.createElement("div");
  bar.className = "plan-bar";
  const text = document.createElement("span");
  box.append(bar, text);
  const control = new L.Control({ position: "bottomleft" });
  control.onAdd = () => box;
  control.addTo(map);
  const draw = (): void => {
    const scale = 2 ** map.getZoom();
    const long = round_down_m(BAR_PX / scale, units());
    bar.style.width = `${long * scale}px`;
    text.textContent = `${length_words(long, units())}; squares of ${length_words(round_m(SQUARE_PX / scale, units()), units())}`;
  };
  map.on("zoomend viewreset resize", draw);
  draw();

  const north = new L.Control({ position: "topright" });
  north.onAdd = () => {
    const arrow = document.createElement("div");
    arrow.className = "plan-north";
    arrow.setAttribute("role", "img");
    arrow.setAttribute("aria-label", "North is up");
    const picture = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    picture.setAttribute("viewBox", "0 0 20 30");
    picture.setAttribute("width", "20");
    picture.setAttribute("height", "30");
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("d", "M10 1L17 28L10 22L3 28Z");
    picture.append(path);
    const letter = document.createElement("span");
    letter.textContent = "N";
    arrow.append(letter, picture);
    return arrow;
  };
  north.addTo(map);
}
