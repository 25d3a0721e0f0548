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
