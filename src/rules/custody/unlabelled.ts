import type { Packed } from './cooler-facts.ts';
import type { ReceiptItem } from './custody-records.ts';

/** A container that a bottle without a label may be, with what speaks for it and against it. */
export interface Candidate {
  readonly packed: Packed;
  readonly reasons: readonly string[];
  readonly against: readonly string[];
}

export interface Unlabelled {
  readonly item: ReceiptItem;
  /** The likeliest first; nobody decides it but a person. */
  readonly candidates: readonly Candidate[];
}

interface Trait {
  readonly what: string;
  /** What the words say; null where they say nothing of it. */
  readonly said: (text: string) => readonly string[];
  readonly own: (packed: Packed) => string | null;
}

/** What was found of this trait in the words. */
function found(text: string, words: Readonly<Record<string, RegExp>>): readonly string[] {
  return Object.entries(words).flatMap(([value, pattern]) => (pattern.test(text) ? [value] : []));
}

/** 40 mL, 0.5 L and 500 ml; in millilitres. */
function volumes(text: string): readonly string[] {
  return [...text.matchAll(/(\d+(?:[.,]\d+)?)\s*(ml|l|liters?|litres?)\b/gi)].map(([, figure = '', unit = '']) => {
    const number = Number(figure.replace(',', '.'));
    return String(/^ml$/i.test(unit) ? number : Math.round(number * 1_000));
  });
}

const PLASTIC = /plastic|poly|hdpe/i;

const TRAITS: readonly Trait[] = [
  { what: 'mL', said: volumes, own: ({ container }) => String(Number(container.fields.volumeMl)) },
  {
    what: '',
    said: (text) => found(text, { vial: /\bvials?\b/i, bottle: /\bbottles?\b/i }),
    own: ({ container }) => container.fields.type,
  },
  {
    what: '',
    said: (text) => found(text, { amber: /\bamber\b/i, clear: /\bclear\b/i }),
    own: ({ container }) => container.fields.colour ?? null,
  },
  {
    what: '',
    said: (text) => found(text, { glass: /\bglass\b/i, plastic: PLASTIC }),
    own: ({ container: { fields } }) => {
      if (fields.material == null) return null;
      return fields.material === 'glass' || fields.material === 'quartz' ? 'glass' : 'plastic';
    },
  },
];

/** From so much on, and from so little, a bottle is told to hold base or acid. Own choice, no source. */
const ACID_BELOW = 3;
const BASE_ABOVE = 9;

const ACIDS = ['hydrochloric-acid', 'nitric-acid', 'sulfuric-acid', 'phosphoric-acid', 'sodium-bisulfate'];
const BASES = ['sodium-hydroxide'];

function phSays({ ph }: ReceiptItem, { container }: Packed): { readonly fits: boolean; readonly text: string } | null {
  const kept = container.fields.preservatives;
  if (ph == null || kept == null || !Number.isFinite(Number(ph))) return null;
  const read = Number(ph) < ACID_BELOW ? 'acid' : Number(ph) > BASE_ABOVE ? 'base' : 'neither';
  const isAcid = kept.some((one) => ACIDS.includes(one));
  const own = isAcid ? 'acid' : kept.some((one) => BASES.includes(one)) ? 'base' : 'neither';
  return { fits: own === read, text: `pH ${ph}` };
}

function candidate(item: ReceiptItem, packed: Packed, isMissing: boolean): Candidate {
  const text = `${item.label} ${item.remark ?? ''}`;
  const reasons = isMissing ? ['expected and not received'] : [];
  const against: string[] = [];
  for (const { what, said, own } of TRAITS) {
    const [words, is] = [said(text), own(packed)];
    if (words.length === 0 || is === null) continue;
    const told = what === '' ? is : `${is} ${what}`;
    if (words.includes(is)) reasons.push(told);
    else against.push(`it is ${told}`);
  }
  const ph = phSays(item, packed);
  if (ph?.fits) reasons.push(ph.text);
  else if (ph) against.push(ph.text);
  return { packed, reasons, against };
}

/** What speaks against weighs more than what speaks for: a vial is no litre. */
function byLikelihood(a: Candidate, b: Candidate): number {
  const label = ({ packed }: Candidate) => packed.container.fields.label;
  return (
    a.against.length - b.against.length ||
    b.reasons.length - a.reasons.length ||
    (label(a) < label(b) ? -1 : label(a) > label(b) ? 1 : 0)
  );
}

/**
 * Matches bottles that came without a label against what was expected and did not come. Where nothing is told as missing, any
 * container of the cooler that the receipt does not name may have lost its label.
 */
export function unlabelledBottles(
  items: readonly ReceiptItem[],
  toCome: readonly Packed[],
  missing: readonly Packed[],
): readonly Unlabelled[] {
  const named = new Set(items.map(({ label }) => label));
  const pool = missing.length > 0 ? missing : toCome.filter(({ container }) => !named.has(container.fields.label));
  return items
    .filter(({ condition }) => condition === 'no-label')
    .map((item) => ({
      item,
      candidates: pool.map((packed) => candidate(item, packed, missing.length > 0)).toSorted(byLikelihood),
    }));
}
