// What the server's audit says, as sentences. docs/formats/api.md.

import { say } from './en.ts';
import { deedWords } from './en_settings.ts';

export interface Deed {
  at: string;
  /** Null: nobody who was signed in. */
  person: string | null;
  what: string;
  about: string;
}

const roleIn = (word: string): string => say.people.roles[word as keyof typeof say.people.roles] ?? word;
/** "a: b" as its two parts; a name may hold a colon of its own, so `last` says at which to part. */
function parts(text: string, at: 'first' | 'last'): [string, string] {
  const place = at === 'first' ? text.indexOf(': ') : text.lastIndexOf(': ');
  return place < 0 ? [text, ''] : [text.slice(0, place), text.slice(place + 2)];
}

export function deed({ person, what, about }: Deed): string {
  const who = person ?? deedWords.nobody;
  const words = deedWords;
  switch (what) {
    case 'joined':
      return words.joined(who, roleIn(about));
    case 'invited': {
      const [role = '', ...name] = about.split(' ');
      return words.invited(who, roleIn(role), name.join(' '));
    }
    case 'invited on the command line':
      return words.invitedFromMachine(roleIn(about));
    case 'signed in':
      return words.signedIn(who);
    case 'signed out':
      return words.signedOut(who);
    case 'signed out everywhere':
      return words.signedOutEverywhere(who);
    case 'changed password':
      return words.changedPassword(who);
    case 'made a password link':
      return words.madePasswordLink(who, about);
    case 'chose a new password by a link':
      return words.usedPasswordLink(who);
    case 'changed role': {
      const [name, roles] = parts(about, 'last');
      const [before = '', after = ''] = roles.split(' to ');
      return words.changedRole(who, name, roleIn(before), roleIn(after));
    }
    case 'shut out':
      return words.shutOut(who, about);
    case 'let back in':
      return words.letBackIn(who, about);
    case 'set': {
      // Of weather the file that was brought stands behind the season's own.
      const [file, brought] = parts(about, 'first');
      return words.set(who, words.files[file] ?? file, brought);
    }
    case 'removed':
    case 'renamed': {
      const [file, name] = parts(about, 'first');
      if (words.files[file] && !name) return words.tookOut(who, words.files[file]);
      const kind = words.kinds[file] ?? file;
      return what === 'removed' ? words.removed(who, kind, name) : words.renamed(who, kind, name);
    }
    case 'added a photograph':
      return words.addedPhotograph(who, parts(about, 'last')[0]);
    default:
      return `${who}: ${what}${about ? `, ${about}` : ''}`;
  }
}
