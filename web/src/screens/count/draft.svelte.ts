// A count that is under way: kept on the device after every beet, so that nothing is lost when the app
// is closed or the tablet goes dark.
import { brokenWide, type Crown, type Tail } from '../../parts/classes.ts';
import { newId } from '../../sync/ids.ts';
import { fact, forgetFact, keepFact } from '../../sync/kept.ts';
import { season } from '../../sync/season.svelte.ts';
import type { Row } from '../../sync/tables.ts';
import { whereNow, type Noted } from './position.ts';

export interface Beet {
  spot: number;
  crown: Crown | '';
  tail: Tail | '';
  rot: boolean;
  frost: boolean;
  /** cm2; undefined: not judged. */
  skin?: number | undefined;
}

/** Where a spot was looked at. Its id is made there, so that a count handed over twice is one. */
interface SpotPlace extends Noted {
  id: string;
  spot: number;
  at: string;
}

export interface Draft {
  sheet: string;
  supersedes: string;
  field: string;
  machine: string;
  operator: string;
  seenAt: string;
  at: string;
  beets: Beet[];
  /** Absent: nobody wants it noted. */
  places?: SpotPlace[];
}

export interface SpotCount {
  hits: number;
  beets: number;
}

export const beetsToASpot = 10;
const patienceAtEnd_ms = 2_000;

class Counting {
  draft = $state<Draft | undefined>(undefined);
  /** Settles once it is known where the last spot is, or that it is not. */
  #looking: Promise<void> = Promise.resolve();
  /** How many changes are on their way to the disk. */
  #beingKept = $state(0);

  /** Whether the disk has all that was counted. */
  get isKept(): boolean {
    return this.#beingKept === 0;
  }
  async resume(): Promise<void> {
    this.draft ??= await fact<Draft>('draft');
  }
  async start(about: Omit<Draft, 'sheet' | 'at' | 'beets' | 'places'>, withPlaces: boolean): Promise<void> {
    this.draft = { ...about, sheet: newId(), at: new Date().toISOString(), beets: [], ...(withPlaces ? { places: [] } : {}) };
    await this.#keep();
    this.#looking = this.#notePlace();
  }
  get spot(): number {
    const beets = this.draft?.beets ?? [];
    return 1 + Math.floor(beets.length / beetsToASpot);
  }
  async add(beet: Omit<Beet, 'spot'>): Promise<void> {
    const { spot } = this;
    this.draft?.beets.push({ ...beet, spot });
    await this.#keep();
    this.#looking = this.#looking.then(() => this.#notePlace());
  }
  /** Where the spot under way is, once; counting goes on meanwhile. */
  async #notePlace(): Promise<void> {
    const { draft, spot } = this;
    if (!draft?.places || draft.places.some((one) => one.spot === spot)) return;
    const now = await whereNow();
    if (!now || this.draft?.sheet !== draft.sheet || this.draft.places?.some((one) => one.spot === spot)) return;
    this.draft.places?.push({ ...now, id: newId(), spot, at: new Date().toISOString() });
    await this.#keep();
  }
  async undo(): Promise<Beet | undefined> {
    const last = this.draft?.beets.pop();
    await this.#keep();
    return last;
  }
  async discard(): Promise<void> {
    this.draft = undefined;
    await forgetFact('draft');
  }

  /** Hits among the beets judged, by spot. */
  #tally(judged: (beet: Beet) => boolean | undefined): SpotCount[] {
    const spots = new Map<number, SpotCount>();
    for (const beet of this.draft?.beets ?? []) {
      const hit = judged(beet);
      if (hit === undefined) continue;
      const spot = spots.get(beet.spot) ?? { hits: 0, beets: 0 };
      spots.set(beet.spot, { hits: spot.hits + (hit ? 1 : 0), beets: spot.beets + 1 });
    }
    return [...spots.values()];
  }
  get tails(): SpotCount[] {
    return this.#tally((beet) => (beet.tail ? brokenWide.includes(beet.tail) : undefined));
  }
  get tooDeep(): SpotCount[] {
    return this.#tally((beet) => (beet.crown ? beet.crown === 'too deep' : undefined));
  }

  /** Hands the count over: it is in the outbox, on the disk, before the draft goes. */
  async record(): Promise<void> {
    // A count of a moment is done before the device knows where it is: it has that long.
    await Promise.race([this.#looking, new Promise((resolve) => setTimeout(resolve, patienceAtEnd_ms))]);
    const draft = this.draft;
    if (!draft) return;
    const rows = draft.beets.map(
      (beet): Row<'beets.csv'> => ({
        sheet: draft.sheet,
        supersedes: draft.supersedes,
        field: draft.field,
        machine: draft.machine,
        operator: draft.operator,
        at: draft.at,
        seen_at: draft.seenAt,
        spot: String(beet.spot),
        topping: beet.crown,
        tip_break: beet.tail,
        skin_damage: beet.skin === undefined ? '' : String(beet.skin),
        rot: beet.rot ? 'yes' : 'no',
        frost: beet.frost ? 'yes' : 'no',
      }),
    );
    const counted = new Set(draft.beets.map((beet) => beet.spot));
    const places = (draft.places ?? [])
      .filter((place) => counted.has(place.spot))
      .map((place) => {
        const { id, at } = place;
        const row: Row<'places.csv'> = {
          id,
          field: draft.field,
          at,
          of: draft.sheet,
          spot: String(place.spot),
          latitude: place.latitude.toFixed(7),
          longitude: place.longitude.toFixed(7),
          accuracy: place.accuracy.toFixed(1),
        };
        return { id, field: draft.field, table: 'places.csv' as const, rows: [row] };
      });
    await season.recordAll([{ id: draft.sheet, field: draft.field, table: 'beets.csv', rows }, ...places]);
    await this.discard();
  }

  async #keep(): Promise<void> {
    this.#beingKept += 1;
    try {
      await keepFact('draft', $state.snapshot(this.draft));
    } finally {
      this.#beingKept -= 1;
    }
  }
}

export const counting = new Counting();
