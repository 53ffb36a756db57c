/** What a hand takes hold of while a part is changed: its corners, the middles of its sides, and the whole of it. */
import L from "leaflet";
import {
  type Draft,
  LEAST,
  type Spot,
  inserted,
  is_closed,
  moved,
  rings_of,
  shifted,
  spot_words,
  without,
} from "./draft";
import { type Units, length_words, place_words, step_m, unit_words } from "./measure";
import { at, point_at } from "./picture";
import { type Point, between, centre, middle, minus, plus } from "./point";

const TOUCH_PX = 44;
/** Shorter sides on the screen have no handle in their middle; a zoom in shows it. */
const SIDE_PX = 72;

export interface Held {
  /** The draft as it stands. */
  draft: () => Draft | null;
  units: () => Units;
  /** Draws a corner to what is near. */
  snap_corner: (point: Point, draft: Draft, spot: Spot) => Point;
  /** Draws a whole shift to what is near. */
  snap_shift: (by: Point, draft: Draft) => Point;
  /** Shows a shape that is not yet let go. */
  show: (draft: Draft) => void;
  change: (draft: Draft, words: string) => void;
  say: (words: string) => void;
}

/** A key's step on the plan; nothing for other keys. */
export function key_step(event: KeyboardEvent, step: number): Point | null {
  const size = step * (event.shiftKey ? 10 : 1);
  const ways: Record<string, Point> = {
    ArrowUp: [0, size],
    ArrowDown: [0, -size],
    ArrowLeft: [-size, 0],
    ArrowRight: [size, 0],
  };
  return ways[event.key] ?? null;
}

/** Where the whole is taken hold of: in its middle, or off it where corners of a hole lie there. */
function whole_place(draft: Draft, scale: number): Point {
  const own = centre(draft.points, is_closed(draft));
  const room = (point: Point): number =>
    Math.min(TOUCH_PX, ...draft.holes.flat().map((corner) => between(point, corner) * scale));
  const others = draft.points.map((corner) => middle(own, corner));
  return others.reduce((best, other) => (room(other) > room(best) ? other : best), own);
}

export class Handles {
  private readonly group: L.LayerGroup;
  private readonly map: L.Map;
  private readonly held: Held;
  private shape = "";
  private markers = new Map<string, L.Marker>();
  private dragging = false;

  constructor(map: L.Map, held: Held) {
    this.map = map;
    this.held = held;
    this.group = L.layerGroup().addTo(map);
  }

  clear(): void {
    this.group.clearLayers();
    this.markers.clear();
    this.shape = "";
  }

  /** Puts the handles on a draft. The one that has the focus keeps it. */
  place(draft: Draft): void {
    if (this.dragging) return;
    const scale = 2 ** this.map.getZoom();
    const wanted = this.wanted(draft, scale);
    const shape = [...wanted.keys()].join(" ");
    if (shape !== this.shape) {
      const focused = [...this.markers].find(
        ([, marker]) => marker.getElement() === document.activeElement,
      )?.[0];
      this.clear();
      this.shape = shape;
      for (const [key, one] of wanted) this.markers.set(key, this.make(key, one));
      this.markers
        .get(focused ?? "")
        ?.getElement()
        ?.focus();
    }
    for (const [key, one] of wanted) {
      const marker = this.markers.get(key);
      marker?.setLatLng(at(one.point));
      const element = marker?.getElement();
      element?.setAttribute("aria-label", one.words);
      const length = element?.querySelector(".plan-length");
      if (length) length.textContent = one.length ?? "";
    }
  }

  focus(spot: Spot): void {
    this.markers.get(`corner-${spot.ring}-${spot.at}`)?.getElement()?.focus();
  }

  private place_words(point: Point): string {
    const units = this.held.units();
    return `${place_words(point[0], units)} ${unit_words(units)} east, ${place_words(point[1], units)} ${unit_words(units)} north`;
  }

  private wanted(draft: Draft, scale: number): Map<string, Wanted> {
    const all = new Map<string, Wanted>();
    const units = this.held.units();
    for (const [ring, points] of rings_of(draft).entries()) {
      for (const [index, point] of points.entries()) {
        const spot = { ring, at: index };
        const next = points[index + 1] ?? (is_closed(draft) && points.length > 2 ? points[0] : undefined);
        if (next !== undefined && between(point, next) * scale >= SIDE_PX) {
          const words = `New corner after corner ${index + 1}`;
          const length = length_words(between(point, next), units);
          all.set(`middle-${ring}-${index}`, {
            point: middle(point, next),
            words,
            spot,
            kind: "middle",
            length,
          });
        }
        all.set(`corner-${ring}-${index}`, {
          point,
          words: `${spot_words(draft, spot)}, ${this.place_words(point)}`,
          spot,
          kind: "corner",
        });
      }
    }
    if (draft.form !== "point") {
      const point = whole_place(draft, scale);
      all.set("whole", { point, words: "Move the whole", spot: { ring: 0, at: 0 }, kind: "whole" });
    }
    return all;
  }

  private make(key: string, { point, spot, kind }: Wanted): L.Marker {
    const content = document.createElement("span");
    const dot = document.createElement("span");
    dot.className = "plan-dot";
    const length = document.createElement("span");
    length.className = "plan-length";
    content.append(dot, ...(kind === "middle" ? [length] : []));
    const icon = L.divIcon({
      html: content,
      className: `plan-handle plan-handle-${kind}`,
      iconSize: [TOUCH_PX, TOUCH_PX],
    });
    const above = kind === "corner" ? 1000 : kind === "whole" ? 500 : 0;
    const marker = L.marker(at(point), {
      icon,
      draggable: true,
      keyboard: true,
      autoPan: true,
      zIndexOffset: above,
    }).addTo(this.group);
    const element = marker.getElement();
    if (element !== undefined) {
      element.dataset["handle"] = key;
      element.addEventListener("keydown", (event) => {
        this.key(event, spot, kind);
      });
    }
    this.follow(marker, spot, kind);
    return marker;
  }

  private follow(marker: L.Marker, spot: Spot, kind: Kind): void {
    let start: Draft | null = null;
    let from: Point = [0, 0];
    let shown: Draft | null = null;
    const target = kind === "middle" ? { ring: spot.ring, at: spot.at + 1 } : spot;
    marker.on("dragstart", () => {
      const draft = this.held.draft();
      from = point_at(marker.getLatLng());
      start = draft !== null && kind === "middle" ? inserted(draft, target, from) : draft;
      shown = null;
      this.dragging = true;
    });
    marker.on("drag", () => {
      if (start === null) return;
      const here = point_at(marker.getLatLng());
      if (kind === "whole") {
        const by = this.held.snap_shift(minus(here, from), start);
        shown = shifted(start, by);
        marker.setLatLng(at(plus(from, by)));
      } else {
        const snapped = this.held.snap_corner(here, start, target);
        shown = moved(start, target, snapped);
        marker.setLatLng(at(snapped));
      }
      this.held.show(shown);
    });
    marker.on("dragend", () => {
      this.dragging = false;
      if (shown === null || start === null) return;
      const words = {
        corner: `${spot_words(start, target)} moved`,
        middle: "Corner added",
        whole: "Moved as a whole",
      };
      this.held.change(shown, words[kind]);
    });
    marker.on("click", () => {
      const draft = this.held.draft();
      if (draft === null) return;
      if (kind === "middle") {
        this.held.change(inserted(draft, target, point_at(marker.getLatLng())), "Corner added");
        this.focus(target);
      } else {
        marker.getElement()?.focus();
        this.held.say(
          kind === "whole"
            ? "Drag to move the whole, or use the arrow keys."
            : `${spot_words(draft, spot)}. Drag it or use the arrow keys; the Delete key takes it out.`,
        );
      }
    });
  }

  private key(event: KeyboardEvent, spot: Spot, kind: Kind): void {
    const draft = this.held.draft();
    if (draft === null) return;
    const step = key_step(event, step_m(this.held.units()));
    const is_press = event.key === "Enter" || event.key === " ";
    const is_delete = event.key === "Delete" || event.key === "Backspace";
    if (step === null && !is_press && !is_delete) return;
    event.preventDefault();
    event.stopPropagation();
    if (step !== null && kind === "whole") this.held.change(shifted(draft, step), "Moved as a whole");
    if (step !== null && kind === "corner") {
      const point = rings_of(draft)[spot.ring]?.[spot.at];
      if (point !== undefined)
        this.held.change(
          moved(draft, spot, plus(point, step)),
          `${spot_words(draft, spot)} moved to ${this.place_words(plus(point, step))}`,
        );
    }
    if (is_press && kind === "middle") this.markers.get(`middle-${spot.ring}-${spot.at}`)?.fire("click");
    if (is_delete && kind === "corner") this.delete(draft, spot);
  }

  /** Takes a corner out, where enough are left. */
  delete(draft: Draft, spot: Spot): void {
    const least = LEAST[draft.form];
    if (spot.ring === 0 && draft.points.length <= least) {
      this.held.say(
        `${draft.form === "area" ? "An area needs" : draft.form === "line" ? "A line needs" : "A spot is"} ${least} of these, so it stays.`,
      );
      return;
    }
    this.held.change(without(draft, spot), `${spot_words(draft, spot)} taken out`);
    this.focus({ ring: spot.ring, at: Math.max(spot.at - 1, 0) });
  }
}

type Kind = "corner" | "middle" | "whole";

interface Wanted {
  point: Point;
  words: string;
  spot: Spot;
  kind: Kind;
  length?: string;
}
