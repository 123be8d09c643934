import type { CatalogFigure } from '../../catalog/catalog-figures.ts';
import { CATALOG_SECTIONS } from '../../catalog/catalog-sections.ts';
import { EVERY_RULE, flagRuleOutput, RULE_SUBJECTS } from '../../rules/flag-catalogue.ts';
import { type ShownItem, type ShownSection, sectionSummary, shownSection } from '../catalog-view.ts';
import { answerType } from './questions.ts';
import type { GraphTypes } from './types.ts';

function figureType({ builder }: GraphTypes) {
  return builder.objectRef<CatalogFigure>('CatalogFigure').implement({
    description: 'A figure of the catalog with where it comes from.',
    fields: (t) => ({
      at: t.exposeString('at', { description: 'JSON Pointer into the content of the item' }),
      value: t.exposeString('value'),
      source: t.exposeString('source', { nullable: true, description: 'Its own, or that of what it stands in' }),
      verified: t.exposeBoolean('verified', {
        nullable: true,
        description: 'It was read in its document, or in the copy named',
      }),
      status: t.exposeString('status', {
        nullable: true,
        description: 'How it was come by: seen, or from memory with its confidence',
      }),
    }),
  });
}

function itemType(types: GraphTypes, figures: number) {
  const figure = figureType(types);
  return types.builder.objectRef<ShownItem>('CatalogItem').implement({
    description: 'One thing that the catalog holds: a criteria set, a buffer, a rule.',
    fields: (t) => ({
      id: t.exposeID('id', { description: 'Unique within its section' }),
      name: t.exposeString('name'),
      source: t.exposeString('source', { nullable: true, description: 'Null for a name of our own' }),
      edition: t.exposeString('edition', { nullable: true }),
      dated: t.exposeString('dated', { nullable: true, description: 'Of the edition, as exactly as it is known' }),
      verified: t.exposeBoolean('verified', {
        nullable: true,
        description: 'Every figure of it was read in its document; null where it has none',
      }),
      figures: t.field({
        type: [figure],
        description: 'Each figure with its source',
        complexity: { field: 1, multiplier: figures },
        resolve: (item) => [...item.figures],
      }),
      content: t.field({
        type: 'JSON',
        nullable: true,
        description: 'The data in their own form, as phone and server count with them',
        resolve: (item) => item.content,
      }),
    }),
  });
}

function mean(sum: number, of: number): number {
  return Math.max(1, Math.ceil(sum / of));
}

function sectionType(types: GraphTypes, sections: readonly ShownSection[]) {
  const sums = sections.map(sectionSummary);
  const items = sums.reduce((sum, { itemCount }) => sum + itemCount, 0);
  const figures = sums.reduce((sum, { figureCount }) => sum + figureCount, 0);
  const item = itemType(types, mean(figures, items));
  return types.builder.objectRef<ShownSection>('CatalogSection').implement({
    description: 'What belongs together in the catalog.',
    fields: (t) => ({
      name: t.exposeString('name'),
      title: t.exposeString('title'),
      description: t.exposeString('description'),
      itemCount: t.int({ resolve: (section) => section.items.length }),
      figureCount: t.int({ resolve: (section) => sectionSummary(section).figureCount }),
      verifiedFigureCount: t.int({ resolve: (section) => sectionSummary(section).verifiedFigureCount }),
      items: t.field({
        type: [item],
        complexity: { field: 1, multiplier: mean(items, sections.length) },
        resolve: (section) => [...section.items],
      }),
    }),
  });
}

/** The same answer as GET /v1/flag-rules. */
export function addFlagRules(types: GraphTypes): void {
  const { builder, values } = types;
  const type = answerType(types, 'flag-rule', flagRuleOutput, '');
  builder.queryField('flagRules', (t) =>
    t.field({
      type: [type],
      description: 'The rules by which something is asked: the same answer as GET /v1/flag-rules',
      args: { about: t.arg({ type: values.enum('FlagRuleAbout', RULE_SUBJECTS) }) },
      complexity: { field: 1, multiplier: EVERY_RULE.length },
      resolve: (_root, { about }) => EVERY_RULE.filter((rule) => (about ?? rule.about) === rule.about),
    }),
  );
}

/** The catalog: the same answer as GET /v1/catalog and its sections. */
export function addCatalog(types: GraphTypes): void {
  const sections = CATALOG_SECTIONS.map(shownSection);
  const type = sectionType(types, sections);
  types.builder.queryFields((t) => ({
    catalog: t.field({
      type: [type],
      description: 'What the trade has written down: criteria, limits, standards, pumps, materials and rules',
      complexity: { field: 1, multiplier: sections.length },
      resolve: () => [...sections],
    }),
    catalogSection: t.field({
      type,
      nullable: true,
      args: { name: t.arg.string({ required: true }) },
      description: 'One section of the catalog; null where there is none of that name',
      resolve: (_root, { name }) => sections.find((section) => section.name === name) ?? null,
    }),
  }));
}
