// A look at a standing crop that is under way: kept on the device after every word, so that twenty crowns
// measured in the rain outlive a tablet that goes dark.
import { newId } from '../../sync/ids.ts';
import { fact, forgetFact, keepFact } from '../../sync/kept.ts';
import { season } from '../../sync/season.svelte.ts';
import type { Row } from '../../sync/tables.ts';
import { fileNumber } from '../../units/units.ts';

/** What is dug, weighed and analysed, by column, metric. */
export type Dug = Partial<Record<'spots' | 'area' | 'roots' | 'pol' | 'potassium' | 'sodium' | 'amino_nitrogen', number>>;

export interface Look {
  id: string;
  supersedes: string;
  field: string;
  at: string;
  dug: Dug;
  /** Per cent of the leaf area; undefined: not judged. */
  sick?: number | undefined;
  frozen: '' | 'no' | 'yes';
  /** cm over the ground, in their order. */
  crowns: number[];
}

export const crownsWanted = 20;
export const mostCrowns = 100;

const blank = (field: string, supersedes: string): Look => ({ id: newId(), supersedes, field, at: new Date().toISOString(), dug: {}, frozen: '', crowns: [] });

/** What is said by eye elsewhere and not asked for here: a correction leaves it as it was. */
const byEye = ['soil_in_hand', 'crown_height', 'evenness', 'plants', 'root_mass'] as const;

/** Spots and area say how somebody looked, not what was found. */
const isFound = (dug: Dug): boolean => Object.entries(dug).some(([column, value]) => value !== undefined && column !== 'spots' && column !== 'area');
export const saysSomething = (look: Look): boolean => isFound(look.dug) || look.sick !== undefined || look.frozen !== '' || look.crowns.length > 0;

/** A correction is kept apart, so that it takes nothing from a look that is under way. */
const nameOf = (supersedes: string): string => (supersedes ? `look in place of ${supersedes}` : 'look');

class Looking {
  look = $state<Look>(blank('', ''));
  /** The field of a look that was begun and is not recorded; empty: there is none. */
  underWay = $state('');

  async peek(): Promise<void> {
    const kept = await fact<Look>(nameOf(''));
    this.underWay = kept && saysSomething(kept) ? kept.field : '';
  }

  /** Goes on with what is under way, whichever field it is of; else begins with this one. */
  async begin(field: string, supersedes: string): Promise<void> {
    const kept = await fact<Look>(nameOf(supersedes));
    this.look = kept && saysSomething(kept) ? kept : blank(field, supersedes);
  }
  /** Changes a part of it. */
  async set(part: Partial<Look>): Promise<void> {
    Object.assign(this.look, part);
    await this.keep();
  }
  keep(): Promise<void> {
    return keepFact(nameOf(this.look.supersedes), $state.snapshot(this.look));
  }
  async discard(): Promise<void> {
    await forgetFact(nameOf(this.look.supersedes));
    await this.peek();
    this.look = blank(this.look.field, '');
  }

  /** Hands it over: it is in the outbox, on the disk, before the draft goes. */
  async record(): Promise<void> {
    const { id, supersedes, field, at, dug, sick, frozen, crowns } = $state.snapshot(this.look);
    const row: Row<'standing.csv'> = { id, supersedes, field, at, leaf_frozen: frozen, crowns: crowns.map(fileNumber).join(' ') };
    for (const [column, value] of Object.entries(dug)) if (value !== undefined) row[column as keyof Dug] = fileNumber(value);
    const before = supersedes ? season.allRows('standing.csv').find((one) => one.id === supersedes) : undefined;
    for (const column of byEye) if (before?.[column] !== undefined) row[column] = before[column];
    if (sick !== undefined) row.leaf_sick = fileNumber(sick);
    await season.record({ id, field, table: 'standing.csv', rows: [row as Row] });
    await this.discard();
  }
}

export const looking = new Looking();
