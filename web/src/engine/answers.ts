// The shapes of the engine's answers. docs/formats/ledger_json.md, docs/formats/api.md.

export interface Interval {
  value: number | null;
  low: number | null;
  high: number | null;
}

export interface Line {
  line: string;
  words: string;
  beet_t_per_ha: Interval;
  sugar_kg_per_ha: Interval;
  money_per_ha: Interval;
  cost_at_slicing_money_per_ha?: Interval;
  rests_on?: 'measured' | 'learned' | 'published';
  evidence?: string;
  most_of_uncertainty?: { from: string; share: number };
}

export interface Account {
  name: string;
  area_ha: number;
  fields: number;
  days_stored: number;
  lifted?: string | null;
  sliced?: string;
  lines: Line[];
  together?: { left_behind_sugar_kg_per_ha: Interval; in_storage_sugar_kg_per_ha: Interval };
  not_proven?: string[];
}

export interface LedgerAnswer {
  currency: string;
  season: Account;
  fields: Account[];
  assumptions: string[];
  by_machine?: Account[];
  by_operator?: Account[];
  by_day?: Account[];
  by_destination?: Account[];
  by_grower?: Account[];
}

export interface CheckAnswer {
  field: string;
  shares: { of: string; share: Interval; beets: number; change: string[] }[];
}

export interface EnoughAnswer {
  share: Interval;
  beets: number;
  hits: number;
  sure: 'fine' | 'too_much' | 'not_yet';
  meter: number;
  more_beets_if_5_percent: number;
  more_beets_if_10_percent: number;
  words: string;
}

export interface CrownsAnswer {
  beets: number;
  mean_cm: Interval;
  spread_cm: Interval;
  even: number;
  fair: number;
  uneven: number;
  likeliest: 'even' | 'fair' | 'uneven';
  words: string;
}

export interface SettledLoad {
  ticket: string;
  field: string;
  clean_t: number;
  lines: { words: string; cents: number }[];
  total_cents: number;
}

export interface SettlementAnswer {
  currency: string;
  loads: SettledLoad[];
  clean_t: number;
  beyond_contract_t: number;
  total_cents: number;
  assumptions: string[];
}

export interface Constant {
  id: string;
  value: number;
  low: number;
  high: number;
  unit: string;
  spread: string;
  how_known: string;
  own_number: boolean;
  words: string;
  source: string;
}

export const lineOf = (account: Account, line: string): Line | undefined => account.lines.find((one) => one.line === line);

export interface WeatherDay {
  day: string;
  hours: number;
  filled: number;
  least_c: number;
  mean_c: number;
  most_c: number;
  rain_mm: number | null;
  most_rain_mm: number | null;
}

export interface WeatherPart {
  part: 'observed' | 'forecast' | 'usual';
  name: string;
  latitude: number;
  longitude: number;
  elevation_m: number;
  clock_minutes: number;
  begin: string;
  end: string;
  runs: number;
  hours: number;
  filled: number;
  measured: string[];
  days: WeatherDay[];
  /** What was supposed in reading; of a file that was just read. */
  notes?: string[];
}

export type Reason = 'frost' | 'wet' | 'heat' | 'dark';

export interface SkyDay {
  day: string;
  hours: number;
  open_h: Interval;
  useful_chance: number;
  held_h: Record<Reason, number>;
  stretch_begin: string | null;
  stretch_end: string | null;
  rain_mm: Interval | null;
  least_c: Interval;
  most_c: Interval;
  /** Of beets as they come to a pile, in the warmest hour. */  intake_most_c: Interval;
  /** At the day's end, of a field. */
  ground: { moisture_percent: Interval; consistency_chance: Record<string, number>; bearing_chance: [number, number, number] } | null;
}
export interface SkyAnswer {
  field: string;
  at: string;
  clock_minutes: number;
  known_until: string;
  forecast_until: string;
  useful_day_h: number;
  days: SkyDay[];
  assumptions: string[];
}

export interface CropOnDay {
  day: string;
  roots_t_per_ha: Interval;
  pol_percent: Interval;
  molasses_percent: Interval;
}

export type Bearing = 'fine' | 'careful' | 'wait';

export interface DepthBearing {
  depth_cm: number;
  stress_kpa: number;
  strength_kpa: number;
  bearing: Bearing;
  /** Of fine, careful, wait. */
  chance: [number, number, number];
}

export interface StandingAnswer {
  field: string;
  currency: string;
  soil: string;
  at: string;
  rests_on: 'measured' | 'learned' | 'published';
  evidence: string;
  now: CropOnDay;
  later: CropOnDay;
  ground: {
    day: string;
    soil_class: string;
    moisture_percent: number;
    consistency: string;
    machine: string;
    wheel_load_t: number;
    tyre_pressure_kpa: number;
    bearing: Bearing;
    bearing_chance: [number, number, number];
    ploughed: DepthBearing;
    below: DepthBearing;
    cautions: string[];
  } | null;
  leaf: { day: string; sick_percent: number | null; frozen: boolean } | null;
  crowns: { day: string; beets: number; mean_cm: Interval; sd_cm: Interval; even: number; fair: number; uneven: number; words: string } | null;
  wait: {
    days: number;
    sugar_now_kg_per_ha: Interval;
    if_all_goes_well_sugar_kg_per_ha: Interval;
    sugar_kg_per_ha: Interval;
    money_per_ha: Interval;
    chance_of_loss: number;
    chance_of_less_money: number | null;
    mishaps_cost_sugar_kg_per_ha: number;
  };
  mishaps: { leaf_freezes: number; roots_freeze: number; too_wet_after: number } | null;
  assumptions: string[];
}
