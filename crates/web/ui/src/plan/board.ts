/** The plan on the screen: what stands in the book, what is being drawn, and where the pointer is. */
import L from "leaflet";
import { type Draft, is_closed, rings_of } from "./draft";
import { draw_parts, mark, outline } from "./drawn";
import { add_grid, add_scale } from "./furniture";
import { Handles } from "./handles";
import { hatches, key_of, sign_of } from "./looks";
import { type Laid, Picture, at, point_at } from "./picture";
import { type Point, between, rectangle } from "./point";
import type { Session } from "./session";
import {
  type Guide,
  type Targets,
  guides_for_corner,
  guides_for_next,
  rectangle_bearing,
  snap,
  snap_whole,
  targets_of,
} from "./snap";

/** How near a point must come to be drawn to something: a mouse, a thumb. */
const NEAR_PX = { fine: 10, coarse: 20 };

export interface Hooks {
  /** The shape as it would be with the pointer where it is; nothing when the pointer is away. */
  live: (draft: Draft | null) => void;
  /** A spot was tapped while a picture is being fixed. */
  tapped: (point: Point) => void;
}

export class Board {
  readonly map: L.Map;
  /** Where the pointer was last while drawing, for a side typed with its length alone. */
  aim: Point | null = null;
  private readonly session: Session;
  private readonly hooks: Hooks;
  private readonly parts = L.layerGroup();
  private readonly pictures = L.layerGroup();
  private readonly laid = new Map<string, Picture>();
  private readonly draft_layer = L.layerGroup();
  private readonly handles: Handles;
  private show_names: () => void = () => undefined;
  private shown = "";
  private preview: Picture | null = null;

  constructor(box: HTMLElement, session: Session, hooks: Hooks) {
    this.session = session;
    this.hooks = hooks;
    box.append(hatches());
    this.map = L.map(box, {
      crs: L.CRS.Simple,
      attributionControl: false,
      minZoom: -6,
      maxZoom: 7,
      zoomSnap: 0,
      zoomDelta: 0.5,
      wheelPxPerZoomLevel: 120,
      inertia: !window.matchMedia("(prefers-reduced-motion: reduce)").matches,
      zoomAnimation: false,
      fadeAnimation: false,
      markerZoomAnimation: false,
      doubleClickZoom: false,
    });
    this.map.setView([0, 0], 2);
    this.map.zoomControl.setPosition("topleft");
    for (const layer of [this.pictures, this.parts, this.draft_layer]) layer.addTo(this.map);
    const units = () => session.plan.units;
    this.handles = new Handles(this.map, {
      draft: () => session.draft,
      units,
      snap_corner: (point, draft, spot) => {
        const ring = rings_of(draft)[spot.ring] ?? [];
        return this.snapped(point, guides_for_corner(ring, spot.at, is_closed(draft)));
      },
      snap_shift: (by, draft) =>
        session.snapping ? snap_whole(draft.points, by, this.targets([]), this.near_m()) : by,
      show: (draft) => {
        this.draw_draft(draft, false);
        hooks.live(draft);
      },
      change: (draft, words) => {
        session.change(draft, words);
      },
      say: (words) => {
        session.say(words);
      },
    });
    this.show_all();
    add_grid(this.map, units);
    add_scale(this.map, units);
    this.listen(box);
    session.listen(() => {
      this.refresh();
    });
    this.refresh();
  }

  private near_m(): number {
    const coarse = window.matchMedia("(pointer: coarse)").matches;
    return (coarse ? NEAR_PX.coarse : NEAR_PX.fine) / 2 ** this.map.getZoom();
  }

  private targets(guides: readonly Guide[]): Targets {
    const others = this.session.plan.parts.filter((part) => part.id !== this.session.draft?.id);
    const outlines = others.flatMap((part) =>
      [part.points, ...part.holes].map((points) => ({ points, closed: part.form === "area" })),
    );
    const targets = targets_of(outlines);
    return { ...targets, guides };
  }

  private snapped(point: Point, guides: readonly Guide[], own: readonly Point[] = []): Point {
    if (!this.session.snapping) return point;
    const targets = this.targets(guides);
    return snap(point, { ...targets, corners: [...own, ...targets.corners] }, this.near_m()).at;
  }

  /** Everything there is, or the middle of the plan where there is nothing yet. */
  show_all(): void {
    const points = [
      ...this.session.plan.parts.flatMap((part) => part.points),
      ...this.session.plan.underlays.flatMap((underlay) => underlay.corners ?? []),
      ...(this.session.draft?.points ?? []),
    ];
    if (points.length === 0) this.map.setView([0, 0], 2);
    else this.map.fitBounds(L.latLngBounds(points.map(at)).pad(0.04), { maxZoom: 5 });
  }

  /** Brings a part into sight. */
  go_to(points: readonly Point[]): void {
    const bounds = L.latLngBounds(points.map(at));
    if (!this.map.getBounds().contains(bounds))
      this.map.fitBounds(bounds.pad(0.4), { maxZoom: Math.max(this.map.getZoom(), 4) });
  }

  private listen(box: HTMLElement): void {
    const { map, session } = this;
    // A pinch ends in a new view without an end of a zoom.
    map.on("zoomend viewreset", () => {
      this.show_names();
      this.refresh_draft();
    });
    map.on("moveend resize", () => {
      this.show_names();
    });
    map.on("mousemove", (event) => {
      if (session.is_tapping()) this.aim_at(point_at(event.latlng));
    });
    map.on("mouseout", () => {
      if (session.is_tapping() && this.aim !== null) {
        this.draw_draft(session.draft, false);
        this.hooks.live(session.draft);
      }
    });
    map.on("click", (event) => {
      const point = point_at(event.latlng);
      if (session.is_tapping()) this.tap(point);
      else if (session.tool === "picture") this.hooks.tapped(this.snapped(point, []));
      else if (session.tool === "change" && !session.is_dirty()) session.discard();
    });
    box.addEventListener("keydown", (event) => {
      if (event.target !== box || !session.is_tapping()) return;
      if (event.key === " ") {
        event.preventDefault();
        this.tap(point_at(map.getCenter()));
      }
    });
    this.listen_for_rectangles(box);
  }

  /** The next corner, drawn to what is near. */
  private next_corner(point: Point, draft: Draft): Point {
    const ring = this.session.open_ring();
    const closes = is_closed(draft) && ring.length > 2 ? ring.slice(0, 1) : [];
    return this.snapped(
      point,
      draft.form === "point" ? [] : guides_for_next(ring, is_closed(draft)),
      closes,
    );
  }

  private aim_at(point: Point): void {
    const { draft } = this.session;
    if (draft === null) return;
    this.aim = this.next_corner(point, draft);
    const with_aim = this.session.with_corner(draft, this.aim);
    this.draw_draft(draft, true);
    this.hooks.live(with_aim);
  }

  private tap(point: Point): void {
    const { draft } = this.session;
    if (draft === null) return;
    const corner = this.next_corner(point, draft);
    const ring = this.session.open_ring();
    const last = ring[ring.length - 1];
    const first = ring[0];
    // The last corner tapped again, or the first one, ends it, whether or not corners draw.
    const meets = (other: Point | undefined): boolean =>
      other !== undefined && (between(corner, other) < 1e-9 || between(point, other) <= this.near_m());
    if (
      draft.form !== "point" &&
      (meets(last) || (is_closed(draft) && ring.length > 2 && meets(first)))
    ) {
      this.session.finish();
      return;
    }
    const after = this.session.with_corner(draft, corner);
    if (draft.form === "point")
      this.session.change(after, "The spot is set. Give it a name and save it, or drag it.", "change");
    else this.session.change(after, `Corner ${ring.length + 1} set`);
  }

  private listen_for_rectangles(box: HTMLElement): void {
    const { session } = this;
    let from: Point | null = null;
    let bearing = 0;
    const here = (event: PointerEvent): Point => point_at(this.map.mouseEventToLatLng(event));
    const over = (draft: Draft, to: Point): Draft => ({
      ...draft,
      points: rectangle(from ?? to, to, bearing),
    });
    box.addEventListener("pointerdown", (event) => {
      const is_control = event.target instanceof Element && event.target.closest(".leaflet-control") !== null;
      if (session.tool !== "rectangle" || is_control || !event.isPrimary) return;
      from = this.snapped(here(event), []);
      bearing = session.snapping ? rectangle_bearing(from, this.targets([]).edges, this.near_m()) : 0;
      box.setPointerCapture(event.pointerId);
    });
    box.addEventListener("pointermove", (event) => {
      if (from === null || session.draft === null) return;
      const shape = over(session.draft, this.snapped(here(event), []));
      this.draw_draft(shape, false);
      this.hooks.live(shape);
    });
    box.addEventListener("pointerup", (event) => {
      const { draft } = session;
      if (from === null || draft === null) return;
      const to = this.snapped(here(event), []);
      const shape = over(draft, to);
      const [a, b, c] = shape.points;
      from = null;
      const too_small = [between(a ?? to, b ?? to), between(b ?? to, c ?? to)].some(
        (side) => side * 2 ** this.map.getZoom() < 4,
      );
      if (too_small) {
        this.refresh_draft();
        session.say("That was a tap, not a drag: hold, and drag from one corner to the opposite one.");
      } else
        session.change(shape, "Rectangle drawn. Give it a name and save it, or drag its corners.", "change");
    });
    box.addEventListener("pointercancel", () => {
      from = null;
      this.refresh_draft();
    });
  }

  private refresh(): void {
    const { session, map } = this;
    const box = map.getContainer();
    for (const tool of ["look", "corners", "rectangle", "cut", "change", "picture"])
      box.classList.toggle(`plan-tool-${tool}`, session.tool === tool);
    if (session.tool === "rectangle") map.dragging.disable();
    else map.dragging.enable();
    const book = JSON.stringify([session.draft?.id ?? null, session.plan.parts, session.plan.underlays]);
    if (book !== this.shown) {
      this.shown = book;
      this.draw_book();
    }
    this.refresh_draft();
  }

  private draw_book(): void {
    const { session } = this;
    this.pictures.clearLayers();
    this.laid.clear();
    for (const underlay of session.plan.underlays) {
      if (underlay.corners === null) continue;
      const picture = new Picture({ ...underlay, corners: underlay.corners });
      this.laid.set(underlay.id, picture);
      this.pictures.addLayer(picture);
    }
    this.show_names = draw_parts(this.map, this.parts, session.plan.parts, session.draft?.id ?? null, {
      called: (part) => session.called(part),
      tapped: (part) => {
        if (session.tool !== "look" && session.tool !== "change") return false;
        session.select(part.id);
        return true;
      },
    });
    this.show_names();
  }

  /** Lays a picture that is not yet saved, in place of the saved one; nothing brings that back. */
  try_picture(laid: (Laid & { id: string }) | null): void {
    for (const [id, picture] of this.laid) {
      if (id === laid?.id) this.pictures.removeLayer(picture);
      else if (!this.pictures.hasLayer(picture)) this.pictures.addLayer(picture);
    }
    if (laid === null) {
      this.preview?.remove();
      this.preview = null;
    } else if (this.preview === null) this.preview = new Picture(laid).addTo(this.map);
    else this.preview.lay(laid);
  }

  private refresh_draft(): void {
    const { draft, tool } = this.session;
    if (draft === null) this.aim = null;
    this.draw_draft(draft, this.session.is_tapping() && this.aim !== null);
    if (draft !== null && tool === "change") this.handles.place(draft);
    else this.handles.clear();
    this.hooks.live(draft);
  }

  private draw_draft(draft: Draft | null, with_aim: boolean): void {
    this.draft_layer.clearLayers();
    const { clash, tool } = this.session;
    if (clash !== null && clash.theirs !== null) {
      outline(clash.theirs, {
        className: "plan-theirs",
        dashArray: "3 8",
        weight: 4,
        interactive: false,
        fill: false,
      }).addTo(this.draft_layer);
    }
    if (draft === null) return;
    const quiet = { interactive: false };
    const is_done = !this.session.is_tapping();
    const is_cut = tool === "cut";
    const ring = this.session.open_ring();
    const [spot] = draft.points;
    if (draft.form === "point" && spot !== undefined) {
      mark(spot, sign_of(draft.kind), `plan-spot plan-draft-spot plan-kind-${key_of(draft.kind)}`, 44).addTo(
        this.draft_layer,
      );
    }
    if (draft.form !== "point" && draft.points.length > 1 && (is_done || is_cut)) {
      const holes = is_cut ? draft.holes.slice(0, -1) : draft.holes;
      outline({ ...draft, holes }, { ...quiet, className: "plan-draft" }).addTo(this.draft_layer);
    }
    if (is_done) return;
    // What is still open is drawn as the line it is so far.
    if (draft.form !== "point" && ring.length > 1)
      L.polyline(ring.map(at), { ...quiet, className: "plan-draft plan-open", weight: 4 }).addTo(
        this.draft_layer,
      );
    for (const [index, point] of ring.entries()) {
      const closes = index === 0 && is_closed(draft) && ring.length > 2;
      L.circleMarker(at(point), {
        ...quiet,
        radius: closes ? 10 : 6,
        className: closes ? "plan-corner plan-closes" : "plan-corner",
      }).addTo(this.draft_layer);
    }
    if (!with_aim || this.aim === null) return;
    const last = ring[ring.length - 1];
    const rubber = [last, this.aim, ...(is_closed(draft) && ring.length > 1 ? [ring[0]] : [])];
    const reach = rubber.filter((point) => point !== undefined).map(at);
    if (reach.length > 1)
      L.polyline(reach, { ...quiet, className: "plan-rubber", weight: 2, dashArray: "6 6" }).addTo(
        this.draft_layer,
      );
    L.circleMarker(at(this.aim), { ...quiet, radius: 5, className: "plan-aim" }).addTo(this.draft_layer);
  }

  focus_corner(spot: { ring: number; at: number }): void {
    this.handles.focus(spot);
  }

  delete_corner(spot: { ring: number; at: number }): void {
    if (this.session.draft !== null) this.handles.delete(this.session.draft, spot);
  }

  stop(): void {
    this.map.remove();
  }
}
