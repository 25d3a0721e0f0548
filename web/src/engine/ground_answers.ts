// What the server says of a season's ground, and what zones are worked out from it.
import type { Interval } from './answers.ts';
import type { Reading } from './harvester_answers.ts';

export type Lie = 'level ground' | 'knoll' | 'hollow';
/** Longitude, latitude; degrees, WGS 84. */
export type Place = [number, number];
export interface Outline {
  type: 'MultiPolygon';
  coordinates: Place[][][];
}

export interface KeptZone {
  number: number;
  lie: Lie;
  area_ha: number;
  geometry: Outline;
  /** Of level ground all that are set; of another lie those that differ. */
  controls: Reading[];
}

export interface GroundOfField {
  field: string;
  border?: { from: string; at: string; area_ha: number; geometry: Outline };
  heights?: { from: string; at: string };
  zones?: { at: string; machine: string; zones: KeptZone[] };
}

/** Heights on a grid that is turned along the direction of driving. */
export interface Relief {
  field: string;
  columns: number;
  rows: number;
  cell_m: number;
  /** The outer corners of the cells at (0, 0), (last column, 0), (last column, last row), (0, last row). */
  corners: [Place, Place, Place, Place];
  /** Row by row; null where it is not known. */
  heights_cm: (number | null)[];
  low_m: number;
  high_m: number;
  height_sd_m: number;
}

export interface FoundZone {
  number: number;
  lie: Lie;
  latitude: number;
  longitude: number;
  area_ha: number;
  switches: number;
  stands_out_m?: number;
  gain?: Interval;
  chance_better?: number;
  why_not?: string;
}

export interface ZonesAnswer {
  field: string;
  machine: string;
  at: string;
  currency: string;
  width_m: number;
  area_ha: number;
  height_sd_m: number;
  least_relief_m: number;
  most_relief_m: number;
  reason: string;
  zones: FoundZone[];
  left_out: FoundZone[];
  gain: Interval;
  settings: { lie: Lie; controls: (Reading & { field_text: string })[] }[];
  notes: string[];
  assumptions: string[];
  cautions: string[];
  outlines: { number: number; lie: Lie; geometry: Outline }[];
}
