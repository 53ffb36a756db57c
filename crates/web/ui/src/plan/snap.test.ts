import { describe, expect, it } from "vitest";
import type { Point } from "./point";
import {
  NO_TARGETS,
  guides_for_corner,
  guides_for_next,
  is_square,
  rectangle_bearing,
  snap,
  snap_whole,
  targets_of,
  towards,
} from "./snap";

const NEIGHBOUR: Point[] = [
  [20, 0],
  [20, 30],
  [60, 30],
  [60, 0],
];
const targets = targets_of([{ points: NEIGHBOUR, closed: true }]);

describe("snap", () => {
  it("goes to a corner before an edge", () => {
    expect(snap([20.5, 29.2], targets, 1)).toEqual({ at: [20, 30], held: "corner" });
    expect(snap([19.4, 12], targets, 1)).toEqual({ at: [20, 12], held: "edge" });
  });

  it("leaves alone what is out of reach, and everything where there is nothing", () => {
    expect(snap([15, 12], targets, 1)).toEqual({ at: [15, 12], held: null });
    expect(snap([20, 0], NO_TARGETS, 1)).toEqual({ at: [20, 0], held: null });
  });

  it("makes right angles, and joins them with an edge", () => {
    const drawn: Point[] = [
      [0, 0],
      [0, 10],
    ];
    const guides = guides_for_next(drawn, true);
    const free = snap([9, 10.3], { ...NO_TARGETS, guides }, 0.5);
    expect(free).toEqual({ at: [9, 10], held: "square" });
    expect(is_square([0, 0], [0, 10], free.at)).toBe(true);
    const joined = snap([19.8, 10.3], { ...targets, guides }, 0.5);
    expect(joined.held).toBe("square on an edge");
    expect(joined.at[0]).toBeCloseTo(20, 9);
    expect(joined.at[1]).toBeCloseTo(10, 9);
  });

  it("closes a rectangle square to the last side and to the first", () => {
    const drawn: Point[] = [
      [0, 0],
      [0, 10],
      [25, 10],
    ];
    const { at, held } = snap([25.2, 0.3], { ...NO_TARGETS, guides: guides_for_next(drawn, true) }, 0.5);
    expect(held).toBe("square both ways");
    expect(at[0]).toBeCloseTo(25, 9);
    expect(at[1]).toBeCloseTo(0, 9);
  });

  it("starts along north and east where there is no side yet", () => {
    expect(snap([0.3, 8], { ...NO_TARGETS, guides: guides_for_next([[0, 0]], true) }, 0.5).at).toEqual([
      0, 8,
    ]);
  });
});

it("squares a moved corner to the sides beyond its neighbours", () => {
  const ring: Point[] = [
    [0, 0],
    [0, 10],
    [25, 10],
    [23, 1],
  ];
  const { at, held } = snap([24.8, 0.2], { ...NO_TARGETS, guides: guides_for_corner(ring, 3, true) }, 0.5);
  expect(held).toBe("square both ways");
  expect(at[0]).toBeCloseTo(25, 9);
  expect(at[1]).toBeCloseTo(0, 9);
  expect(
    guides_for_corner(
      [
        [0, 0],
        [5, 5],
      ],
      0,
      false,
    ),
  ).toEqual([]);
});

it("moves a whole part to the corner of a neighbour", () => {
  const bed: Point[] = [
    [0, 0],
    [0, 10],
    [5, 10],
    [5, 0],
  ];
  expect(snap_whole(bed, [14.6, 0.3], targets, 1)).toEqual([15, 0]);
  expect(snap_whole(bed, [3, 3], targets, 1)).toEqual([3, 3]);
});

it("turns a rectangle to the edge it starts on", () => {
  const slanted = targets_of([
    {
      points: [
        [0, 0],
        [10, 10],
      ],
      closed: false,
    },
  ]);
  expect(rectangle_bearing([5.1, 5], slanted.edges, 1)).toBeCloseTo(45, 9);
  expect(rectangle_bearing([50, 5], slanted.edges, 1)).toBe(0);
});

it("goes a length towards the pointer", () => {
  expect(towards([0, 0], [30, 40], 10)).toEqual([expect.closeTo(6, 9), expect.closeTo(8, 9)]);
});
