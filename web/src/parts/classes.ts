// The classes that people judge beets by, as the season's tables have them.

export const crowns = ['correct', 'too deep', 'petioles short', 'petioles long', 'slanted', 'crown untouched'] as const;
export type Crown = (typeof crowns)[number];

/** From high on the root to the tip, as they lie on the drawing; the class is what `tip_break` holds. */
export const tails = [
  { name: '>8', metric: 'over 8 cm', us: 'over 3.1 in' },
  { name: '6-8', metric: '6 to 8 cm', us: '2.4 to 3.1 in' },
  { name: '4-6', metric: '4 to 6 cm', us: '1.6 to 2.4 in' },
  { name: '2-4', metric: '2 to 4 cm', us: '0.8 to 1.6 in' },
  { name: '0-2', metric: 'up to 2 cm', us: 'up to 0.8 in' },
  { name: 'whole', metric: 'tail on', us: 'tail on' },
] as const;
export type Tail = (typeof tails)[number]['name'];
export const brokenWide: readonly string[] = ['>8', '6-8', '4-6', '2-4'];
