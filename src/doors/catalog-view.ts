import { type CatalogFigure, figuresOfItem, isItemVerified, plainContent } from '../catalog/catalog-figures.ts';
import type { CatalogItem, CatalogSection } from '../catalog/catalog-section.ts';

/** An item as every door shows it. */
export interface ShownItem extends Omit<CatalogItem, 'content'> {
  readonly verified: boolean | null;
  readonly figures: readonly CatalogFigure[];
  readonly content: unknown;
}

export interface ShownSection extends Omit<CatalogSection, 'items'> {
  readonly items: readonly ShownItem[];
}

/** What of a section fits into a list of sections. */
export interface SectionSummary {
  readonly itemCount: number;
  readonly figureCount: number;
  readonly verifiedFigureCount: number;
}

function shownItem({ content, ...about }: CatalogItem): ShownItem {
  const item = { ...about, content };
  return { ...about, verified: isItemVerified(item), figures: figuresOfItem(item), content: plainContent(content) };
}

export function shownSection({ name, title, description, items }: CatalogSection): ShownSection {
  return { name, title, description, items: items.map(shownItem) };
}

export function sectionSummary({ items }: ShownSection): SectionSummary {
  const figures = items.flatMap((item) => item.figures);
  const verified = figures.filter((figure) => figure.verified === true);
  return { itemCount: items.length, figureCount: figures.length, verifiedFigureCount: verified.length };
}
