// A field in five taps: what each stands for in the season's table of looks, and as parameters of a question.
import type { Conditions } from '../../engine/harvester_answers.ts';
import type { Parameters } from '../../engine/engine.ts';
import { newId } from '../../sync/ids.ts';
import { season } from '../../sync/season.svelte.ts';
import type { Row } from '../../sync/tables.ts';

/** The column it says, in the table's own unit. */
type Said = Partial<Record<'soil_in_hand' | 'crown_height' | 'evenness' | 'root_mass' | 'leaf_sick' | 'leaf_frozen', string>>;

export interface Tap {
  name: string;
  said: Said;
}

/** Heights in cm and masses in kg stand in the middle of what each word is used for. */
export const taps = {
  soil: ['hard', 'crumbly', 'plastic', 'sticky'].map((name): Tap => ({ name, said: { soil_in_hand: name } })),
  crowns: ['2', '5', '9', '13'].map((cm): Tap => ({ name: cm, said: { crown_height: cm } })),
  evenness: ['even', 'fair', 'uneven'].map((name): Tap => ({ name, said: { evenness: name } })),
  roots: ['0.5', '0.8', '1.2'].map((kg): Tap => ({ name: kg, said: { root_mass: kg } })),
  leaf: [
    { name: 'sound', said: { leaf_sick: '5', leaf_frozen: 'no' } },
    { name: 'sick', said: { leaf_sick: '40', leaf_frozen: 'no' } },
    { name: 'frozen', said: { leaf_frozen: 'yes' } },
  ] as Tap[],
};
export type Group = keyof typeof taps;
export type Tapped = Partial<Record<Group, string>>;

const nearest = (value: number, names: Tap[]): string =>
  names.reduce((best, one) => (Math.abs(Number(one.name) - value) < Math.abs(Number(best.name) - value) ? one : best)).name;

/** Which tap would say what is known. */
export function asKnown(known: Conditions): Record<Group, string> {
  const limp = 20;
  return {
    soil: known.soil_in_hand,
    crowns: nearest(known.crown_height_cm, taps.crowns),
    evenness: known.evenness,
    roots: nearest(known.root_mass_kg, taps.roots),
    leaf: known.leaf_frozen ? 'frozen' : known.leaf_sick_percent >= limp ? 'sick' : 'sound',
  };
}

function saidBy(tapped: Tapped): Said {
  return Object.assign({}, ...Object.entries(tapped).map(([group, name]) => taps[group as Group].find((one) => one.name === name)?.said)) as Said;
}
export const asParameters = (tapped: Tapped): Parameters => saidBy(tapped) as Parameters;

/** Keeps what was tapped as a look at the crop: for this and every later question. */
export async function keep(field: string, tapped: Tapped): Promise<void> {
  const id = newId();
  const row: Row<'standing.csv'> = { id, field, at: new Date().toISOString(), ...saidBy(tapped) };
  await season.record({ id, field, table: 'standing.csv', rows: [row as Row] });
}
