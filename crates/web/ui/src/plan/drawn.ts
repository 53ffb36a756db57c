/** The parts of the plan as they stand in the book: shapes, signs and names. */
import L from "leaflet";
import type { Part } from "./contract";
import { fill_of, key_of, look_of, sign_of } from "./looks";
import { type Box, aside, fitting } from "./names";
import { at } from "./picture";
import { type Point, centre, halfway } from "./point";

/** A finger needs this much to hit a line. */
const HIT_PX = 24;
/** The name of a point stands so far under it. */
const UNDER_PX = 21;
/** Areas smaller than this on the screen carry no name. */
const NAMED_PX = 44;

/** Draws an outline in the manner of its kind. */
export function outline(
  part: { kind: string; form: string; points: readonly Point[]; holes: readonly (readonly Point[])[] },
  extra: L.PolylineOptions,
): L.Path {
  const look = look_of(part.kind);
  const fill = fill_of(part.kind);
  const options: L.PolylineOptions = {
    weight: look.weight,
    dashArray: look.dashes,
    fillOpacity: 1,
    ...(fill === undefined ? {} : { fillColor: fill }),
    ...extra,
    className: `plan-shape plan-kind-${key_of(part.kind)}${part.form === "area" && fill === undefined ? " plan-plain" : ""} ${extra.className ?? ""}`,
  };
  const rings = [part.points, ...part.holes].map((ring) => ring.map(at));
  return part.form === "area"
    ? L.polygon(rings, options)
    : L.polyline(rings[0] ?? [], { ...options, fill: false });
}

/** A mark of HTML on the plan. */
export function mark(
  point: Point,
  content: Element,
  className: string,
  size: number,
  options: L.MarkerOptions = {},
): L.Marker {
  const icon = L.divIcon({ html: content as HTMLElement, className, iconSize: [size, size] });
  return L.marker(at(point), { icon, keyboard: false, interactive: false, ...options });
}

/** Where a name stands: in the middle of an area, halfway along a line, under a point. */
function name_place(part: Part): Point {
  return part.form === "line" ? halfway(part.points) : centre(part.points, part.form === "area");
}

function name_of(part: Part, words: string): { name: L.Marker; text: HTMLElement } {
  const text = document.createElement("span");
  text.textContent = words;
  return { name: mark(name_place(part), text, "plan-name", 0), text };
}

/** Large areas first, so that a bed lies on its plot. */
function in_order(parts: readonly Part[]): Part[] {
  const rank = (part: Part): number => (part.form === "area" ? 0 : part.form === "line" ? 1 : 2);
  const size = (part: Part): number => {
    const bounds = L.latLngBounds(part.points.map(at));
    return (bounds.getEast() - bounds.getWest()) * (bounds.getNorth() - bounds.getSouth());
  };
  return [...parts].sort((a, b) => rank(a) - rank(b) || size(b) - size(a));
}

/** What lies over the plan: its buttons, the scale, the arrow. */
function under_controls(map: L.Map): Box[] {
  const box = map.getContainer();
  const { left, top } = box.getBoundingClientRect();
  return [...box.querySelectorAll(".leaflet-control")].map((control) => {
    const over = control.getBoundingClientRect();
    return {
      left: over.left - left,
      right: over.right - left,
      top: over.top - top,
      bottom: over.bottom - top,
    };
  });
}

export interface Asked {
  /** How a part is called on the plan. */
  called: (part: Part) => string;
  /** The part was tapped; whether that was meant for it. */
  tapped: (part: Part) => boolean;
}

/** Draws all parts but one into a group, and gives what shows, moves or hides their names in the view of the map. */
export function draw_parts(
  map: L.Map,
  group: L.LayerGroup,
  parts: readonly Part[],
  but: string | null,
  { called, tapped }: Asked,
): () => void {
  group.clearLayers();
  const named: { part: Part; words: string; name: L.Marker; text: HTMLElement }[] = [];
  for (const part of in_order(parts)) {
    if (part.id === but || part.points.length === 0) continue;
    const tap = (event: L.LeafletMouseEvent): void => {
      if (tapped(part)) L.DomEvent.stop(event);
    };
    if (part.form === "point") {
      const sign = mark(
        part.points[0] ?? [0, 0],
        sign_of(part.kind),
        `plan-spot plan-kind-${key_of(part.kind)}`,
        44,
        {
          interactive: true,
          bubblingMouseEvents: true,
        },
      );
      sign.on("click", tap).addTo(group);
    } else {
      outline(part, {}).on("click", tap).addTo(group);
      if (part.form === "line") {
        const under: L.PolylineOptions = { weight: HIT_PX, className: "plan-hit", dashArray: "" };
        L.polyline(part.points.map(at), under).on("click", tap).addTo(group);
      }
    }
    // The edge's line says enough: in the middle of the farm its name would name something else. A sign says what it is.
    const is_told = part.kind === "farm_edge" || (part.form === "point" && part.name.trim() === "");
    const words = is_told ? "" : called(part);
    named.push({ part, words, ...name_of(part, words) });
  }
  return () => {
    const scale = 2 ** map.getZoom();
    const plan = map.getSize();
    const names = named.map(({ part, words, text }) => {
      const bounds = L.latLngBounds(part.points.map(at));
      const size = [bounds.getEast() - bounds.getWest(), bounds.getNorth() - bounds.getSouth()].map(
        (side) => side * scale,
      );
      const [wide, narrow] = [Math.max(...size), Math.min(...size)];
      const is_room =
        part.form === "point" ? scale >= 1 : wide >= NAMED_PX && (part.form === "line" || narrow >= 14);
      const under = part.form === "point" ? UNDER_PX : 0;
      const { x, y } = map.latLngToContainerPoint(at(name_place(part)));
      const by = aside({ words, x, y: y + under }, plan, under);
      const [right, down] = by ?? [0, 0];
      text.style.translate = `${right}px ${under + down}px`;
      const rank =
        part.kind === "plot" ? 1e9 : part.name === "" ? 0 : wide * (part.form === "area" ? narrow : 20);
      return { words: is_room && by !== null ? words : "", x: x + right, y: y + under + down, rank };
    });
    for (const [index, fits] of fitting(names, under_controls(map)).entries()) {
      const name = named[index]?.name;
      if (name === undefined) continue;
      if (fits) name.addTo(group);
      else group.removeLayer(name);
    }
  };
}
