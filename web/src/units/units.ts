// People's units at the screen's edge. Everything stored and sent is metric; conversions are exact by
// definition (international yard and pound, 1959).

export type System = 'metric' | 'us';

const squareMetresPerAcre = 4046.8564224;
const kgPerPound = 0.45359237;
const kgPerShortTon = 907.18474;
const metresPerFoot = 0.3048;
const cmPerInch = 2.54;
/** US liquid gallon, 231 cubic inches. */
const litresPerGallon = 231 * (cmPerInch / 10) ** 3;
const kmPerMile = 1.609344;
const squareMetresPerHectare = 10_000;
const standardGravity = 9.80665;
const litresPerCubicFoot = (metresPerFoot * 10) ** 3;

interface Pair {
  metric: string;
  us: string;
  /** Metric times this is US. */
  factor: number;
  /** What metric nought is in US; nought, where left out. */
  zero?: number;
}

/** Quantities by name; `money` stands for the season's currency. */
export const quantities = {
  beetPerArea: { metric: 't/ha', us: 'short ton/acre', factor: (1000 / kgPerShortTon) * (squareMetresPerAcre / squareMetresPerHectare) },
  sugarPerArea: { metric: 'kg/ha', us: 'lb/acre', factor: squareMetresPerAcre / squareMetresPerHectare / kgPerPound },
  moneyPerArea: { metric: 'money/ha', us: 'money/acre', factor: squareMetresPerAcre / squareMetresPerHectare },
  money: { metric: 'money', us: 'money', factor: 1 },
  moneyPerHour: { metric: 'money/h', us: 'money/h', factor: 1 },
  plants: { metric: '1/ha', us: '1/acre', factor: squareMetresPerAcre / squareMetresPerHectare },
  fieldArea: { metric: 'ha', us: 'acre', factor: squareMetresPerHectare / squareMetresPerAcre },
  load: { metric: 't', us: 'short ton', factor: 1000 / kgPerShortTon },
  mass: { metric: 'kg', us: 'lb', factor: 1 / kgPerPound },
  way: { metric: 'km', us: 'mi', factor: 1 / kmPerMile },
  tape: { metric: 'm', us: 'ft', factor: 1 / metresPerFoot },
  stripArea: { metric: 'm2', us: 'sq ft', factor: 1 / metresPerFoot ** 2 },
  diameter: { metric: 'cm', us: 'in', factor: 1 / cmPerInch },
  waterDepth: { metric: 'mm', us: 'in', factor: 1 / (10 * cmPerInch) },
  pressure: { metric: 'bar', us: 'psi', factor: (1e5 * (cmPerInch / 100) ** 2) / (kgPerPound * standardGravity) },
  fanPressure: { metric: 'Pa', us: 'inH2O', factor: 1 / (1000 * standardGravity * (cmPerInch / 100)) },
  airFlow: { metric: 'm3/h', us: 'cu ft/min', factor: 1000 / litresPerCubicFoot / 60 },
  power: { metric: 'kW', us: 'hp', factor: 1000 / (550 * metresPerFoot * kgPerPound * standardGravity) },
  temperature: { metric: '°C', us: '°F', factor: 1.8, zero: 32 },
  temperatureDifference: { metric: 'K', us: 'F°', factor: 1.8 },
  bearing: { metric: '°', us: '°', factor: 1 },
  hours: { metric: 'h', us: 'h', factor: 1 },
  skin: { metric: 'cm2', us: 'sq in', factor: 1 / cmPerInch ** 2 },
  speed: { metric: 'km/h', us: 'mph', factor: 1 / kmPerMile },
  airSpeed: { metric: 'cm/s', us: 'in/s', factor: 1 / cmPerInch },
  flowSpeed: { metric: 'm/s', us: 'ft/s', factor: 1 / metresPerFoot },
  turns: { metric: 'rpm', us: 'rpm', factor: 1 },
  force: { metric: 'N', us: 'lbf', factor: 1 / (kgPerPound * standardGravity) },
  areaRate: { metric: 'ha/h', us: 'acre/h', factor: squareMetresPerHectare / squareMetresPerAcre },
  fuelPerArea: { metric: 'L/ha', us: 'gal/acre', factor: squareMetresPerAcre / squareMetresPerHectare / litresPerGallon },
  share: { metric: '%', us: '%', factor: 1 },
  content: { metric: 'mmol/100 g', us: 'mmol/100 g', factor: 1 },
  count: { metric: '', us: '', factor: 1 },
} satisfies Record<string, Pair>;
export type Quantity = keyof typeof quantities;

/** What a column of the season's tables measures, by the units it is written in. */
export function quantityOf(column: { metric?: string; us?: string }): Quantity {
  const same = Object.entries(quantities).find(([, pair]) => column.metric !== undefined && pair.metric === column.metric && pair.us === column.us);
  return (same?.[0] as Quantity | undefined) ?? 'count';
}

const pairOf = (quantity: Quantity): Pair => quantities[quantity];

export const toPeople = (metric: number, quantity: Quantity, system: System): number =>
  system === 'us' ? metric * pairOf(quantity).factor + (pairOf(quantity).zero ?? 0) : metric;
export const toMetric = (people: number, quantity: Quantity, system: System): number =>
  system === 'us' ? (people - (pairOf(quantity).zero ?? 0)) / pairOf(quantity).factor : people;

export function unitOf(quantity: Quantity, system: System, currency = ''): string {
  const unit = quantities[quantity][system].replace('money', currency || 'money');
  return unit.replace('m2', 'm²').replace('m3', 'm³');
}

/** Decimals such that the interval's half-width shows one or two significant digits; 0 to 4. */
export function decimalsFor(low: number, high: number): number {
  const half = Math.abs(high - low) / 2;
  if (!(half > 0)) return 0;
  return Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(half))));
}

const minus = '\u2212';
const thinSpace = '\u202f';

/** "1 234.5", "−310"; never "−0". */
export function figure(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  const [whole = '', part] = text.split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, thinSpace) : whole;
  const isZero = Number(text) === 0;
  return `${value < 0 && !isZero ? minus : ''}${grouped}${part ? `.${part}` : ''}`;
}

export interface Shown {
  value: string;
  /** "−187 to −47"; empty where it has no width. */
  interval: string;
  unit: string;
}

/** An estimate as people read it. */
export function shown(
  estimate: { value: number | null; low: number | null; high: number | null } | undefined,
  quantity: Quantity,
  system: System,
  currency = '',
): Shown {
  const unit = unitOf(quantity, system, currency);
  if (!estimate || estimate.value === null) return { value: '–', interval: '', unit };
  const [value, low, high] = [estimate.value, estimate.low ?? estimate.value, estimate.high ?? estimate.value].map((x) => toPeople(x, quantity, system)) as [number, number, number];
  const decimals = Math.max(0, decimalsFor(low, high) - (Math.abs(value) >= 100 ? 1 : 0));
  const interval = low === high ? '' : `${figure(low, decimals)} to ${figure(high, decimals)}`;
  return { value: figure(value, decimals), interval, unit };
}

/** What somebody typed, a comma or a point for decimals; undefined where it is no number. */
export function typed(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace(minus, '-');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : undefined;
}

/** A number as the season's files have it: twelve digits, no exponent. */
export function fileNumber(value: number): string {
  return Number(value.toPrecision(12)).toLocaleString('en-US', { useGrouping: false, maximumFractionDigits: 14 });
}
