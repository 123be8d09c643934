import { px } from '../svg/svg-text.ts';
import { PAGE } from './layout.ts';
import type { BarLook, MarkShape } from './timeline-row.ts';

interface Look {
  readonly fill: string;
  readonly edge: string;
  /** Of a label that stands in the bar. */
  readonly ink: string;
}

/** Their shades differ in gray too, and neighbours in a row of meanings differ by a pattern. */
export const LOOKS: Readonly<Record<BarLook, Look>> = {
  'out-of-service': { fill: 'url(#cross)', edge: '#333', ink: '#000' },
  unknown: { fill: 'url(#dots)', edge: '#666', ink: '#000' },
  used: { fill: '#d9822b', edge: '#8a4b0c', ink: '#000' },
  'in-a-well': { fill: '#1d4e89', edge: '#12325a', ink: '#fff' },
  'being-cleaned': { fill: 'url(#lines)', edge: '#2f7d8c', ink: '#000' },
  clean: { fill: '#cfe8d2', edge: '#2f7d3b', ink: '#000' },
  'down-the-well': { fill: '#1d4e89', edge: '#12325a', ink: '#fff' },
  'on-the-line': { fill: '#8fb3d9', edge: '#1d4e89', ink: '#000' },
  'beside-the-well': { fill: '#fff', edge: '#1d4e89', ink: '#000' },
  complete: { fill: '#2f7d3b', edge: '#1c5226', ink: '#fff' },
  'not-complete': { fill: 'url(#slant)', edge: '#a32020', ink: '#000' },
  part: { fill: '#e8e2d0', edge: '#7a6c3f', ink: '#000' },
  crew: { fill: '#d5d2e6', edge: '#575089', ink: '#000' },
};

/** Patterns are drawn lines, so that they are seen in gray and on paper. */
export const PATTERNS = [
  '<pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse"><rect width="5" height="5" fill="#eee"/><circle cx="2.5" cy="2.5" r="1.2" fill="#555"/></pattern>',
  '<pattern id="cross" width="5" height="5" patternUnits="userSpaceOnUse"><rect width="5" height="5" fill="#bbb"/><path d="M0 0L5 5M5 0L0 5" stroke="#222" stroke-width="1"/></pattern>',
  '<pattern id="lines" width="4" height="4" patternUnits="userSpaceOnUse"><rect width="4" height="4" fill="#e3f3f6"/><path d="M1 0V4" stroke="#2f7d8c" stroke-width="1.4"/></pattern>',
  '<pattern id="slant" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="#fbe3e3"/><path d="M-1 7L7 -1M-1 1L1 -1M5 7L7 5" stroke="#a32020" stroke-width="1.6"/></pattern>',
].join('');

/** From good to bad: of marks in one place the worst is drawn. */
const GRAVITY: readonly MarkShape[] = ['service', 'clean', 'no-result', 'traces', 'service-failed', 'failed'];

export function gravestShape(shapes: readonly MarkShape[]): MarkShape {
  return GRAVITY.findLast((shape) => shapes.includes(shape)) ?? 'service';
}

/** Each standing has a shape of its own. */
export function markPath(shape: MarkShape, x: number, y: number): string {
  const r = PAGE.markHalf;
  const at = (dx: number, dy: number) => `${px(x + dx)} ${px(y + dy)}`;
  if (shape === 'failed')
    return `<path d="M${at(-r, -r)}L${at(r, r)}M${at(r, -r)}L${at(-r, r)}" stroke="#a32020" stroke-width="3"/>`;
  if (shape === 'traces') return `<path d="M${at(0, -r)}L${at(r, r)}L${at(-r, r)}Z" fill="#d9822b" stroke="#5c3206"/>`;
  if (shape === 'service')
    return `<path d="M${at(0, -r)}L${at(r, 0)}L${at(0, r)}L${at(-r, 0)}Z" fill="#575089" stroke="#2b2754"/>`;
  if (shape === 'service-failed')
    return `<path d="M${at(0, -r)}L${at(r, 0)}L${at(0, r)}L${at(-r, 0)}Z" fill="#fff" stroke="#a32020" stroke-width="2"/>`;
  const fill = shape === 'clean' ? '#2f7d3b' : '#fff';
  return `<circle cx="${px(x)}" cy="${px(y)}" r="${r}" fill="${fill}" stroke="#1c5226"/>`;
}
