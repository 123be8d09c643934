import { every, type StandardTable } from './standard-table.ts';

/**
 * A buffer is known by its recipe, not by the round number on the bottle: "7.00" is a technical buffer and reads 7.02 at
 * 20 °C, phosphate of the pH scale is 6.86 and reads 6.88.
 */
export const PH_BUFFER_IDS = [
  'phthalate-401',
  'phosphate-686',
  'borax-918',
  'carbonate-1001',
  'technical-400',
  'technical-700',
  'technical-1001',
] as const;
export type PhBufferId = (typeof PH_BUFFER_IDS)[number];
export type PhBuffer = StandardTable<PhBufferId> & { readonly label: string; readonly family: PhBufferFamily };
export type PhBufferFamily = 'primary' | 'technical';

const PRIMARY = 'JIS Z 8802, standard solutions of the pH scale, read in a copy';
const TECHNICAL = 'table of a commercial buffer set, read in a copy; the table of the bottle in hand goes first';

function of(
  id: PhBufferId,
  label: string,
  family: PhBufferFamily,
  recipe: string,
  points: StandardTable['points'],
): PhBuffer {
  const source = family === 'primary' ? PRIMARY : TECHNICAL;
  const dated = 'not dated in the copy';
  return {
    id,
    label,
    family,
    name: `pH buffer ${label}, ${recipe}`,
    unit: 'pH',
    points,
    source,
    dated,
    verified: true,
  };
}

export const PH_BUFFERS: Readonly<Record<PhBufferId, PhBuffer>> = {
  'phthalate-401': of(
    'phthalate-401',
    '4.01',
    'primary',
    'phthalate',
    every(5, 0, '4.01 4.01 4.00 4.00 4.00 4.01 4.01 4.02 4.03'),
  ),
  'phosphate-686': of(
    'phosphate-686',
    '6.86',
    'primary',
    'phosphate',
    every(5, 0, '6.98 6.95 6.92 6.90 6.88 6.86 6.85 6.84 6.84'),
  ),
  'borax-918': of('borax-918', '9.18', 'primary', 'borax', every(5, 0, '9.46 9.39 9.33 9.27 9.22 9.18 9.14 9.10 9.07')),
  'carbonate-1001': of(
    'carbonate-1001',
    '10.01',
    'primary',
    'carbonate',
    every(5, 0, '10.32 10.25 10.18 10.12 10.07 10.02 9.97 9.93'),
  ),
  'technical-400': of(
    'technical-400',
    '4.00',
    'technical',
    'technical',
    every(5, 0, '4.00 4.00 4.00 4.00 4.00 4.00 4.01 4.02 4.03'),
  ),
  'technical-700': of(
    'technical-700',
    '7.00',
    'technical',
    'technical',
    every(5, 0, '7.12 7.09 7.06 7.04 7.02 7.00 6.99 6.99 6.98'),
  ),
  'technical-1001': of('technical-1001', '10.01', 'technical', 'technical', [
    ['20', '10.06'],
    ['25', '10.01'],
    ['40', '9.89'],
  ]),
};
