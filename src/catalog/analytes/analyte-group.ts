import type { HoldingClock } from '../../science/samples/holding-clocks.ts';
import type { Publication } from './publications.ts';

export const CONTAINER_MATERIALS = [
  'polyethylene',
  'hdpe',
  'polypropylene',
  'fluoropolymer',
  'glass',
  'quartz',
] as const;
export type ContainerMaterial = (typeof CONTAINER_MATERIALS)[number];

export const CONTAINER_KINDS = ['vial', 'bottle'] as const;
export type ContainerKind = (typeof CONTAINER_KINDS)[number];

/** What goes into a bottle; `reducing-agent` and `ammonium-sulfate-buffer` by what they do, as the documents have it. */
export const PRESERVATIVES = [
  'hydrochloric-acid',
  'nitric-acid',
  'sulfuric-acid',
  'phosphoric-acid',
  'sodium-hydroxide',
  'zinc-acetate',
  'sodium-bisulfate',
  'ammonium-sulfate-buffer',
  'trizma',
  'ammonium-acetate',
  'bromine-monochloride',
  'sodium-thiosulfate',
  'sodium-sulfite',
  'reducing-agent',
] as const;
export type Preservative = (typeof PRESERVATIVES)[number];

/**
 * `never`: it takes away what is asked for. `only-with-reason`: a filter may take some. `unfiltered`: the total is asked
 * for. `field-filter`: before the preservative. `as-planned`: either may be meant.
 */
export const FILTRATIONS = [
  'never',
  'only-with-reason',
  'unfiltered',
  'field-filter',
  'sterile-filter',
  'as-planned',
] as const;
export type Filtration = (typeof FILTRATIONS)[number];

/** What is filled together, in whatever order a list has it. */
export const FILL_CLASSES = [
  'pfas',
  'volatiles',
  'organic-halides',
  'dissolved-gases',
  'organic-carbon',
  'semivolatiles',
  'filtered-metals',
  'metals',
  'cyanide',
  'sulfide',
  'nutrients',
  'major-ions',
  'physical',
  'radionuclides',
] as const;
export type FillClass = (typeof FILL_CLASSES)[number];

/** `none`: no air at all. `leave-a-third`: air is needed. `no-overflow`: pre-charged, or a rinsed-out share is lost. */
export const HEADSPACES = ['none', 'leave-a-third', 'no-overflow'] as const;
export type Headspace = (typeof HEADSPACES)[number];

/** What must be so for a holding time to be the one that counts; `as-prescribed`: preserved and kept as the group asks. */
export const HOLDING_CONDITIONS = [
  'as-prescribed',
  'not-preserved',
  'interference-left',
  'frozen',
  'other-list',
] as const;
export type HoldingCondition = (typeof HOLDING_CONDITIONS)[number];

/** A part of a group with where it was published. */
export interface Stated extends Publication {
  readonly note?: string;
}

export interface ContainerRule extends Stated {
  readonly kind: ContainerKind;
  /** Any one of them. */
  readonly materials: readonly ContainerMaterial[];
  readonly colour: 'amber' | 'any';
  readonly closure?: string;
  readonly bottles: Stated & {
    readonly count: number;
    readonly volumeMl: number;
    /** Where laboratories ask for more or less, what the most is. */
    readonly mostVolumeMl?: number;
  };
}

/** Limits as the documents write them: "pH below 2" leaves 2 out. */
export interface PhRule {
  readonly below?: string;
  readonly above?: string;
  readonly from?: string;
  readonly to?: string;
}

export interface PreservationRule extends Stated {
  /** One of these, each all that it lists; empty: nothing is added. */
  readonly anyOf: readonly (readonly Preservative[])[];
  readonly ph?: PhRule;
  readonly gramsPerL?: string;
  readonly ifChlorinated?: { readonly add: Preservative; readonly percent?: string };
}

export interface CoolingRule extends Stated {
  /** Null where it need not be cooled. */
  readonly atMostC: string | null;
  /** Warmer at first, as some drinking-water methods allow. */
  readonly first?: { readonly hours: number; readonly atMostC: string };
  readonly mayFreeze: boolean;
  readonly isDark: boolean;
}

export interface FiltrationRule extends Stated {
  readonly filter: Filtration;
  readonly poreMicrometers?: string;
}

export interface HoldingLimit {
  readonly clock: HoldingClock;
  /** As the document has it: "14 d". */
  readonly written: string;
  readonly minutes: number;
}

export interface HoldingVariant extends Stated {
  /** Unique within the group; records cite it. */
  readonly id: string;
  readonly condition: HoldingCondition;
  readonly when: string;
  readonly limits: readonly HoldingLimit[];
  /** Where it is kept otherwise than the group asks. */
  readonly keptAtMostC?: string;
}

export interface FillingRule extends Stated {
  readonly fillClass: FillClass;
  readonly headspace: Headspace;
  /** Missing where no document gives one for such a container. */
  readonly rate?: Stated & { readonly atMostMlPerMin: number };
}

export interface ShortWaterRule extends Stated {
  /** 1 is filled before 2. */
  readonly priority: number;
  readonly leastCount: number;
  /** Of each container. */
  readonly leastVolumeMl: number;
}

/** What one bottle order line stands for: analytes that are taken, kept and counted alike. */
export interface AnalyteGroup {
  /** Plain words of our own; plans and records cite it, so it never changes its meaning. */
  readonly id: string;
  readonly title: string;
  readonly methods: readonly string[];
  readonly container: ContainerRule;
  readonly preservation: PreservationRule;
  readonly cooling: CoolingRule;
  readonly filtration: FiltrationRule;
  /** The first holds where nothing else is said. */
  readonly holding: readonly HoldingVariant[];
  readonly filling: FillingRule;
  readonly shortWater: ShortWaterRule;
}
