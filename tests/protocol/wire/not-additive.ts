import type { Direction, JsonSchema, Shape, WireShape } from './wire-shape.ts';

type Named = Readonly<Record<string, JsonSchema>>;

const LOWER = ['minLength', 'minimum', 'minItems', 'exclusiveMinimum'];
const UPPER = ['maxLength', 'maximum', 'maxItems', 'exclusiveMaximum'];

function names(value: unknown): readonly string[] {
  return (value as readonly string[] | undefined) ?? [];
}

/** The ways in which something may be written, one type each. */
function options(schema: JsonSchema): readonly JsonSchema[] {
  const choices = (schema.anyOf ?? schema.oneOf ?? [schema]) as readonly JsonSchema[];
  return choices.flatMap((one) => (Array.isArray(one.type) ? one.type.map((type) => ({ ...one, type })) : [one]));
}

/** No rule at all: everything fits. */
function isAny(schema: JsonSchema): boolean {
  return Object.keys(schema).length === 0;
}

function ofObject(was: JsonSchema, is: JsonSchema, direction: Direction, at: string): string[] {
  const [before, after] = [(was.properties ?? {}) as Named, (is.properties ?? {}) as Named];
  const inside = Object.entries(before).flatMap(([name, schema]) => {
    const now = after[name];
    return now ? compare(schema, now, direction, `${at}/${name}`) : [`${at}/${name} was taken away`];
  });
  const [needed, needs] = [names(was.required), names(is.required)];
  const added = direction === 'told' ? [] : needs.filter((name) => !needed.includes(name));
  const lost = direction === 'sent' ? [] : needed.filter((name) => name in after && !needs.includes(name));
  const keys = ['propertyNames', 'additionalProperties'].flatMap((part) => {
    const [one, other] = [was[part], is[part]];
    if (typeof one !== 'object' || typeof other !== 'object') return one === other ? [] : [`${at} has other ${part}`];
    return compare(one as JsonSchema, other as JsonSchema, direction, `${at}/${part}`);
  });
  return [
    ...inside,
    ...added.map((name) => `${at}/${name} is required now, and older phones do not send it`),
    ...lost.map((name) => `${at}/${name} may be missing now, and older phones count on it`),
    ...keys,
  ];
}

function ofBounds(was: JsonSchema, is: JsonSchema, at: string): string[] {
  const worse = (name: string, narrower: (before: number, now: number) => boolean) => {
    const [before, now] = [was[name] as number | undefined, is[name] as number | undefined];
    if (now === undefined || (before !== undefined && !narrower(before, now))) return [];
    return [`${at} has ${name} ${now} now, before ${before ?? 'none'}`];
  };
  return [
    ...LOWER.flatMap((name) => worse(name, (before, now) => now > before)),
    ...UPPER.flatMap((name) => worse(name, (before, now) => now < before)),
  ];
}

function ofValues(was: JsonSchema, is: JsonSchema, at: string): string[] {
  const before = (was.enum ?? (was.const === undefined ? [] : [was.const])) as readonly unknown[];
  const now = (is.enum ?? (is.const === undefined ? undefined : [is.const])) as readonly unknown[] | undefined;
  if (now === undefined) return [];
  if (before.length === 0) return [`${at} takes only ${now.join(', ')} now`];
  return before.filter((value) => !now.includes(value)).map((value) => `${at} does not know ${String(value)} any more`);
}

function compareOne(was: JsonSchema, is: JsonSchema, direction: Direction, at: string): string[] {
  if (was.type !== is.type) return [`${at} is ${String(is.type ?? 'anything')} now, before ${String(was.type)}`];
  const forms = ['pattern', 'format'].filter((name) => was[name] !== is[name] && direction !== 'told');
  return [
    ...ofObject(was, is, direction, at),
    ...forms.map((name) => `${at} has another ${name}`),
    ...(direction === 'told' ? [] : [...ofBounds(was, is, at), ...ofValues(was, is, at)]),
    ...(was.items && is.items
      ? compare(was.items as JsonSchema, is.items as JsonSchema, direction, `${at}/items`)
      : []),
  ];
}

/** Every way in which something could be written has to be one still. */
function compare(was: JsonSchema, is: JsonSchema, direction: Direction, at: string): string[] {
  if (isAny(is)) return isAny(was) || direction === 'sent' ? [] : [`${at} may be anything now`];
  const now = options(is);
  return options(was).flatMap((option) => {
    const faults = now.map((one) => compareOne(option, one, direction, at));
    return faults.toSorted((a, b) => a.length - b.length)[0] ?? [];
  });
}

function ofShape(name: string, was: Shape, is: Shape | undefined): string[] {
  return is ? compare(was.schema, is.schema, is.direction, name) : [`${name} was taken away`];
}

/**
 * What keeps one version of the wire from being an addition to the one before it: then what older phones send could not
 * be read any more, or what they are told would lack something that they count on. A value that is added to a list is
 * an addition in both directions: phones let through what they do not know.
 */
export function notAdditive(was: WireShape, is: WireShape): string[] {
  return Object.entries(was).flatMap(([name, shape]) => ofShape(name, shape, is[name]));
}

/** What phones are told may only be added to, lens or not: a feed is told alike to phones of every version. */
export function notAdditiveForReaders(was: WireShape, is: WireShape): string[] {
  const told = Object.entries(was).filter(([, { direction }]) => direction !== 'sent');
  const toReaders = (shape: Shape | undefined): Shape | undefined => shape && { ...shape, direction: 'told' };
  return told.flatMap(([name, shape]) => ofShape(name, shape, toReaders(is[name])));
}
