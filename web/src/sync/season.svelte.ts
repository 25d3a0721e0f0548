// The season as this device knows it: kept from the last sync, with what waits to be sent on top.
import type { WeatherPart } from '../engine/answers.ts';
import { addWaiting, openSeason, putWeather } from '../engine/client.ts';
import { Refused, type Files } from '../engine/engine.ts';
import * as kept from './kept.ts';
import { fromAnswer, fromKept, nobody, type Received } from './received.ts';
import { getJson, NotSignedIn, OutOfReach, request, sendJson, type Sent } from './server.ts';
import { fromText, stampOf, toText, withAdditions, type NamedTable, type Row, type TableName } from './tables.ts';

type Seen = Omit<kept.Waiting, 'state' | 'made' | 'by'>;
/** ISO 4217: no currency. A season that was begun empty has it until somebody says its own. */
const noCurrencyYet = 'XXX';
const nilId = '00000000-0000-0000-0000-000000000000';

/** Of no use to whoever counts beets, so it comes after the app; undefined as long as this device has not got it. */
const groundPart = () => import('./ground.svelte.ts').then(
  (part) => part.ground,
  () => undefined,
);

type Reach = 'asking' | 'in reach' | 'out of reach' | 'sign in';

class Season {
  files = $state.raw<Files>({});
  outbox = $state.raw<kept.Waiting[]>([]);
  photos = $state.raw<kept.WaitingPhoto[]>([]);
  person = $state.raw<kept.Person | undefined>(undefined);
  reach = $state<Reach>('asking');
  /** When the server was last heard of. */
  synced = $state<number | undefined>(undefined);
  /** Rises whenever the engine's season has changed: whoever shows its answers asks again. */
  epoch = $state(0);
  isOpen = $state(false);
  trouble = $state<string | undefined>(undefined);
  /** Borders and zones drawn here: how many wait to be sent, and how many the server did not take. */
  groundWaiting = $state(0);
  groundRefused = $state(0);
  #received = $state.raw<Received>(nobody);
  #tag = $state('');
  #weatherTag = $state('');
  #syncing: Promise<void> | undefined;
  #askedMeanwhile = false;

  rows<T extends TableName>(table: T): Row<T>[] {
    return fromText(table, this.files[table]);
  }
  /** The rows of a table with those that wait. */
  allRows<T extends TableName>(table: T): Row<T>[] {
    const waiting = this.reckoned.filter((one) => one.table === table).flatMap((one) => one.rows as Row<T>[]);
    return [...this.rows(table), ...waiting];
  }
  /** Of these the currency is empty as long as nobody has said it. */
  get facts(): { name: string; currency: string; units: 'metric' | 'us'; first_day: string } {
    const facts = JSON.parse(this.files['season.json'] ?? '{"name":"","currency":"","units":"metric","first_day":""}');
    return facts.currency === noCurrencyYet ? { ...facts, currency: '' } : facts;
  }
  /** Names what the server has of season and weather, as far as this device knows; what waits to be sent is not in it. */
  get revision(): string {
    return `${this.#tag} ${this.#weatherTag}`;
  }
  /** Changes with the weather and with these tables, as the server has them. */
  stampOf(tables: readonly TableName[]): string {
    return `${stampOf(tables.map((table) => this.files[table] ?? ''))} ${this.#weatherTag}`;
  }
  /** Whether people sign in; without accounts everybody at the machine may do everything. */
  get hasAccounts(): boolean {
    return this.person !== undefined && this.person.id !== nilId;
  }
  get waiting(): kept.Waiting[] {
    return this.outbox.filter((one) => one.state === 'waiting');
  }
  /** What the engine is given besides the season. */
  get reckoned(): kept.Waiting[] {
    return this.outbox.filter((one) => one.state !== 'refused');
  }
  get refused(): kept.Waiting[] {
    return this.outbox.filter((one) => one.state === 'refused');
  }
  /** Who sent an observation over the network; empty where that is not known. */
  receivedFrom(id: string): string {
    return this.#received.all[id]?.by ?? this.outbox.find((one) => one.id === id)?.by ?? '';
  }
  get received(): Received['all'] {
    return this.#received.all;
  }
  may(role: kept.Person['role']): boolean {
    const order = ['viewer', 'operator', 'manager', 'owner'];
    return this.person !== undefined && order.indexOf(this.person.role) >= order.indexOf(role);
  }

  /** Opens what the device has, then asks the server. */
  async start(): Promise<void> {
    this.person = await kept.fact<kept.Person>('person');
    this.outbox = await kept.outbox();
    this.photos = await kept.photos();
    const season = await kept.fact<kept.KeptSeason>('season');
    this.#received = fromKept(await kept.fact('received'));
    const weather = await kept.fact<kept.KeptWeather>('weather');
    try {
      if (weather) await this.#takeWeather(weather);
    } catch (error) {
      this.trouble = (error as Error).message; // it comes anew; the season opens without it
    }
    try {
      if (season) await this.#open(season);
    } catch (error) {
      // Kept by another version of the app, perhaps: it is fetched anew; what waits is untouched.
      this.trouble = (error as Error).message;
      this.#tag = '';
    }
    await this.sync();
  }

  /** `held` is what was sent and stands in this season: it goes as the season comes, so that no screen is without it. */
  async #open(season: kept.KeptSeason, held: string[] = []): Promise<void> {
    await openSeason(season.files);
    this.files = season.files;
    this.outbox = this.outbox.filter((one) => !held.includes(one.id));
    this.#tag = season.tag;
    this.synced = season.at;
    this.isOpen = true;
    await this.#putWaiting();
  }

  /** Gives the engine what waits. What it refuses is marked, as the server would. */
  async #putWaiting(): Promise<void> {
    const byTable = (list: kept.Waiting[]): Files => {
      const files: Files = {};
      for (const table of new Set(list.map((one) => one.table))) {
        files[table] = toText(table, list.filter((one) => one.table === table).flatMap((one) => one.rows));
      }
      return files;
    };
    try {
      await addWaiting(byTable(this.reckoned));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      const good: kept.Waiting[] = [];
      for (const one of this.reckoned) {
        try {
          await addWaiting(byTable([one]));
          good.push(one);
        } catch (own) {
          if (own instanceof Refused) await this.#mark(one, own);
        }
      }
      await addWaiting(byTable(good));
    }
    this.epoch += 1;
  }

  async #mark(one: kept.Waiting, refused: Refused): Promise<void> {
    await this.#become(one, { ...one, state: 'refused', problems: refused.problems });
  }

  async #become(one: kept.Waiting, other: kept.Waiting): Promise<void> {
    await kept.keepWaiting(other);
    this.outbox = this.outbox.map((each) => (each.id === one.id ? other : each));
  }

  /** Keeps what somebody saw; it is safe on this device once this settles. */
  record(one: Seen): Promise<void> {
    return this.recordAll([one]);
  }
  async recordAll(all: Seen[]): Promise<void> {
    for (const one of all) {
      const waiting: kept.Waiting = { ...one, state: 'waiting', made: Date.now(), by: this.person?.name ?? '' };
      await kept.keepWaiting(waiting);
      this.outbox = [...this.outbox.filter((other) => other.id !== one.id), waiting];
    }
    await this.#putWaiting();
    void this.sync();
  }

  /** Takes back what was not sent yet. */
  async forget(id: string): Promise<void> {
    await kept.forgetWaiting(id);
    this.outbox = this.outbox.filter((one) => one.id !== id);
    await this.#putWaiting();
  }

  async tryAgain(id: string): Promise<void> {
    const one = this.outbox.find((other) => other.id === id);
    if (one) await this.record({ id: one.id, field: one.field, table: one.table, rows: one.rows });
  }

  /**
   * Sends what waits and fetches what is new. Asked while one is under way, another follows it: the first
   * may be past what the caller has just recorded or changed. Settles when all is done.
   */
  sync(): Promise<void> {
    this.#askedMeanwhile = true;
    this.#syncing ??= this.#syncUntilNobodyAsks();
    return this.#syncing;
  }

  async #syncUntilNobodyAsks(): Promise<void> {
    try {
      do {
        this.#askedMeanwhile = false;
        await this.#syncOnce();
      } while (this.#askedMeanwhile);
    } finally {
      this.#syncing = undefined; // with no wait since the last look, so that nobody asks in between unheard
    }
  }

  async #syncOnce(): Promise<void> {
    try {
      await this.#meet();
      await this.#send();
      await this.#fetch();
      await this.#fetchWeather();
      await (await groundPart())?.sync();
      await this.#sendPhotos();
      this.reach = 'in reach';
      this.trouble = undefined;
    } catch (error) {
      if (error instanceof NotSignedIn) this.reach = 'sign in';
      else if (error instanceof OutOfReach) this.reach = 'out of reach';
      else {
        this.reach = 'out of reach';
        this.trouble = String(error);
      }
    }
  }

  async #meet(): Promise<void> {
    const me = await getJson<kept.Person>('/api/v1/me');
    if (me.id !== this.person?.id || me.name !== this.person?.name || me.role !== this.person?.role) {
      this.person = { id: me.id, name: me.name, role: me.role };
      await kept.keepFact('person', this.person);
    }
  }

  /**
   * One by one, so that one that is refused holds up no other. One is forgotten only after the server has
   * said that it has it; cut off in between, it is sent again, and the server knows it.
   */
  async #send(): Promise<void> {
    for (const one of this.waiting) {
      try {
        await sendJson('POST', '/api/v1/observations', { [one.table]: toText(one.table, one.rows) });
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        await this.#mark(one, error);
        continue;
      }
      // It is reckoned with until the season that comes next holds it.
      await this.#become(one, { ...one, state: 'sent' });
    }
  }

  /** Photographs come after all figures: they are large and can wait. */
  async #sendPhotos(): Promise<void> {
    // Of a count that is still under way and may be thrown away, none goes out.
    const isRecorded = (id: string) => this.outbox.some((one) => one.id === id) || Object.values(this.files).some((text) => text.includes(id));
    for (const one of this.photos.filter((photo) => photo.state === 'waiting' && isRecorded(photo.observation))) {
      const about = new URLSearchParams({ id: one.id, observation: one.observation, field: one.field });
      if (one.keepsMetadata) about.set('keep_metadata', '1');
      try {
        await request(`/api/v1/photos?${about}`, { method: 'POST', picture: one.picture });
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        const refused: kept.WaitingPhoto = { ...one, state: 'refused', problems: error.problems };
        await kept.keepPhoto(refused);
        this.photos = this.photos.map((other) => (other.id === one.id ? refused : other));
        continue;
      }
      await kept.forgetPhoto(one.id);
      this.photos = this.photos.filter((other) => other.id !== one.id);
    }
  }

  /** Keeps a photograph with what was recorded; it is safe on this device once this settles. */
  async recordPhoto(one: Omit<kept.WaitingPhoto, 'made' | 'state'>): Promise<void> {
    const photo: kept.WaitingPhoto = { ...one, made: Date.now(), state: 'waiting' };
    await kept.keepPhoto(photo);
    this.photos = [...this.photos, photo];
    void this.sync();
  }

  async forgetPhoto(id: string): Promise<void> {
    await kept.forgetPhoto(id);
    this.photos = this.photos.filter((one) => one.id !== id);
  }

  async #fetch(): Promise<void> {
    const response = await request('/api/v1/season', { tag: this.#tag });
    const isNew = response.status !== 304;
    const fetched = isNew ? ((await response.json()) as Files) : {};
    const isAddition = response.headers.has('X-Beetwright-Additions');
    const season: kept.KeptSeason = {
      files: isNew && !isAddition ? fetched : withAdditions(this.files, fetched),
      tag: response.headers.get('ETag') ?? this.#tag,
      at: Date.now(),
    };
    // First, so that a season whose observations nobody is known to have sent is never kept for good.
    if (isNew || !this.#received.tag) await this.#fetchReceived();
    const held = this.outbox.filter((one) => one.state === 'sent').map((one) => one.id);
    if (isNew || held.length) {
      await kept.keepSeason(season, held);
      await this.#open(season, held);
    }
    this.synced = season.at;
  }

  /** The weather is large and changes for itself: it comes apart from the season. */
  async #fetchWeather(): Promise<void> {
    const response = await request('/api/v1/weather', { tag: this.#weatherTag });
    if (response.status === 304) return;
    const weather: kept.KeptWeather = { files: (await response.json()) as Files, tag: response.headers.get('ETag') ?? '' };
    await kept.keepFact('weather', weather);
    await this.#takeWeather(weather);
    this.epoch += 1;
  }

  async #takeWeather(weather: kept.KeptWeather): Promise<void> {
    await putWeather(weather.files);
    this.#weatherTag = weather.tag;
  }

  async #fetchReceived(): Promise<void> {
    const response = await request('/api/v1/received', { tag: this.#received.tag });
    if (response.status === 304) return;
    const came = (await response.json()) as Received['all'];
    const isAddition = response.headers.has('X-Beetwright-Additions');
    this.#received = fromAnswer(this.#received, came, isAddition, response.headers.get('ETag') ?? '');
    await kept.keepFact('received', this.#received);
  }

  async signIn(name: string, password: string): Promise<void> {
    await sendJson('POST', '/api/v1/session', { name, password });
    await this.sync();
  }

  /** Leaves nothing of the season on the device; what waits stays until it is sent. */
  async signOut(where: 'here' | 'everywhere' = 'here'): Promise<void> {
    await sendJson('DELETE', where === 'here' ? '/api/v1/session' : '/api/v1/me/sessions');
    await kept.forgetFact('season');
    await kept.forgetFact('received');
    await kept.forgetFact('weather');
    await kept.forgetFact('ground');
    await (await groundPart())?.forget();
    await kept.forgetAnswers();
    await putWeather({});
    this.#weatherTag = '';
    await kept.forgetFact('person');
    this.files = {};
    this.#received = nobody;
    this.person = undefined;
    this.isOpen = false;
    this.#tag = '';
    this.reach = 'sign in';
  }

  // What follows changes the season's own files, and needs the server.

  /** Of tables whose rows have names, the rows given; of the rest the whole file. */
  async setFile(name: string, text: string): Promise<void> {
    await this.#change(`/api/v1/season/${name}`, { method: 'PUT', text });
  }
  /** Refused where something that was seen has the name. */
  async renameRow(table: NamedTable, name: string, to: string): Promise<void> {
    await this.#change(`/api/v1/season/${table}/${encodeURIComponent(name)}`, { method: 'PUT', text: to });
  }
  /** Likewise. */
  async removeRow(table: NamedTable, name: string): Promise<void> {
    await this.#change(`/api/v1/season/${table}/${encodeURIComponent(name)}`, { method: 'DELETE' });
  }
  /** A file of weather, as one part of what the season knows of it. What stands in `said` is said beside it. */
  async bringWeather(part: WeatherPart['part'], text: string, said: Record<string, string>): Promise<void> {
    await this.#change(`/api/v1/weather/${part}?${new URLSearchParams(said)}`, { method: 'PUT', text });
  }
  async removeWeather(part: WeatherPart['part']): Promise<void> {
    await this.#change(`/api/v1/weather/${part}`, { method: 'DELETE' });
  }
  async #change(path: string, sent: Sent): Promise<void> {
    await request(path, sent);
    await this.sync();
  }
}

export const season = new Season();
