// What was looked at in a field, and where: sheets of beets spot by spot, and all else that has a place.
import { brokenWide } from '../../parts/classes.ts';

/** A row of a season's table, or of one that waits. */
type Any = Record<string, string | undefined>;

export interface CheckSeen {
  /** What it is a place of. */
  of: string;
  /** 0: not a spot of a sheet. */
  spot: number;
  at: string;
  longitude: number;
  latitude: number;
  /** m; NaN: not said. */
  accuracy: number;
  /** None where something else than beets was looked at. */
  beets: number;
  tailsJudged: number;
  tailsBroken: number;
  crownsJudged: number;
  tooDeep: number;
}

const widest = 2; // cm: a tail that is broken wider has lost sugar
const isBroken = (tip: string): boolean => brokenWide.includes(tip) || Number(tip) > widest;

interface Beets {
  at: string;
  spots: Map<number, Pick<CheckSeen, 'beets' | 'tailsJudged' | 'tailsBroken' | 'crownsJudged' | 'tooDeep'>>;
}

function beetsBySheet(rows: Any[]): Map<string, Beets> {
  const sheets = new Map<string, Beets>();
  for (const row of rows) {
    const sheet = sheets.get(row.sheet ?? '') ?? { at: row.at ?? '', spots: new Map() };
    sheets.set(row.sheet ?? '', sheet);
    const number = Number(row.spot ?? 0);
    const spot = sheet.spots.get(number) ?? { beets: 0, tailsJudged: 0, tailsBroken: 0, crownsJudged: 0, tooDeep: 0 };
    sheet.spots.set(number, spot);
    spot.beets += 1;
    if (row.tip_break) spot.tailsJudged += 1;
    if (row.tip_break && isBroken(row.tip_break)) spot.tailsBroken += 1;
    if (row.topping) spot.crownsJudged += 1;
    if (row.topping === 'too deep') spot.tooDeep += 1;
  }
  return sheets;
}

const nothing = { beets: 0, tailsJudged: 0, tailsBroken: 0, crownsJudged: 0, tooDeep: 0 };

/** Newest first; without what was corrected later, places and counts alike. */
export function checksOf(field: string, places: Any[], beets: Any[]): CheckSeen[] {
  const corrected = new Set([...places, ...beets].map((row) => row.supersedes).filter(Boolean));
  const sheets = beetsBySheet(beets.filter((row) => row.field === field));
  return places
    .filter((row) => row.field === field && !corrected.has(row.id) && !corrected.has(row.of))
    .map((row) => {
      const sheet = sheets.get(row.of ?? '');
      const spot = Number(row.spot || 0);
      return {
        of: row.of ?? '',
        spot,
        at: sheet?.at ?? row.at ?? '',
        longitude: Number(row.longitude),
        latitude: Number(row.latitude),
        accuracy: row.accuracy ? Number(row.accuracy) : Number.NaN,
        ...(sheet?.spots.get(spot) ?? nothing),
      };
    })
    .sort((a, b) => b.at.localeCompare(a.at) || a.spot - b.spot);
}

/** Together, as of one place. */
export function together(checks: CheckSeen[]): typeof nothing {
  const sum = { ...nothing };
  for (const check of checks) for (const name of Object.keys(sum) as (keyof typeof sum)[]) sum[name] += check[name];
  return sum;
}
