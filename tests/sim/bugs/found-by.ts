import type { Property, Violation } from '../violation.ts';

/** The checks of the judges by name: for which property each stands, and what it says. */
const CHECKS = {
  'rows are missing': ['no row is missed', /^phone \d+ misses /],
  'rows had to be mended': ['no row is missed', /^phone \d+ had to mend /],
  'revision after changes': ['exactly once', / has revision \d+ after \d+ changes$/],
  'one revision twice': ['exactly once', / brought one revision: /],
  'new client id': ['exactly once', / took a new client id$/],
  'acknowledged and gone': ['no silent loss', / was acknowledged and is not there$/],
  'value lost': ['no silent loss', / is neither shown, kept nor replaced$/],
  'void lost': ['no silent loss', / was acknowledged and it counts still$/],
  'set aside without cause': ['no silent loss', / was set aside: /],
  'refused without cause': ['no silent loss', / was refused: /],
  'replica differs': ['convergence', /^phone \d+ and the server differ in /],
  'derived otherwise': ['convergence', /^derived of /],
  'merged otherwise': ['convergence', /^merge of /],
  'head differs': ['convergence', /^head of /],
  'seen and asked about': ['causal and atomic', /^conflict \S+ asks about .* which was seen$/],
  'feed answered that is not followed': ['feed exactness', /^\S+ was given /],
  'feed held that is not followed': ['feed exactness', /, which it does not follow$/],
  'row answered otherwise': ['feed exactness', / was answered otherwise than it stands there$/],
  'reset without cause': ['cursor and rows are one', /^phone \d+ was reset: /],
  'never answered': ['nothing wedges', / was never answered$/],
  'waits in vain': ['nothing wedges', / still waits for what is here$/],
  'refused by a key': ['nothing wedges', /^a fault of the server: .* has this key already$/],
  'hashes of rows': ['history', /^history of .* the history hash of row \d+ differs$/],
  'numbers of rows': ['history', /^history of .* row \d+ stands where row \d+ should$/],
  'counts of rows': ['history', /^history of .* row \d+ counts /],
  'revision given twice': ['history', / was given twice$/],
} as const satisfies Record<string, readonly [Property, RegExp]>;

export type Finder = keyof typeof CHECKS;

export const FINDERS = Object.keys(CHECKS) as Finder[];

/** Which check found it; null where no bug may be called found by that alone. */
export function finderOf({ property, detail }: Violation): Finder | null {
  return FINDERS.find((name) => CHECKS[name][0] === property && CHECKS[name][1].test(detail)) ?? null;
}
