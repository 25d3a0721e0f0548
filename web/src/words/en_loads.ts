// Words of loads, samples and the settlement, and of bringing them from a file.
import { plural } from './en.ts';

export const loadWords = {
  title: 'Loads',
  settlement: 'Settlement',
  noTerms: 'What is paid shows here once the payment terms are known.',
  everyGrower: 'All growers',
  grower: 'Grower',
  total: 'Together',
  add: { 'loads.csv': 'A load', 'tares.csv': 'A tare sample', 'labs.csv': 'A laboratory result' } as Record<string, string>,
  record: 'Record it',
  ticket: 'Ticket',
  destination: 'Where it went',
  gross: 'Beet as weighed, without the vehicle',
  sampleGross: 'The sample as taken',
  soil: 'Soil on it',
  tops: 'Leaf and crown cut off it',
  at: 'When',
  statement: 'Statement to print',
  cleanBeet: (amount: string) => `${amount} of clean beet`,
  cautionRoad: 'Mud on the road is the sender’s to clear; mind the load limits and power lines where trailers tip.',
};

export const fileWords = {
  open: 'From a file',
  another: 'Another file',
  lead: (name: string) => `${name}: say what stands under which heading. The first row is shown beside it.`,
  kinds: 'A table as a weighbridge, a laboratory or a spreadsheet saves it: CSV, with commas, semicolons or tabs.',
  noHeading: 'There is no heading line in this file, or it is not a table saved as CSV.',
  large: (megabytes: number) => `This file is larger than ${megabytes} MB. Part it.`,
  notInIt: 'not in this file',
  unit: (column: string) => `Unit of ${column}`,
  order: 'How days are written',
  orders: { '': '2031-10-04', 'dd.mm.yyyy': '04.10.2031', 'dd/mm/yyyy': '04/10/2031, day first', 'mm/dd/yyyy': '10/04/2031, month first' } as Record<string, string>,
  clock: 'The clock that was used is ahead of UTC by',
  columns: {
    field: 'Field', at: 'When', destination: 'Where it went', ticket: 'Ticket', gross: 'Beet as weighed', soil: 'Soil', tops: 'Leaf and crown cut off', pol: 'Sugar',
    potassium: 'Potassium', sodium: 'Sodium', amino_nitrogen: 'Amino nitrogen', id: 'Id (UUID)', supersedes: 'Corrects the row with the id',
  } as Record<string, string>,
  /** Other words under which people keep these, small letters. */
  otherWords: {
    field: ['parcel', 'plot', 'field name'],
    at: ['date', 'day', 'time', 'date time', 'weighed', 'weighed at', 'taken', 'sampled'],
    destination: ['to', 'place', 'receiving station'],
    ticket: ['ticket no', 'ticket number', 'docket', 'docket no', 'number', 'no', 'nr'],
    gross: ['weight', 'mass', 'gross weight', 'gross mass', 'net', 'net weight', 'beet', 'beets', 'sample', 'sample mass'],
    soil: ['dirt', 'soil tare', 'dirt tare', 'earth'],
    tops: ['top tare', 'crown', 'leaf', 'leaves and crown'],
    pol: ['sugar', 'sugar content', 'polarisation', 'polarization', 'sucrose'],
    potassium: ['k'],
    sodium: ['na'],
    amino_nitrogen: ['amino n', 'alpha amino n', 'n'],
  } as Record<string, string[]>,
  found: (fresh: number, known: number) =>
    `${plural(fresh, 'row')} to record${known ? `; ${plural(known, 'row')} of this file ${known === 1 ? 'is' : 'are'} in the season already` : ''}.`,
  problems: (n: number) => `Nothing can be recorded yet: ${plural(n, 'thing')} to mend in the file or above.`,
  line: (line: number) => `Line ${line}`,
  more: (n: number) => `and ${n} more`,
  record: (n: number) => `Record ${plural(n, 'row')}`,
  recorded: (n: number) => `${plural(n, 'row')} recorded on this device.`,
};
