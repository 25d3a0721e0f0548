// A pile and its parts as sentences: what is due when, and why.
import type { PileHead, PilePart } from '../../engine/pile_answers.ts';
import type { System } from '../../units/units.ts';
import { pileWords } from '../../words/en_pile.ts';
import { dayName } from '../../words/time.ts';
import { lengthText, stretchText, waysText, wholeText } from './reading.ts';

const words = pileWords.line;
/** Less than that is now. */
const soon_days = 0.5;
/** In fewer ways than that it is not expected. */
const expected = 0.5;

export const isDueNow = (part: PilePart): boolean => part.days_left !== null && part.chance_due >= expected && (part.days_left.value ?? Infinity) < soon_days;
export const isDue = (part: PilePart): boolean => part.days_left !== null && part.chance_due >= expected;

const which = (part: PilePart, system: System): string =>
  part.from_m === 0 ? words.first(lengthText(part.to_m, system)) : words.stretch(stretchText(part.from_m, part.to_m, system));

/** "the first 11.4 m should be sliced now; rot grows" */
export function dueSentence(pile: PileHead, system: System): string {
  const part = pile.due_first === null ? undefined : pile.parts[pile.due_first];
  if (!part || part.days_left === null) return words.gone;
  if (!isDue(part)) return words.keeps(dayName(part.sliced));
  const why = words.why[part.due_for];
  const days = words.days(wholeText(part.days_left), part.days_left.value ?? 0);
  const when = isDueNow(part) ? words.now(which(part, system)) : words.within(which(part, system), days);
  return why ? `${when}; ${why}` : when;
}

/** "It comes to that in 8 of 8 ways." */
export function chanceSentence(pile: PileHead): string {
  const part = pile.due_first === null ? undefined : pile.parts[pile.due_first];
  return part && part.chance_due > 0 ? words.chance(waysText(part.chance_due, pile.members)) : '';
}

/** How many other parts are due as soon as the first, to half a day. */
export function alsoDue(pile: PileHead): number {
  const first = pile.due_first === null ? undefined : pile.parts[pile.due_first];
  if (!first?.days_left || !isDue(first)) return 0;
  const when = first.days_left.value ?? 0;
  return pile.parts.filter((part) => part !== first && part.days_left && isDue(part) && (part.days_left.value ?? Infinity) < when + soon_days).length;
}

/** For a list: the soonest first; what is gone or keeps comes last. */
export function soonest(pile: PileHead | null): number {
  const part = pile && pile.due_first !== null ? pile.parts[pile.due_first] : undefined;
  return part?.days_left && isDue(part) ? (part.days_left.value ?? Infinity) : Infinity;
}
