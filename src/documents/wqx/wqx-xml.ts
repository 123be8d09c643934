import { xmlText } from '../svg/svg-text.ts';
import type { Element } from './element.ts';
import type { NotExported, WqxFacts } from './wqx-facts.ts';
import { WQX_NAMESPACE } from './wqx-schema.ts';
import { wqxTree } from './wqx-tree.ts';

/** An element with what is in it, indented. */
export function write({ name, text, children = [] }: Element, indent: string): string {
  if (text !== undefined) return `${indent}<${name}>${xmlText(text).replaceAll('\r', '&#13;')}</${name}>\n`;
  return `${indent}<${name}>\n${children.map((one) => write(one, `${indent}  `)).join('')}${indent}</${name}>\n`;
}

/** The export as one XML document of the exchange, and what is not in it. */
export function wqxXml(facts: WqxFacts): { readonly xml: string; readonly notExported: readonly NotExported[] } {
  const { organization, projects, locations, activities, notExported } = wqxTree(facts);
  const inner = [...organization, ...projects, ...locations, ...activities].map((one) => write(one, '    ')).join('');
  const xml = `<?xml version="1.0" encoding="UTF-8"?>\n<WQX xmlns="${WQX_NAMESPACE}">\n  <Organization>\n${inner}  </Organization>\n</WQX>\n`;
  return { xml, notExported };
}
