// The season's ground as this device knows it: borders, zones and relief as the server has them, with what was drawn
// here and waits to be sent on top.
import { Refused, type Problem } from '../engine/engine.ts';
import type { GroundOfField, KeptZone, Outline, Place, Relief } from '../engine/ground_answers.ts';
import { newId } from './ids.ts';
import * as kept from './kept.ts';
import { season } from './season.svelte.ts';
import { getJson, NotSignedIn, OutOfReach, request } from './server.ts';

export type DrawnPart = 'border' | 'zones';
export type GroundPart = DrawnPart | 'heights';
type Drawn = { border: GroundOfField['border']; zones: GroundOfField['zones'] };

/** A border or zones as somebody drew them. */
export interface Change<Part extends DrawnPart = DrawnPart> {
  id: string;
  field: string;
  part: Part;
  now: NonNullable<Drawn[Part]>;
  /** When what it was drawn over had been set; empty where there was nothing. */
  over: string;
  made: number;
  state: 'waiting' | 'refused';
  problems?: Problem[];
}

interface KeptGround {
  fields: GroundOfField[];
  tag: string;
}

const groundFact = 'ground';
const changesFact = 'ground changes';
/** The field whose ground somebody looked at last. */
export const lastFieldFact = 'ground field';
const reliefKey = (field: string) => `relief ${field}`;
/** Rises when a relief gets another shape. */
const reliefForm = 1;
const wholeFile_ms = 120_000;

class Ground {
  #fields = $state.raw<GroundOfField[]>([]);
  changes = $state.raw<Change[]>([]);
  /** Whether what the device has was looked for. */
  looked = $state(false);
  /** Rises when a relief has come. */
  reliefs = $state(0);
  #tag = '';
  #opened: Promise<void> | undefined;
  /** Of which heights and border the relief is here, or the server has none, by field. */
  readonly #settled = new Map<string, string>();

  /** All of which something is known, with what waits on top. */
  get fields(): GroundOfField[] {
    const names = new Set([...this.#fields, ...this.changes].map((one) => one.field));
    return [...names].map((name) => this.of(name));
  }
  /** As the server has it. */
  #known(field: string): GroundOfField | undefined {
    return this.#fields.find((one) => one.field === field);
  }
  of(field: string): GroundOfField {
    const known = this.#known(field) ?? { field };
    // What was refused is not on the map: somebody looks at it first.
    const waiting = this.changes.filter((one) => one.field === field && one.state === 'waiting');
    return waiting.reduce<GroundOfField>((ground, one) => ({ ...ground, [one.part]: one.now }), known);
  }

  /** Opens what the device has. */
  open(): Promise<void> {
    return (this.#opened ??= this.#open());
  }
  async #open(): Promise<void> {
    const before = await kept.fact<KeptGround>(groundFact);
    [this.#fields, this.#tag] = [before?.fields ?? [], before?.tag ?? ''];
    this.#setChanges((await kept.fact<Change[]>(changesFact)) ?? []);
    this.looked = true;
  }
  #setChanges(changes: Change[]): void {
    this.changes = changes;
    season.groundWaiting = changes.filter((one) => one.state === 'waiting').length;
    season.groundRefused = changes.length - season.groundWaiting;
  }
  async #keepChanges(changes: Change[]): Promise<void> {
    await kept.keepFact(changesFact, changes);
    this.#setChanges(changes);
  }

  /** Fetches what is new, sends what waits, and fetches what came of it; then the reliefs that a tablet needs in the field. */
  async sync(): Promise<void> {
    await this.open();
    await this.#fetch();
    if (await this.#send()) await this.#fetch();
    for (const one of this.#fields) if (one.zones && one.heights) await this.#fetchRelief(one);
  }

  async #fetch(): Promise<void> {
    const response = await request('/api/v1/ground', { tag: this.#tag });
    if (response.status === 304) return;
    const { fields } = (await response.json()) as { fields: GroundOfField[] };
    const now: KeptGround = { fields, tag: response.headers.get('ETag') ?? '' };
    await kept.keepFact(groundFact, now);
    [this.#fields, this.#tag] = [fields, now.tag];
  }

  async #send(): Promise<boolean> {
    let hasSent = false;
    for (const { id } of this.changes.filter((change) => change.state === 'waiting')) {
      const one = this.changes.find((change) => change.id === id);
      if (!one) continue; // taken back, or drawn anew, meanwhile
      const there = this.#known(one.field)?.[one.part];
      if ((there?.at ?? '') !== one.over && !isDone(there, one)) {
        await this.#mark(one, [setMeanwhile]);
        continue;
      }
      try {
        await request(pathOf(one.part, { field: one.field }), { method: 'PUT', body: bodyOf(one) });
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        await this.#mark(one, error.problems);
        continue;
      }
      await this.#fetch(); // first, so that no screen is without it
      // What was drawn while this one was on its way was drawn over it.
      const at = this.#known(one.field)?.[one.part]?.at ?? '';
      const later = (other: Change): Change => (other.field === one.field && other.part === one.part && other.state === 'waiting' ? { ...other, over: at } : other);
      await this.#keepChanges(this.changes.filter((other) => other.id !== one.id).map(later));
      hasSent = true;
    }
    return hasSent;
  }
  async #mark(one: Change, problems: Problem[]): Promise<void> {
    await this.#keepChanges(this.changes.map((other) => (other.id === one.id ? { ...one, state: 'refused', problems } : other)));
  }

  /** Keeps what was drawn; it is safe on this device once this settles. A later one takes the place of an earlier. */
  async draw<Part extends DrawnPart>(field: string, part: Part, now: NonNullable<Drawn[Part]>): Promise<void> {
    const others = this.changes.filter((one) => one.field !== field || one.part !== part);
    const before = this.changes.find((one) => one.field === field && one.part === part && one.state === 'waiting');
    const over = before?.over ?? this.#known(field)?.[part]?.at ?? '';
    await this.#keepChanges([...others, { id: newId(), field, part, now, over, made: Date.now(), state: 'waiting' }]);
    void season.sync();
  }
  /** Over whatever the server has by now. */
  async sendAgain(id: string): Promise<void> {
    const again = (one: Change): Change => ({ ...one, state: 'waiting', over: this.#known(one.field)?.[one.part]?.at ?? '' });
    await this.#keepChanges(this.changes.map((one) => (one.id === id ? again(one) : one)));
    void season.sync();
  }
  async takeBack(id: string): Promise<void> {
    await this.#keepChanges(this.changes.filter((one) => one.id !== id));
  }

  /** A file, as one part of what is known of a field; answers what the server notes of it. Needs the server. */
  async bring(part: GroundPart, field: string, file: File, said: Record<string, string>): Promise<string[]> {
    const answered = await request(pathOf(part, { field, file: file.name.slice(-60).trim(), ...said }), { method: 'PUT', picture: file, patience_ms: wholeFile_ms });
    const { notes } = (await answered.json()) as { notes?: string[] };
    await this.#keepChanges(this.changes.filter((one) => one.field !== field || one.part !== part));
    await season.sync();
    return notes ?? [];
  }
  async remove(part: GroundPart, field: string): Promise<void> {
    await request(pathOf(part, { field }), { method: 'DELETE' });
    await season.sync();
  }

  /** As this device has it, and else as the server has it; undefined where neither does. */
  async relief(field: string): Promise<Relief | undefined> {
    await this.open();
    const known = this.#known(field);
    if (!known?.heights) return undefined;
    await this.#fetchRelief(known).catch((error: unknown) => {
      if (!(error instanceof OutOfReach || error instanceof NotSignedIn)) throw error;
    });
    const answer = await kept.answer(reliefKey(field));
    return answer?.form === reliefForm ? (JSON.parse(answer.text) as Relief) : undefined;
  }
  async #fetchRelief({ field, heights, border }: GroundOfField): Promise<void> {
    const stamp = `${heights?.at ?? ''} ${border?.at ?? ''}`;
    if (this.#settled.get(field) === stamp) return;
    const before = await kept.answer(reliefKey(field));
    if (before?.stamp === stamp && before.form === reliefForm) {
      this.#settled.set(field, stamp);
      return;
    }
    try {
      const relief = await getJson<Relief>(`/api/v1/ground/relief?${new URLSearchParams({ field })}`);
      await kept.keepAnswer(reliefKey(field), { text: JSON.stringify(relief), revision: heights?.at ?? '', stamp, at: Date.now(), form: reliefForm });
      this.reliefs += 1;
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
    }
    this.#settled.set(field, stamp);
  }

  /** What the season's people know is gone from this device; what waits stays until it is sent. */
  async forget(): Promise<void> {
    await kept.forgetFact(groundFact);
    await kept.forgetFact(lastFieldFact);
    [this.#fields, this.#tag] = [[], ''];
    this.#settled.clear();
  }
}

const setMeanwhile: Problem = {
  kind: 'conflict',
  what: 'somebody else has set this since it was drawn here',
  fix: 'look at what is on the map now; then send yours again in its place, or take it back',
};

const pathOf = (part: GroundPart, said: Record<string, string>) => `/api/v1/ground/${part}?${new URLSearchParams(said)}`;

/** Whether it got through before, and only the answer was lost. */
function isDone(there: Drawn[DrawnPart], one: Change): boolean {
  if (!there) return false;
  if ('zones' in there) return 'zones' in one.now && there.at === one.now.at;
  return 'geometry' in one.now && isAlike(there.geometry, one.now.geometry);
}
/** The server writes places in its own digits and begins a ring where it likes. */
function isAlike(one: Outline, other: Outline): boolean {
  const near_deg = 1e-6; // a tenth of a metre
  const [these, those] = [one.coordinates.flat(2), other.coordinates.flat(2)];
  const isIn = (place: Place, among: Place[]) => among.some((there) => Math.abs(there[0] - place[0]) < near_deg && Math.abs(there[1] - place[1]) < near_deg);
  return these.every((place) => isIn(place, those)) && those.every((place) => isIn(place, these));
}

function bodyOf(one: Change): unknown {
  if (one.part === 'border') {
    const { geometry } = one.now as NonNullable<Drawn['border']>;
    return { type: 'FeatureCollection', features: [{ type: 'Feature', properties: { name: one.field }, geometry }] };
  }
  const { at, machine, zones } = one.now as NonNullable<Drawn['zones']>;
  const settings = (zone: KeptZone) => zone.controls.map(({ control, value }) => ({ control, value }));
  return { at, machine, zones: zones.map((zone) => ({ number: zone.number, lie: zone.lie, geometry: zone.geometry, controls: settings(zone) })) };
}

export const ground = new Ground();
