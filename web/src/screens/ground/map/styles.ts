// How borders, zones, contours, checks and one's own position are drawn: paper and ink, and a pattern besides each colour.
import { MultiPoint, type Geometry } from 'ol/geom.js';
import { Circle, Fill, Icon, RegularShape, Stroke, Style, Text } from 'ol/style.js';
import type { FeatureLike } from 'ol/Feature.js';
import type { Lie } from '../../../engine/ground_answers.ts';
import type { Polygon } from '../plane.ts';

const ink = '#1b1a17';
const paper = '#fffdf8';
const amber = '#e9c46a';
export const colourOfLie: Record<Lie, string> = { 'level ground': '#1b1a17', knoll: '#8c2f1b', hollow: '#1f4e5f' };
const font = '"DejaVu Sans", "Segoe UI", system-ui, sans-serif';

/** Strokes that rise for a knoll, level ones for water that stands in a hollow. */
function hatch(lie: Lie): CanvasPattern | undefined {
  if (lie === 'level ground') return undefined;
  const size = 14;
  const tile = document.createElement('canvas');
  tile.width = tile.height = size;
  const pen = tile.getContext('2d')!;
  pen.strokeStyle = colourOfLie[lie];
  pen.lineWidth = 2;
  pen.beginPath();
  if (lie === 'hollow') pen.moveTo(0, size / 2), pen.lineTo(size, size / 2);
  else for (const shift of [-size, 0, size]) pen.moveTo(shift, size), pen.lineTo(shift + size, 0);
  pen.stroke();
  return pen.createPattern(tile, 'repeat') ?? undefined;
}
const hatches = new Map<Lie, CanvasPattern | undefined>();
const hatchOf = (lie: Lie) => {
  if (!hatches.has(lie)) hatches.set(lie, hatch(lie));
  return hatches.get(lie);
};

export const borderStyle = [new Style({ stroke: new Stroke({ color: paper, width: 7 }) }), new Style({ stroke: new Stroke({ color: ink, width: 3.5 }) })];

export function zoneStyle(lie: Lie, isHere: boolean): Style[] {
  if (lie === 'level ground') return [];
  const pattern = hatchOf(lie);
  const styles = [
    new Style({ stroke: new Stroke({ color: paper, width: 7, lineJoin: 'round' }) }),
    new Style({ stroke: new Stroke({ color: colourOfLie[lie], width: isHere ? 6 : 3.5, lineJoin: 'round' }) }),
  ];
  if (pattern) styles.unshift(new Style({ fill: new Fill({ color: pattern }) }));
  return styles;
}

export function numberStyle(number: number, lie: Lie, words: string): Style[] {
  const colour = colourOfLie[lie];
  return [
    new Style({
      image: new Circle({ radius: 17, declutterMode: 'obstacle', fill: new Fill({ color: paper }), stroke: new Stroke({ color: colour, width: 3.5 }) }),
      text: new Text({ text: String(number), declutterMode: 'obstacle', font: `bold 19px ${font}`, fill: new Fill({ color: ink }), offsetY: 1 }),
    }),
    new Style({ text: new Text({ text: words, declutterMode: 'obstacle', font: `bold 15px ${font}`, fill: new Fill({ color: ink }), stroke: new Stroke({ color: paper, width: 5 }), offsetY: 31 }) }),
  ];
}

const contour = '#6b4a22';
export const contourStyle = (isMain: boolean): Style => new Style({ stroke: new Stroke({ color: contour, width: isMain ? 1.8 : 0.9 }) });
export function heightStyle(text: string, rotation: number): Style {
  return new Style({ text: new Text({ text, rotation, rotateWithView: true, font: `13px ${font}`, fill: new Fill({ color: '#4a3214' }), stroke: new Stroke({ color: '#f5e6c8', width: 4 }) }) });
}

/** The outline that is being drawn: its corners large enough for a thumb in a glove. */
export function drawnStyle(feature: FeatureLike): Style[] {
  const rings = (feature.getGeometry() as unknown as { getCoordinates: () => Polygon[] }).getCoordinates();
  const isWrong = feature.get('isWrong') === true;
  const colour = isWrong ? '#8c2f1b' : ink;
  const corners = rings.flat(2);
  const radius = corners.length > 60 ? 6 : 11;
  return [
    new Style({ stroke: new Stroke({ color: paper, width: 8 }), fill: new Fill({ color: 'rgb(255 253 248 / 0.35)' }) }),
    new Style({ stroke: new Stroke({ color: colour, width: 4, lineDash: isWrong ? [10, 8] : [] }) }),
    new Style({
      image: new Circle({ radius, fill: new Fill({ color: paper }), stroke: new Stroke({ color: colour, width: 3.5 }) }),
      geometry: new MultiPoint(corners) as Geometry,
    }),
  ];
}
export const grippedStyle = new Style({ image: new Circle({ radius: 15, fill: new Fill({ color: amber }), stroke: new Stroke({ color: ink, width: 3.5 }) }) });
export const crossingStyle = new Style({ image: new RegularShape({ points: 4, radius: 16, radius2: 0, angle: Math.PI / 4, stroke: new Stroke({ color: '#8c2f1b', width: 5 }) }) });

export const accuracyStyle = new Style({ fill: new Fill({ color: 'rgb(31 78 95 / 0.16)' }), stroke: new Stroke({ color: '#1f4e5f', width: 2, lineDash: [6, 5] }) });
/** An arrow along the way, or a dot for who stands. */
export function positionStyle(bearing: number | undefined): Style[] {
  if (bearing === undefined) return [new Style({ image: new Circle({ radius: 13, fill: new Fill({ color: amber }), stroke: new Stroke({ color: ink, width: 3.5 }) }) })];
  return [new Style({ image: new Icon({ img: (arrow ??= drawnArrow()), rotation: bearing, rotateWithView: true, scale: 1 / arrowPixels }) })];
}
const arrowPixels = 2;
let arrow: HTMLCanvasElement | undefined;
/** Points up the canvas, with a notch behind, so that nobody takes its tail for its head. */
function drawnArrow(): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = 52 * arrowPixels;
  const pen = canvas.getContext('2d')!;
  pen.scale(arrowPixels, arrowPixels);
  pen.moveTo(26, 4);
  for (const [x, y] of [[43, 46], [26, 37], [9, 46]] as const) pen.lineTo(x, y);
  pen.closePath();
  pen.lineJoin = 'round';
  pen.lineWidth = 8;
  pen.strokeStyle = paper;
  pen.stroke();
  pen.fillStyle = amber;
  pen.fill();
  pen.lineWidth = 3.5;
  pen.strokeStyle = ink;
  pen.stroke();
  return canvas;
}

export const checkStyle = (words: string): Style[] => [
  new Style({ image: new RegularShape({ points: 4, radius: 10, angle: 0, declutterMode: 'none', fill: new Fill({ color: paper }), stroke: new Stroke({ color: ink, width: 3 }) }) }),
  new Style({ text: new Text({ text: words, font: `13px ${font}`, offsetY: 22, fill: new Fill({ color: ink }), stroke: new Stroke({ color: paper, width: 4 }) }) }),
];
