/** A picture under the plan, laid by an affine map: turned, scaled and sheared as its known spots ask. */
import L from "leaflet";
import { screen_matrix } from "./fit";
import type { Point } from "./point";

export const at = (point: Point): L.LatLng => L.latLng(point[1], point[0]);
export const point_at = (place: L.LatLng): Point => [place.lng, place.lat];

export interface Laid {
  url: string;
  width_px: number;
  height_px: number;
  /** Top left, top right, bottom right, bottom left. */
  corners: readonly Point[];
  opacity_percent: number;
}

export class Picture extends L.Layer {
  private readonly image = document.createElement("img");
  private laid: Laid;

  constructor(laid: Laid) {
    super({ pane: "tilePane" });
    this.laid = laid;
    this.image.alt = "";
    this.image.className = "leaflet-image-layer plan-picture";
  }

  override onAdd(map: L.Map): this {
    map.getPane("tilePane")?.append(this.image);
    this.lay(this.laid);
    return this;
  }

  override onRemove(): this {
    this.image.remove();
    return this;
  }

  override getEvents(): Record<string, L.LeafletEventHandlerFn> {
    const again = (): void => {
      this.lay(this.laid);
    };
    return { zoom: again, viewreset: again };
  }

  lay(laid: Laid): void {
    this.laid = laid;
    const map = this._map as L.Map | null;
    const [top_left, top_right, , bottom_left] = laid.corners;
    if (map === null || top_left === undefined || top_right === undefined || bottom_left === undefined)
      return;
    const spot = (point: Point): [number, number] => {
      const { x, y } = map.latLngToLayerPoint(at(point));
      return [x, y];
    };
    if (this.image.getAttribute("src") !== laid.url) this.image.src = laid.url;
    // Set through the object model, which the content policy leaves alone.
    const { style } = this.image;
    style.width = `${laid.width_px}px`;
    style.height = `${laid.height_px}px`;
    style.transformOrigin = "0 0";
    style.opacity = String(laid.opacity_percent / 100);
    style.transform = screen_matrix(
      laid.width_px,
      laid.height_px,
      spot(top_left),
      spot(top_right),
      spot(bottom_left),
    );
  }
}
