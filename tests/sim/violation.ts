/** The ten properties, and what must not happen on the way to them. */
export type Property =
  | 'no row is missed'
  | 'exactly once'
  | 'no silent loss'
  | 'convergence'
  | 'causal and atomic'
  | 'feed exactness'
  | 'cursor and rows are one'
  | 'nothing wedges'
  | 'time does not matter'
  | 'history';

export interface Violation {
  readonly property: Property;
  readonly detail: string;
}

/** What was found wrong in one world; the first is usually the cause. */
export class Findings {
  readonly list: Violation[] = [];

  add(property: Property, detail: string): void {
    this.list.push({ property, detail });
  }
}
