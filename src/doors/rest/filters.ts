import { z } from 'zod';
import type { KindDefinition } from '../../protocol/kind.ts';
import { id, text } from '../../protocol/primitives.ts';
import { isFoundByEventFeed, namingFields } from '../../reads/record-filters.ts';
import type { RecordFilters } from '../../reads/record-page.ts';
import { TYPED_TABLES } from '../../store/tables.ts';
import { paging } from './list-shapes.ts';

/** What a query of a list may say; the rest are fields with the value that they must have. */
export interface ListQuery {
  readonly limit: number;
  readonly cursor?: string;
  readonly feed?: string;
  readonly under?: string;
}

export function splitQuery({ limit, cursor, feed, under, ...equal }: ListQuery) {
  const filters: RecordFilters = { feed, under, equal: equal as Readonly<Record<string, string>> };
  return { page: { limit, cursor }, filters };
}

function enumOf(schema: unknown): z.ZodEnum | null {
  if (schema instanceof z.ZodEnum) return schema;
  return schema instanceof z.ZodOptional || schema instanceof z.ZodNullable ? enumOf(schema.unwrap()) : null;
}

/** The fields that hold one of a few words, such as the standing of a flag. */
function wordFilters(kind: KindDefinition): Record<string, z.ZodType> {
  const columns = TYPED_TABLES[kind.name]?.fields ?? {};
  const words = Object.entries(kind.fields.shape).flatMap(([field, schema]) => {
    const words = columns[field] === 'text' ? enumOf(schema) : null;
    return words ? [[field, words.optional().describe(`Only records whose ${field} is this`)] as const] : [];
  });
  return Object.fromEntries(words);
}

function namingFilters(kind: KindDefinition): Record<string, z.ZodType> {
  const naming = namingFields(kind).map((field) => {
    return [field, id.optional().describe(`Only records whose ${field} is this`)] as const;
  });
  return Object.fromEntries(naming);
}

/** The query of the list of a kind: the page, and the filters that mean something for the kind. */
export function filtersOf(kind: KindDefinition): z.ZodType {
  const under =
    kind.home.in === 'parent' ? { under: id.optional().describe(`The ${kind.home.field} they live under`) } : {};
  const event = isFoundByEventFeed(kind) ? { event: id.optional().describe('Only what lives in this event') } : {};
  const feed = { feed: text().optional().describe('Only records of this feed') };
  return z.strictObject({ ...wordFilters(kind), ...namingFilters(kind), ...event, ...under, ...feed, ...paging });
}
