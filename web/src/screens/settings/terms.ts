// Payment terms as the form holds them (docs/formats/terms.md): amounts as text with their unit.

export interface Terms {
  beetwright_terms: 1;
  name: string;
  currency: string;
  reference_pol?: string;
  base_price?: string | null;
  slide: { from: string; to: string; percent_per_point: string | number }[];
  recoverable?: { price: string; charge?: string; fixed_loss?: string };
  supplements: { from: string; to: string; at_from: string; per_day?: string }[];
  soil_charge?: string;
  tops_charge?: string;
  [other: string]: unknown;
}

export const blankTerms = (currency: string): Terms => ({
  beetwright_terms: 1,
  name: '',
  currency,
  reference_pol: '16 %',
  slide: [],
  recoverable: { price: '', charge: '', fixed_loss: '' },
  supplements: [],
});

export const singleWords = {
  name: 'Name of the contract',
  reference_pol: 'Sugar content of the base price',
  base_price: 'Base price of clean beet, such as 32.50 EUR/t',
  soil_charge: 'Charge for soil, such as 9 EUR/t',
  tops_charge: 'Charge for tops',
};

export const rowWords = {
  add: 'Another row',
  remove: 'Remove row',
  slide: {
    way: 'Paid by beet and sugar content',
    words: 'Change of the price with sugar',
    keys: { from: 'From, %', to: 'To, %', percent_per_point: '% of price per point' },
  },
  recoverable: {
    way: 'Paid by recoverable sugar',
    keys: { price: 'Price of recoverable sugar, such as 420 EUR/t', charge: 'Charge for each tonne of beet', fixed_loss: 'Fixed loss, such as 0.6 %' },
  },
  supplements: {
    words: 'For early or late delivery',
    keys: { from: 'From day', to: 'To day', at_from: 'On the first day', per_day: 'Change per day' },
  },
};

/** As terms.json has them: what was left empty is left out, and of two ways of paying one. */
export function termsText(terms: Terms, bySugar: boolean): string {
  const kept: Record<string, unknown> = { ...terms };
  if (bySugar) {
    delete kept.base_price;
    delete kept.slide;
  } else {
    delete kept.recoverable;
    kept.slide = terms.slide.map((step) => ({ ...step, percent_per_point: Number(step.percent_per_point) }));
  }
  const withoutEmpty = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(withoutEmpty);
    if (value === null || typeof value !== 'object') return value;
    return Object.fromEntries(Object.entries(value).filter(([, one]) => one !== '' && one !== undefined && one !== null).map(([key, one]) => [key, withoutEmpty(one)]));
  };
  return `${JSON.stringify(withoutEmpty(kept), null, 2)}\n`;
}
