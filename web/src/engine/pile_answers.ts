// What the server says of piles (docs/formats/api.md). Metric, money of the season.
import type { Interval } from './answers.ts';

export interface BandDay {
  day: string;
  mean_C: Interval;
  warmest_C: Interval;
  coldest_C: Interval;
  sugar_lost_percent: Interval;
  killed_percent: Interval;
  rotting_percent: Interval;
}

export interface PilePart {
  from_m: number;
  to_m: number;
  piled: string;
  mass_t: number;
  fields: string[];
  sliced: string;
  /** Null: it is there. */
  removed: string | null;
  /** Null: it is gone. */
  days_left: Interval | null;
  chance_due: number;
  due_for: 'nothing' | 'rot' | 'thaw';
  carbon_dioxide_percent: number;
  warmest: {
    along_m: number;
    across_m: number;
    height_m: number;
    day: string;
    celsius: Interval;
    chance: number;
    days_until: Interval | null;
  };
  /** Of a pile that is asked for by itself. */
  days?: BandDay[];
}

export interface PileHead {
  pile: string;
  at: string;
  today: string;
  until: string;
  currency: string;
  members: number;
  mass_t: number;
  shape: { base_width_m: number; top_width_m: number; height_m: number; length_m: number };
  parts: PilePart[];
  due_first: number | null;
  sugar_lost_t: Interval;
  sugar_lost_percent: Interval;
  money_lost: Interval;
  warnings: { part: number | null; words: string }[];
  assumptions: string[];
  cautions: string[];
}

export interface PilesAnswer {
  piles: { pile: string; answer: PileHead | null; problems: string[] }[];
}

export interface Deed {
  name: string;
  words: string;
  cover_on: string | null;
  cover_off: string | null;
  gain: Interval;
  cost: number;
  sugar_kept_t: Interval;
  sugar_lost_percent: Interval;
  warmest_C: Interval;
  energy_kWh: number;
  chance_better: number;
}

/** A section through time. Cells go from left to right, row by row from the ground up. */
export interface Picture {
  part: number;
  across: number;
  up: number;
  cell_across_m: number;
  cell_up_m: number;
  has_beet: number[];
  frames: Frame[];
}
export interface Frame {
  day: string;
  celsius: number[];
  low_C: number[];
  high_C: number[];
  sugar_left: number[];
  killed: number[];
  air_across_m_s: number[];
  air_up_m_s: number[];
}

/** In which order the parts of all piles are best sliced. */
export interface OrderAnswer {
  today: string;
  a_day_t: number;
  parts: {
    pile: string;
    from_m: number;
    to_m: number;
    mass_t: number;
    first_day: string;
    last_day: string;
    /** What keeps it from coming later: what it would lose, the pile it lies in, its days, or nothing. */
    held_by: 'worth' | 'pile' | 'days' | 'end';
    lost_if_later: Interval | null;
  }[];
  is_best: boolean;
  first_piled_first: { less_than_found: Interval } | null;
  warmest_first: { less_than_found: Interval } | null;
  left_out: string[];
  assumptions: string[];
}

/** What a probe told, and whether it is believed. */
export interface ProbeAnswer {
  probe: string;
  along_m: number;
  across_m: number;
  height_m: number;
  part: number | null;
  readings: number;
  celsius: number;
  before_C: Interval | null;
  after_C: Interval | null;
  trusted: boolean;
  why: string;
}
/** Where one more reading would teach most. */
export interface NextProbe {
  along_m: number;
  across_m: number;
  height_m: number;
  part: number;
  low_C: number;
  high_C: number;
  /** Half the width of the range of sugar lost. */
  sugar_before_t: number;
  sugar_after_t: number;
}

export interface PileAnswer extends PileHead {
  probes: ProbeAnswer[];
  learned: { words: string } | null;
  next_probes: NextProbe[];
  days: BandDay[];
  deeds: Deed[];
  best_days: (Deed & { earliest: string; latest: string; by_day: { day: string; gain: Interval }[] }) | null;
  picture: Picture | null;
}
