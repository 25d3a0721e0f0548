// Words of the ways to count other than beet by beet, and of samples that go to a laboratory.
import { plural } from './en.ts';

export const typedWords = {
  spotBeets: 'Beets at this spot',
  addSpot: 'Another spot',
  removeSpot: 'Remove this spot',
  more: (n: number) => `The classes of the crown add up to ${n}, more than the beets of the spot.`,
  moreTails: (n: number) => `The classes of the tail add up to ${n}, more than the beets of the spot.`,
  tip: { tip_whole: 'tail on', tip_0_2: 'broken, to 2 cm', tip_2_4: '2 to 4 cm', tip_4_6: '4 to 6 cm', tip_6_8: '6 to 8 cm', tip_over_8: 'over 8 cm' } as Record<string, string>,
  tipUs: { tip_whole: 'tail on', tip_0_2: 'broken, to 0.8 in', tip_2_4: '0.8 to 1.6 in', tip_4_6: '1.6 to 2.4 in', tip_6_8: '2.4 to 3.1 in', tip_over_8: 'over 3.1 in' } as Record<string, string>,
  faults: { rot: 'with rot', frost: 'hurt by frost' } as Record<string, string>,
};

export const stripWords = {
  length: 'Length by the tape',
  rows: 'Rows',
  spacing: 'From row to row',
  area: 'Area',
  buckets: 'Weigh each find in a bucket; clean, without soil.',
  bucket: 'The bucket alone',
  whole_roots: 'Whole roots with bucket',
  pieces: 'Pieces with bucket',
  tails: 'Tails with bucket',
  nothingFound: 'leave empty where nothing was found',
  found: (amount: string) => `${amount} found`,
  lighter: 'The bucket weighs more than that.',
  caution: 'Walk the strip behind a stopped or distant machine, never between it and the cart.',
};

export const standingWords = {
  caution: 'Tell somebody which field you walk into. Keep well away from a machine that works.',
  parts: { title: 'What you look at', dug: 'Dug sample', leaf: 'Leaf', crowns: 'Crown heights' },
  spots: 'Spots dug',
  spotsNote: 'four or more, spread over the field',
  area: 'Area dug in all',
  areaNote: 'length of row times the way from row to row',
  roots: 'Clean beet from it',
  rootsNote: 'without leaf and soil',
  perArea: 'That is',
  tooMuch: 'No field grows that much: look at the area and the weight.',
  lacksArea: 'The roots need the area that they were dug from.',
  sick: 'Diseased leaf area',
  sickNote: 'Of all green leaf area that the field would have.',
  frozen: 'Leaf killed by frost',
  yesNo: { no: 'no', yes: 'yes' },
  again: 'A second tap takes it back.',
  heights: (unit: string) => `Height over the ground, ${unit}`,
  crownsNote: {
    metric: 'Twenty beets of one row, one after another: from the ground to the lowest leaf base, in whole centimetres.',
    us: 'Twenty beets of one row, one after another: from the ground to the lowest leaf base, in half inches.',
  },
  lower: 'Lower ones',
  higher: 'Higher ones',
  count: (n: number, wanted: number) => `${n} of ${wanted} crowns`,
  fewer: (n: number) => `${plural(n, 'more crown')} and it tells something.`,
  mean: 'Height',
  spread: 'Spread',
  evenness: { even: 'even', fair: 'fair', uneven: 'uneven' },
  means: {
    even: 'One setting of the topper fits this stand.',
    fair: 'One setting of the topper nearly fits this stand.',
    uneven: 'No one setting of the topper fits this stand.',
  },
  soFar: (parts: string) => `So far: ${parts}.`,
  nothingYet: 'Nothing is said yet; one of the three is enough.',
  underWay: (field: string) => `This look at ${field} is still under way. Record it or throw it away before another begins.`,
  discardSure: 'Throw this look away? It cannot be brought back.',
};

export const labWords = {
  pol: 'Sugar',
  potassium: 'Potassium',
  sodium: 'Sodium',
  amino_nitrogen: 'Amino nitrogen',
  optional: 'if known',
};
