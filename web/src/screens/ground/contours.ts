// Lines of equal height on a grid: marching squares, then segments joined to lines.

export interface Grid {
  columns: number;
  rows: number;
  /** Row by row; NaN where it is not known. */
  values: Float32Array;
}
/** In cells from the middle of cell (0, 0). */
export type Spot = [column: number, row: number];

/** The mean of each cell and its neighbours, the nearer the more: what a receiver makes of level ground is no relief. */
export function smoothed(heights: (number | null)[], columns: number, rows: number): Grid {
  const values = new Float32Array(columns * rows).fill(NaN);
  for (let row = 0; row < rows; ++row) {
    for (let column = 0; column < columns; ++column) {
      if (heights[row * columns + column] === null) continue;
      let [sum, weights] = [0, 0];
      for (let down = -1; down <= 1; ++down) {
        for (let along = -1; along <= 1; ++along) {
          const [r, c] = [row + down, column + along];
          const height = r < 0 || r >= rows || c < 0 || c >= columns ? null : heights[r * columns + c];
          if (height === null || height === undefined) continue;
          const weight = (2 - Math.abs(down)) * (2 - Math.abs(along));
          sum += weight * height;
          weights += weight;
        }
      }
      values[row * columns + column] = sum / weights;
    }
  }
  return { columns, rows, values };
}

/** A step that people count in, so that there are no more lines than wanted. */
export function stepFor(span: number, wanted: number): number {
  const rough = Math.max(span, 1e-9) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough * 0.999) ?? 10 * power;
}

const mostLines = 10;
/** Between two contours, in the units of the relief's whole span. */
export const contourStep = (span: number): number => stepFor(span, mostLines);

/** All multiples of a step strictly within. */
export function levelsWithin(low: number, high: number, step: number): number[] {
  const first = Math.floor(low / step) + 1;
  const last = Math.ceil(high / step) - 1;
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}

/** Edges from a cell's middle to that of the next in its row, and in its column, have a number each. */
export function linesAt({ columns, rows, values }: Grid, level: number): Spot[][] {
  const spots = new Map<number, Spot>();
  const joined = new Map<number, number[]>();
  const join = (one: number, other: number) => {
    for (const [a, b] of [[one, other], [other, one]] as const) {
      const list = joined.get(a);
      if (list) list.push(b);
      else joined.set(a, [b]);
    }
  };
  const at = (column: number, row: number) => values[row * columns + column]!;
  const edge = (column: number, row: number, down: 0 | 1): number => {
    const id = 2 * (row * columns + column) + down;
    if (!spots.has(id)) {
      const [a, b] = [at(column, row), down ? at(column, row + 1) : at(column + 1, row)];
      const share = (level - a) / (b - a);
      spots.set(id, down ? [column, row + share] : [column + share, row]);
    }
    return id;
  };
  for (let row = 0; row + 1 < rows; ++row) {
    for (let column = 0; column + 1 < columns; ++column) {
      const corners = [at(column, row), at(column + 1, row), at(column + 1, row + 1), at(column, row + 1)];
      if (corners.some(Number.isNaN)) continue;
      const over = corners.map((one) => one >= level);
      const cut = [
        over[0] !== over[1] && edge(column, row, 0),
        over[1] !== over[2] && edge(column + 1, row, 1),
        over[2] !== over[3] && edge(column, row + 1, 0),
        over[3] !== over[0] && edge(column, row, 1),
      ].filter((one): one is number => one !== false);
      if (cut.length === 2) join(cut[0]!, cut[1]!);
      if (cut.length === 4) {
        // A saddle: the mean says which of the two ways the ground goes on.
        const isHigh = corners.reduce((sum, one) => sum + one, 0) / 4 >= level;
        if (isHigh === over[0]) [join(cut[0]!, cut[1]!), join(cut[2]!, cut[3]!)];
        else [join(cut[0]!, cut[3]!), join(cut[1]!, cut[2]!)];
      }
    }
  }
  return chained(joined).map((line) => line.map((id) => spots.get(id)!));
}

/** Takes links off until none is left: lines that end first, then rings, which come back to where they began. */
function chained(joined: Map<number, number[]>): number[][] {
  const lines: number[][] = [];
  const take = (from: number): number | undefined => {
    const next = joined.get(from)?.pop();
    if (next === undefined) return undefined;
    const back = joined.get(next)!;
    back.splice(back.indexOf(from), 1);
    return next;
  };
  const follow = (start: number) => {
    const line = [start];
    for (let next = take(start); next !== undefined; next = take(next)) line.push(next);
    if (line.length > 1) lines.push(line);
  };
  for (const [id, links] of joined) if (links.length === 1) follow(id);
  for (const id of joined.keys()) follow(id);
  return lines;
}
