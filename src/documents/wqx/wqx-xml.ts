import { xmlText } from '../svg/svg-text.ts';
import type { Element } from './element.ts';

/** An element with what is in it, indented. */
export function write({ name, text, children = [] }: Element, indent: string): string {
  if (text !== undefined) return `${indent}<${name}>${xmlText(text).replaceAll('\r', '&#13;')}</${name}>\n`;
  return `${indent}<${name}>\n${children.map((one) => write(one, `${indent}  `)).join('')}${indent}</${name}>\n`;
}
