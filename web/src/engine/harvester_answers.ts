// What the engine says of a harvester (docs/formats/api.md). Metric, money per hectare.
import type { Interval } from './answers.ts';

/** A control's value: SI, in its own unit, and on the machine's display where one is bound. */
export interface Reading {
  control: string;
  words: string;
  value: number;
  text: string;
  /** Empty: a choice, which `text` names. */
  unit: string;
  amount: number | null;
  display: number | null;
}

export interface FigureNow {
  words: string;
  value: number;
  low?: number;
  high?: number;
  unit: string;
}
export type Figures = Record<string, FigureNow>;

export interface OnTheWay {
  lifted: string;
  sliced: string;
  costs: { fault: string; words: string; cost_per_ha: Interval }[];
}

interface About {
  field: string;
  machine: string;
  at: string;
  seen: string[];
  assumptions: string[];
  cautions: string[];
  checks_elsewhere: number;
}

export interface Conditions {
  soil_in_hand: string;
  crown_height_cm: number;
  crown_sd_cm: number;
  evenness: string;
  root_mass_kg: number;
  leaf_sick_percent: number;
  leaf_frozen: boolean;
}

export interface SetupLine extends Reading {
  usual: number;
  usual_text: string;
  cost_of_usual_per_ha: Interval;
  reasons: string[];
}

export interface SetupAnswer extends About {
  soil: string;
  conditions: Conditions;
  settings: SetupLine[];
  figures: Figures;
  gain_per_ha: Interval;
  on_the_way: OnTheWay;
}

export interface Tried {
  changes: { from: Reading[]; to: Reading[]; confirm: string }[];
  /** What to look at afterwards, each look once. */
  confirm: string[];
  gain_per_ha: Interval;
  chance_better: number;
  figures: Figures;
}

export interface Wear {
  stage: string;
  what: string;
  since: string;
  chance: number;
}

export interface AdviceAnswer extends About {
  soil: string;
  verdict: 'change' | 'look' | 'leave';
  checks_here: number;
  beets_here: number;
  settings: Reading[];
  set_at: string | null;
  now: Figures;
  change: Tried | null;
  others: Tried[];
  looks: { words: string; worth_per_ha: number }[];
  on_the_way: OnTheWay;
  wear: Wear[];
}

export interface StageControl extends Reading {
  least: number;
  most: number;
  usual: number;
  least_text: string;
  most_text: string;
  usual_text: string;
  hands_off: boolean;
  is_reckoned: boolean;
}

export interface MachineAnswer extends About {
  soil: string;
  set_at: string | null;
  stages: { stage: string; figures: Figures; controls: StageControl[] }[];
  wear: Wear[];
  checks_here: number;
}

export interface ResponseAnswer {
  now: Reading;
  is_choice: boolean;
  together: string[];
  points: (Reading & { gain_per_ha: Interval; figures: Figures })[];
  checks_here: number;
  checks_elsewhere: number;
}
