import { type DocumentNode, type FragmentDefinitionNode, Kind, type SelectionSetNode } from 'graphql';
import { QUERY_LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';

const NO_STEP = new Set(['edges', 'node', 'nodes', 'pageInfo']);
const INTROSPECTION = new Set(['__schema', '__type']);

export type LimitName = keyof typeof QUERY_LIMITS;

export function tooCostly(limit: LimitName, was: number): Problem {
  const allowed = QUERY_LIMITS[limit];
  return new Problem('query_too_costly', `${limit} was ${was}; the limit is query.${limit} ${allowed}`, {
    limit,
    allowed,
    was,
  });
}

type Fragments = ReadonlyMap<string, FragmentDefinitionNode>;

/** Counts what the text of a document asks for, each fragment once. */
class Counter {
  fields = 0;
  aliases = 0;
  introspections = 0;

  set(set: SelectionSetNode): void {
    for (const selection of set.selections) {
      if (selection.kind === Kind.FIELD) {
        this.fields++;
        if (selection.alias) this.aliases++;
        if (INTROSPECTION.has(selection.name.value)) this.introspections++;
      }
      if (selection.kind !== Kind.FRAGMENT_SPREAD && selection.selectionSet) this.set(selection.selectionSet);
    }
  }
}

/** How deep a selection goes, through its fragments; infinitely where they go in circles. */
class DepthGauge {
  readonly #fragments: Fragments;
  readonly #known = new Map<string, number>();

  constructor(fragments: Fragments) {
    this.#fragments = fragments;
  }

  of(set: SelectionSetNode): number {
    let deepest = 0;
    for (const selection of set.selections) deepest = Math.max(deepest, this.#step(selection));
    return deepest;
  }

  #step(selection: SelectionSetNode['selections'][number]): number {
    if (selection.kind === Kind.FRAGMENT_SPREAD) return this.#fragment(selection.name.value);
    if (selection.kind === Kind.INLINE_FRAGMENT) return this.of(selection.selectionSet);
    const name = selection.name.value;
    // how deep a question about the schema may go, graphql-js limits by itself
    if (INTROSPECTION.has(name)) return 1;
    const below = selection.selectionSet ? this.of(selection.selectionSet) : 0;
    return below + (NO_STEP.has(name) && selection.selectionSet ? 0 : 1);
  }

  #fragment(name: string): number {
    const known = this.#known.get(name);
    if (known !== undefined) return known;
    this.#known.set(name, Number.POSITIVE_INFINITY);
    const fragment = this.#fragments.get(name);
    const depth = fragment ? this.of(fragment.selectionSet) : 0;
    this.#known.set(name, depth);
    return depth;
  }
}

function within(limit: LimitName, was: number): void {
  if (was > QUERY_LIMITS[limit]) throw tooCostly(limit, was);
}

/**
 * Refuses a document that asks for too much, before anything that takes longer looks at it.
 *
 * @throws Problem `query_too_costly` naming the limit
 */
export function checkDocument(document: DocumentNode): void {
  const counter = new Counter();
  const fragments = new Map<string, FragmentDefinitionNode>();
  const operations: SelectionSetNode[] = [];
  for (const definition of document.definitions) {
    if (!('selectionSet' in definition)) continue;
    counter.set(definition.selectionSet);
    if (definition.kind === Kind.FRAGMENT_DEFINITION) fragments.set(definition.name.value, definition);
    else operations.push(definition.selectionSet);
  }
  within('fields', counter.fields);
  within('aliases', counter.aliases);
  within('introspections', counter.introspections);
  within('fragments', fragments.size);
  const gauge = new DepthGauge(fragments);
  for (const set of operations) within('depth', gauge.of(set));
}
