// Zones after one of them was drawn: it keeps within the border and off the others, and level ground is what is left.
import { difference, intersection } from 'polyclip-ts';
import type { KeptZone, Lie } from '../../engine/ground_answers.ts';
import type { Reading } from '../../engine/harvester_answers.ts';
import type { Plane, Polygon } from './plane.ts';
import { areaOf } from './polygon.ts';

const squareMetresPerHectare = 10_000;
/** Splinters between two outlines that were meant to lie on each other. */
const least_m2 = 25;

type Part = { number: number; lie: Lie; polygons: Polygon[]; controls: Reading[] };

const closed = (polygons: Polygon[]) => polygons.map((polygon) => polygon.map((ring) => [...ring, ring[0]!]));
const opened = (polygons: ReturnType<typeof difference>): Polygon[] =>
  polygons.map((polygon) => polygon.map((ring) => ring.slice(0, -1).map(([east, north]) => [east!, north!] as [number, number]))).filter((polygon) => areaOf([polygon]) >= least_m2);
const millimetres = (polygons: Polygon[]): Polygon[] => polygons.map((polygon) => polygon.map((ring) => ring.map(([east, north]) => [Number(east.toFixed(3)), Number(north.toFixed(3))] as [number, number])));

const less = (from: Polygon[], taken: Polygon[][]) => {
  const others = taken.filter((one) => one.length).map(closed);
  return from.length && others.length ? opened(difference(closed(from), ...others)) : from;
};

/**
 * `drawn` takes its place among `zones`, by its number, or behind them all. `levelControls`: of level ground, where
 * no zone is that yet.
 */
export function withDrawn(plane: Plane, border: Polygon[], zones: KeptZone[], drawn: Part, levelControls: Reading[]): KeptZone[] {
  const within = millimetres(border);
  const own = opened(intersection(closed(millimetres(drawn.polygons)), closed(within)));
  const others = zones.filter((one) => one.number !== drawn.number && one.lie !== 'level ground').map((one) => ({ ...one, polygons: less(millimetres(plane.polygons(one.geometry)), [own]) }));
  const level = zones.find((one) => one.lie === 'level ground');
  const standOut = [...others, { ...drawn, polygons: own }].filter((one) => one.polygons.length).sort((a, b) => a.number - b.number);
  const rest: Part = { number: level?.number ?? 1, lie: 'level ground', controls: level?.controls ?? levelControls, polygons: less(within, standOut.map((one) => one.polygons)) };
  return [rest, ...standOut].filter((one) => one.polygons.length).map(({ number, lie, controls, polygons }) => ({ number, lie, controls, area_ha: areaOf(polygons) / squareMetresPerHectare, geometry: plane.outline(polygons) }));
}

export function without(plane: Plane, border: Polygon[], zones: KeptZone[], number: number): KeptZone[] {
  const left = zones.filter((one) => one.number !== number && one.lie !== 'level ground');
  const level = zones.find((one) => one.lie === 'level ground');
  if (!level) return left;
  const rest = less(millimetres(border), left.map((one) => millimetres(plane.polygons(one.geometry))));
  return [{ ...level, area_ha: areaOf(rest) / squareMetresPerHectare, geometry: plane.outline(rest) }, ...left];
}
