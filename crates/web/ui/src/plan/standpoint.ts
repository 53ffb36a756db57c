/**
 * Where the device stands, in metres of the plan. Local metres on the WGS 84 ellipsoid at the plan's origin: its two
 * radii of curvature there, exact on a farm to better than the device can tell.
 */
import type { Point } from "./point";

const A_M = 6_378_137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);

export interface Origin {
  latitude_degrees: number;
  longitude_degrees: number;
}

/** Metres for one degree of latitude and of longitude at a latitude. */
export function metres_per_degree(latitude_degrees: number): { north_m: number; east_m: number } {
  const latitude = (latitude_degrees * Math.PI) / 180;
  const under = 1 - E2 * Math.sin(latitude) ** 2;
  const meridian = (A_M * (1 - E2)) / under ** 1.5;
  const across = A_M / Math.sqrt(under);
  return { north_m: (meridian * Math.PI) / 180, east_m: (across * Math.cos(latitude) * Math.PI) / 180 };
}

export function on_plan(origin: Origin, latitude_degrees: number, longitude_degrees: number): Point {
  const { north_m, east_m } = metres_per_degree(origin.latitude_degrees);
  const turn = ((longitude_degrees - origin.longitude_degrees + 540) % 360) - 180;
  return [turn * east_m, (latitude_degrees - origin.latitude_degrees) * north_m];
}

/** Whether this page may ask the device where it is. */
export function can_ask(): boolean {
  return window.isSecureContext && "geolocation" in navigator;
}

/** What the device answered instead of a place, in words. */
export function trouble_words(code: number): string {
  if (code === 1)
    return "This browser was not allowed to tell where you stand. Allow the location for this page, or tap the corner on the plan.";
  if (code === 3)
    return "The device found no place in time. Wait under open sky and try again, or tap the corner on the plan.";
  return "The device could not tell where it is. Try again under open sky, or tap the corner on the plan.";
}

/** Asks the device once. */
export function ask_device(): Promise<{ latitude: number; longitude: number; accuracy_m: number }> {
  return new Promise((resolve, reject) => {
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        resolve({ latitude: coords.latitude, longitude: coords.longitude, accuracy_m: coords.accuracy });
      },
      (error) => {
        reject(new Error(trouble_words(error.code)));
      },
      { enableHighAccuracy: true, timeout: 20_000, maximumAge: 0 },
    );
  });
}
