import type { ElementRule } from './wqx-schema.ts';

/** What is to be filled in: text, parts, several of either, or nothing. */
export type Filling = string | undefined | readonly Filling[] | { readonly [name: string]: Filling };

export interface Element {
  readonly name: string;
  readonly text?: string;
  readonly children?: readonly Element[];
}

export interface Shaped {
  readonly elements: readonly Element[];
  /** Why it does not fit the schema. */
  readonly faults: readonly string[];
}

const NOTHING: Shaped = { elements: [], faults: [] };

function together(all: readonly Shaped[]): Shaped {
  return { elements: all.flatMap(({ elements }) => elements), faults: all.flatMap(({ faults }) => faults) };
}

function shapeLeaf({ name, longest = 0 }: ElementRule, text: string): Shaped {
  const length = [...text].length;
  if (text === '') return NOTHING;
  const faults = length > longest ? [`${name} has ${length} characters, and the schema takes ${longest}`] : [];
  return { elements: [{ name, text }], faults };
}

/** Puts what is given into the elements and the order of the schema; what does not fit is said and never cut. */
export function shape(rule: ElementRule, filling: Filling): Shaped {
  if (filling === undefined) return NOTHING;
  if (Array.isArray(filling)) return together(filling.map((one) => shape(rule, one)));
  if (typeof filling === 'string') {
    if (rule.children) throw new TypeError(`${rule.name} has parts and no text of its own`);
    return shapeLeaf(rule, filling);
  }
  const parts = filling as { readonly [name: string]: Filling };
  const known = rule.children ?? [];
  const unknown = Object.keys(parts).find((name) => !known.some((one) => one.name === name));
  if (unknown !== undefined) throw new TypeError(`${rule.name} has no part ${unknown} in the schema`);
  const { elements, faults } = together(known.map((one) => shape(one, parts[one.name])));
  return { elements: elements.length > 0 ? [{ name: rule.name, children: elements }] : [], faults };
}
