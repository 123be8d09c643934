import type { SuiteGroup } from './suite-groups.ts';

export const MATERIAL_NAMES = [
  'ptfe',
  'other-fluoropolymer',
  'polyethylene',
  'polypropylene',
  'pvc',
  'silicone',
  'nylon',
  'stainless-steel-316',
  'other-metal',
] as const;
export type MaterialName = (typeof MATERIAL_NAMES)[number];

export type Suitability = 'suits' | 'with-care' | 'does-not-suit';

export interface SuitabilityFigure {
  readonly suitability: Suitability;
  readonly because: string;
  readonly source: string;
  readonly verified: boolean;
}

export interface WettedMaterial {
  readonly name: MaterialName;
  readonly written: string;
  readonly words: RegExp;
  readonly for: Readonly<Record<SuiteGroup, SuitabilityFigure>>;
}

const MANUAL = 'USGS National Field Manual, TWRI book 9, chapter A2, materials of sampling equipment, from memory';
const REGION_1 = 'US EPA Region 1 low-stress procedure, tubing, from memory';
const PFAS_GUIDES = 'state guides on PFAS sampling, from memory';
const PRACTICE = 'common practice, no source';

function figure(suitability: Suitability, because: string, source: string): SuitabilityFigure {
  return { suitability, because, source, verified: false };
}

const ok = (source: string) => figure('suits', 'neither takes up nor gives off what is asked for', source);
const sorbs = (suitability: Suitability) => figure(suitability, 'takes up organic compounds', REGION_1);
const inert = ok(MANUAL);
const pfasFree = figure('suits', 'holds no fluorine by its make-up; a blank proves the lot', PFAS_GUIDES);

/** A plastic that suits what is inorganic and takes up what is organic. */
function plastic(volatiles: Suitability, semivolatiles: Suitability, pfas: SuitabilityFigure): WettedMaterial['for'] {
  return {
    pfas,
    volatiles: sorbs(volatiles),
    semivolatiles: sorbs(semivolatiles),
    metals: inert,
    inorganics: inert,
  };
}

const FLUORINE = { volatiles: ok(REGION_1), semivolatiles: ok(REGION_1), metals: inert, inorganics: inert };

/** What suits which group of analytes. A blank through the set-up goes before any table. */
export const WETTED_MATERIALS: readonly WettedMaterial[] = [
  {
    name: 'ptfe',
    written: 'PTFE',
    words: /\bptfe\b|polytetrafluoro/i,
    for: { ...FLUORINE, pfas: figure('does-not-suit', 'no PTFE for PFAS: it may give them off', PRACTICE) },
  },
  {
    name: 'other-fluoropolymer',
    written: 'FEP, PFA, ETFE, PVDF or fluoroelastomer',
    words: /\b(?:fep|pfa|etfe|pvdf|fkm)\b|fluoropolymer|fluoroelastomer/i,
    for: { ...FLUORINE, pfas: figure('does-not-suit', 'a kin of PTFE: it may give PFAS off', PFAS_GUIDES) },
  },
  {
    name: 'polyethylene',
    written: 'polyethylene',
    words: /polyethylene|\b(?:hd|ld)?pe\b/i,
    for: plastic('with-care', 'with-care', figure('suits', 'polyethylene instead of PTFE for PFAS', PRACTICE)),
  },
  {
    name: 'polypropylene',
    written: 'polypropylene',
    words: /polypropylene|\bpp\b/i,
    for: plastic('with-care', 'with-care', pfasFree),
  },
  { name: 'pvc', written: 'PVC', words: /\bpvc\b|polyvinyl/i, for: plastic('with-care', 'does-not-suit', pfasFree) },
  {
    name: 'silicone',
    written: 'silicone',
    words: /silicone/i,
    for: plastic('does-not-suit', 'does-not-suit', pfasFree),
  },
  {
    name: 'nylon',
    written: 'nylon',
    words: /nylon|polyamide/i,
    for: plastic('does-not-suit', 'does-not-suit', figure('with-care', 'may take up PFAS', PFAS_GUIDES)),
  },
  {
    name: 'stainless-steel-316',
    written: 'stainless steel 316',
    words: /stainless/i,
    for: {
      pfas: pfasFree,
      volatiles: inert,
      semivolatiles: inert,
      metals: figure('with-care', 'where it corrodes it may give off chromium, nickel, iron and manganese', MANUAL),
      inorganics: inert,
    },
  },
  {
    name: 'other-metal',
    written: 'brass, copper, galvanized or other metal',
    words: /brass|bronze|copper|galvani[sz]ed|alumin(?:i)?um|\b(?:carbon |mild )?steel\b/i,
    for: {
      pfas: figure('with-care', 'clean metal holds no fluorine; a blank proves it', PFAS_GUIDES),
      volatiles: inert,
      semivolatiles: inert,
      metals: figure('does-not-suit', 'gives off the metals that are asked for', MANUAL),
      inorganics: figure('with-care', 'corrodes', MANUAL),
    },
  },
];

/** Words that deny a material stand right at it: "PTFE-free", "free of PTFE", "no PTFE". What else is denied is not it. */
const DENIED_BEFORE =
  /\b(?:no|non|not|without|free (?:of|from))(?:\s+(?:(?:lined|coated|made)\s+(?:with|of)|any|an?|the))?[\s-]+$/i;
const DENIED_AFTER = /^[\s-]*free\b/i;

function isNamed(piece: string, { words }: WettedMaterial): boolean {
  return [...piece.matchAll(new RegExp(words.source, 'gi'))].some(
    (hit) =>
      !DENIED_BEFORE.test(piece.slice(0, hit.index)) && !DENIED_AFTER.test(piece.slice(hit.index + hit[0].length)),
  );
}

/** Every material that a text names: "polyethylene, PTFE-lined" is two; "PTFE-free" is none. */
export function materialsNamed(text: string): readonly WettedMaterial[] {
  const found = text
    .split(/[,;/]| and /)
    .flatMap((piece) => WETTED_MATERIALS.filter((material) => isNamed(piece, material)));
  const stainless = found.some(({ name }) => name === 'stainless-steel-316');
  return [...new Set(found)].filter(({ name }) => !(stainless && name === 'other-metal'));
}
