// A relief as a picture: one hue, dark where it is low, with a soft light from the north-west; and what its colours mean.
import type { Relief } from '../../engine/ground_answers.ts';
import { smoothed, type Grid } from './contours.ts';
import type { Plane, Point } from './plane.ts';

/** Of wet soil and of dry: a low place is the dark one. */
export const lowest = [166, 124, 74] as const;
export const highest = [250, 240, 219] as const;
export const colourAt = (share: number): string => `rgb(${lowest.map((low, i) => Math.round(low + (highest[i]! - low) * share)).join(' ')})`;

/** From cells, counted from the grid's outer corner, to the plane: east = a c + b r + e, north = ... */
export interface Placing {
  origin: Point;
  perColumn: Point;
  perRow: Point;
}
export function placingOf(relief: Relief, plane: Plane): Placing {
  const [origin, along, , down] = relief.corners.map((corner) => plane.to(corner)) as [Point, Point, Point, Point];
  const per = (to: Point, count: number): Point => [(to[0] - origin[0]) / count, (to[1] - origin[1]) / count];
  return { origin, perColumn: per(along, relief.columns), perRow: per(down, relief.rows) };
}
/** A place in cells from the middle of cell (0, 0), as contours have it. */
export function placed({ origin, perColumn, perRow }: Placing, [column, row]: [number, number]): Point {
  const [c, r] = [column + 0.5, row + 0.5];
  return [origin[0] + perColumn[0] * c + perRow[0] * r, origin[1] + perColumn[1] * c + perRow[1] * r];
}

export const gridOf = (relief: Relief): Grid => smoothed(relief.heights_cm, relief.columns, relief.rows);

/** Between the middles of four cells; NaN where one of them is not known. */
function heightAt({ columns, rows, values }: Grid, column: number, row: number): number {
  const [c, r] = [Math.max(0, Math.min(columns - 1.001, column)), Math.max(0, Math.min(rows - 1.001, row))];
  const [c0, r0] = [Math.floor(c), Math.floor(r)];
  const [x, y] = [c - c0, r - r0];
  const at = (i: number, j: number) => values[Math.min(rows - 1, r0 + j) * columns + Math.min(columns - 1, c0 + i)]!;
  const [a, b, d, e] = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
  return a * (1 - x) * (1 - y) + b * x * (1 - y) + d * (1 - x) * y + e * x * y;
}

/** How much lighter the brightest slope is, and darker the darkest. */
const mostShade = 0.16;
const mostPixels = 1_500_000;

export interface Picture {
  width: number;
  height: number;
  /** Pixels for each cell. */
  scale: number;
  rgba: Uint8ClampedArray<ArrayBuffer>;
}

export function paint(relief: Relief, grid: Grid, placing: Placing): Picture {
  const { columns, rows, values } = grid;
  const scale = Math.max(1, Math.min(4, Math.floor(Math.sqrt(mostPixels / (columns * rows)))));
  const [width, height] = [columns * scale, rows * scale];
  const rgba = new Uint8ClampedArray(width * height * 4);
  const [low, high] = [relief.low_m * 100, relief.high_m * 100];
  // The slope towards the light, in the grid's own directions; the steepest tenth has all of the shade.
  const unit = ([x, y]: Point): Point => [x / Math.hypot(x, y), y / Math.hypot(x, y)];
  const light: Point = [-Math.SQRT1_2, Math.SQRT1_2];
  const [along, down] = [unit(placing.perColumn), unit(placing.perRow)];
  const [byColumn, byRow] = [along, down].map((way) => way[0] * light[0] + way[1] * light[1]) as [number, number];
  const slopes = new Float32Array(columns * rows);
  for (let row = 0; row < rows; ++row) {
    for (let column = 0; column < columns; ++column) {
      const at = (c: number, r: number) => values[Math.max(0, Math.min(rows - 1, r)) * columns + Math.max(0, Math.min(columns - 1, c))]!;
      const slope = (at(column + 1, row) - at(column - 1, row)) * byColumn + (at(column, row + 1) - at(column, row - 1)) * byRow;
      slopes[row * columns + column] = Number.isNaN(slope) ? 0 : slope;
    }
  }
  const steep = [...slopes].map(Math.abs).filter((one) => one > 0).sort((a, b) => a - b);
  const full = steep[Math.floor(0.9 * steep.length)] ?? 1;
  const shades: Grid = { columns, rows, values: slopes };
  for (let y = 0, pixel = 0; y < height; ++y) {
    for (let x = 0; x < width; ++x, pixel += 4) {
      const [column, row] = [(x + 0.5) / scale - 0.5, (y + 0.5) / scale - 0.5];
      const tall = heightAt(grid, column, row);
      if (Number.isNaN(tall)) continue;
      const share = Math.max(0, Math.min(1, (tall - low) / Math.max(1, high - low)));
      // Ground that falls away towards the light is bright: height falls in its direction.
      const shade = 1 - mostShade * Math.max(-1, Math.min(1, heightAt(shades, column, row) / full));
      for (let i = 0; i < 3; ++i) rgba[pixel + i] = (lowest[i]! + (highest[i]! - lowest[i]!) * share) * shade;
      rgba[pixel + 3] = 255;
    }
  }
  return { width, height, scale, rgba };
}
