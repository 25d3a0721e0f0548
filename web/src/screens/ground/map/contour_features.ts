// Contours as features in a field's plane: lines, every fifth one stronger, and their heights beside the longest of them.
import Feature from 'ol/Feature.js';
import { LineString, Point } from 'ol/geom.js';
import { levelsWithin, linesAt, type Grid } from '../contours.ts';
import type { Placing } from '../relief_picture.ts';
import { placed } from '../relief_picture.ts';
import { contourStyle, heightStyle } from './styles.ts';

/** Heights and step in people's units. */
export interface Heights {
  low: number;
  high: number;
  step: number;
  cmPerUnit: number;
  text: (height: number) => string;
}

const shortest_cells = 6;
const labelled_cells = 24;
const mainEvery = 5;

export function contourFeatures(grid: Grid, placing: Placing, { low, high, step, cmPerUnit, text }: Heights): Feature[] {
  const features: Feature[] = [];
  for (const level of levelsWithin(low, high, step)) {
    const isMain = Math.round(level / step) % mainEvery === 0;
    const style = contourStyle(isMain);
    for (const line of linesAt(grid, level * cmPerUnit)) {
      if (line.length < shortest_cells) continue;
      const points = line.map((spot) => placed(placing, spot));
      const drawn = new Feature(new LineString(points));
      drawn.setStyle(style);
      features.push(drawn);
      if (line.length < labelled_cells) continue;
      // In the middle of the line, along it, and never upside down.
      const middle = Math.floor(points.length / 2);
      const [before, after] = [points[middle - 3]!, points[middle + 3]!];
      const turn = -Math.atan2(after[1] - before[1], after[0] - before[0]);
      const upright = Math.abs(turn) > Math.PI / 2 ? turn - Math.sign(turn) * Math.PI : turn;
      const label = new Feature(new Point(points[middle]!));
      label.setStyle(heightStyle(text(level), upright));
      features.push(label);
    }
  }
  return features;
}
